#include "procedures/decay.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/normal.hpp"

namespace coldwright::procedures {
namespace {

// Priors, our estimate: how often a shut-off vacuum on a small repaired circuit is which, and how far and
// fast it then rises.
constexpr std::array<double, kDecayCauses> kPrior{0.45, 0.20, 0.20, 0.15};
struct Span {
  double low, high;  // of a quantity spread evenly over its logarithm
  double at(int i, int n) const { return low * std::pow(high / low, (i + 0.5) / n); }
};
constexpr Span kLeakRate{0.003, 30};    // Pa/s
constexpr Span kTightRise{0.1, 12};     // Pa
constexpr Span kOilRise{12, 300};       // Pa
constexpr double kLeastWaterRise = 40;  // Pa; up to the water's own pressure
constexpr Span kTightTime{60, 1800};    // s
constexpr Span kMoistureTime{60, 3000};
constexpr Span kOilTime{300, 9000};

// One way the pressure may run: p0 + size * shape(t).
struct Course {
  DecayCause cause;
  double size, settling;  // a and 0 for a leak, else b and s
  double shape(double t) const { return cause == DecayCause::leak ? t : 1 - std::exp(-t / settling); }
};

struct Weighed {
  Course course;
  double log_weight;  // prior and likelihood with p0 integrated out
  double p0, p0_sigma;
};

std::vector<Course> courses(double water_pressure, int sizes, int times) {
  std::vector<Course> all;
  const auto settle = [&](DecayCause cause, Span rise, Span time) {
    for (int i = 0; i < sizes; ++i)
      for (int j = 0; j < times; ++j) all.push_back({cause, rise.at(i, sizes), time.at(j, times)});
  };
  settle(DecayCause::tight, kTightRise, kTightTime);
  for (int i = 0; i < sizes * times; ++i)
    all.push_back({DecayCause::leak, kLeakRate.at(i, sizes * times), 0});
  settle(DecayCause::moisture, {kLeastWaterRise, std::max(water_pressure, 2 * kLeastWaterRise)},
         kMoistureTime);
  settle(DecayCause::oil, kOilRise, kOilTime);
  return all;
}

double sigma(const DecayGauge& gauge, double p) {
  return std::hypot(gauge.resolution / std::sqrt(12.0), gauge.relative_noise * p);
}

// Gaussian likelihood with p0 integrated over a flat prior: what is left is the spread of p - size shape(t).
std::vector<Weighed> weigh(const std::vector<Course>& all, const std::vector<DecayReading>& readings,
                           const DecayGauge& gauge) {
  std::vector<double> precision;
  for (const DecayReading& r : readings) precision.push_back(1 / std::pow(sigma(gauge, r.pressure), 2));
  const double each = static_cast<double>(all.size()) / kDecayCauses;
  std::vector<Weighed> out;
  out.reserve(all.size());
  for (const Course& c : all) {
    double w = 0, wy = 0, wyy = 0;
    for (std::size_t i = 0; i < readings.size(); ++i) {
      const double y = readings[i].pressure - c.size * c.shape(readings[i].time);
      w += precision[i];
      wy += precision[i] * y;
      wyy += precision[i] * y * y;
    }
    const double p0 = wy / w;
    const double prior = kPrior[static_cast<std::size_t>(c.cause)] / each;
    out.push_back({c, std::log(prior) - 0.5 * (wyy - wy * p0), p0, 1 / std::sqrt(w)});
  }
  double top = -1e300;
  for (const Weighed& x : out) top = std::max(top, x.log_weight);
  double sum = 0;
  for (const Weighed& x : out) sum += std::exp(x.log_weight - top);
  for (Weighed& x : out) x.log_weight -= top + std::log(sum);
  return out;
}

std::array<double, kDecayCauses> probabilities(const std::vector<Weighed>& all) {
  std::array<double, kDecayCauses> p{};
  for (const Weighed& x : all) p[static_cast<std::size_t>(x.course.cause)] += std::exp(x.log_weight);
  return p;
}

template <class Quantity>
DecayRange range(const std::vector<Weighed>& all, bool leak, Quantity&& quantity) {
  std::vector<std::pair<double, double>> points;
  double sum = 0;
  for (const Weighed& x : all) {
    if ((x.course.cause == DecayCause::leak) != leak) continue;
    points.emplace_back(quantity(x), std::exp(x.log_weight));
    sum += points.back().second;
  }
  std::sort(points.begin(), points.end());
  const auto quantile = [&](double q) {
    double so_far = 0;
    for (const auto& [value, weight] : points)
      if ((so_far += weight) >= q * sum) return value;
    return points.empty() ? 0 : points.back().first;
  };
  return {quantile(0.05), quantile(0.5), quantile(0.95)};
}

const Weighed& draw(const std::vector<Weighed>& all, double u) {
  double so_far = 0;
  for (const Weighed& x : all)
    if ((so_far += std::exp(x.log_weight)) >= u) return x;
  return all.back();
}

// How sure of one cause a person is expected to be after reading on once a minute for `minutes`.
double expected_certainty(const std::vector<Weighed>& now, const std::vector<DecayReading>& readings,
                          const std::vector<Course>& coarse, const DecayGauge& gauge, int minutes,
                          RandomStream random) {
  constexpr int kFutures = 40;
  double sum = 0;
  for (int i = 0; i < kFutures; ++i) {
    const Weighed& truth = draw(now, random.uniform());
    const double p0 = truth.p0 + truth.p0_sigma * random.normal();
    std::vector<DecayReading> longer = readings;
    const double last = readings.back().time;
    const int step = std::max(1, minutes / 30);
    for (int m = step; m <= minutes; m += step) {
      const double t = last + 60.0 * m;
      const double p = std::max(p0 + truth.course.size * truth.course.shape(t), 0.01);
      longer.push_back({t, std::max(p + sigma(gauge, p) * random.normal(), 0.01)});
    }
    const auto p = probabilities(weigh(coarse, longer, gauge));
    sum += *std::max_element(p.begin(), p.end());
  }
  return sum / kFutures;
}

std::optional<Problem> check(const std::vector<DecayReading>& readings) {
  if (readings.size() < 3)
    return Problem{"decay readings", std::to_string(readings.size()), "three or more",
                   "two points lie on any curve"};
  for (std::size_t i = 0; i < readings.size(); ++i) {
    if (!(readings[i].pressure > 0) || !std::isfinite(readings[i].pressure))
      return Problem{"decay reading " + std::to_string(i + 1), std::to_string(readings[i].pressure) + " Pa",
                     "above zero", "it is an absolute pressure"};
    if (!std::isfinite(readings[i].time) || (i > 0 && !(readings[i].time > readings[i - 1].time)))
      return Problem{"decay reading " + std::to_string(i + 1), std::to_string(readings[i].time) + " s",
                     "later than the reading before it",
                     "times have to rise: which of the two is the slip? Nothing was dropped"};
  }
  return std::nullopt;
}

}  // namespace

Result<DecayAnswer> judge_decay(const std::vector<DecayReading>& readings, const DecayGauge& gauge,
                                double water_pressure, unsigned long long seed) {
  if (const auto problem = check(readings)) return *problem;
  const std::vector<Weighed> all = weigh(courses(water_pressure, 60, 30), readings, gauge);
  DecayAnswer answer{};
  answer.probability = probabilities(all);
  answer.leak_rate = range(all, true, [](const Weighed& x) { return x.course.size; });
  if (answer.probability[static_cast<std::size_t>(DecayCause::leak)] < 0.95)
    answer.level = range(all, false, [](const Weighed& x) { return x.p0 + x.course.size; });
  const auto surest = [](const auto& p) { return *std::max_element(p.begin(), p.end()); };
  if (surest(answer.probability) >= answer.decided) {
    answer.minutes_to_decide = 0;
    return answer;
  }
  const std::vector<Course> coarse = courses(water_pressure, 24, 10);
  const RandomStream random(seed);
  for (int minutes : {2, 5, 10, 15, 20, 30, 45, 60, 90, 120})
    if (expected_certainty(all, readings, coarse, gauge, minutes,
                           random.fork(static_cast<std::uint64_t>(minutes))) >= answer.decided) {
      answer.minutes_to_decide = minutes;
      break;
    }
  return answer;
}

}  // namespace coldwright::procedures

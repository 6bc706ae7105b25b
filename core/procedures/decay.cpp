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
constexpr Span kOilTimes{300, 9000};
constexpr Span kBesideRise{1, 300};  // what a leaking circuit gives off besides
constexpr Span kBesideTime{60, 1800};
constexpr int kBesideTimes = 4;
constexpr double kModelError = 0.01;  // of the rise so far: no rise is quite an exponential or a line
constexpr double kWaterSlack = 0.05;  // by how much a level may seem to pass water's own: temperature, gauge

// One way the pressure may run, above where it starts.
struct SettlingPath {
  DecayCause cause;
  double size, settling, leak;
  double share = 1;  // of its cause's courses
  double rise(double t) const { return size * (1 - std::exp(-t / settling)) + leak * t; }
};

struct WeighedPath {
  SettlingPath course;
  double log_weight;  // prior and likelihood with p0 integrated out
  double p0, p0_sigma;
  double misfit;  // chi squared at p0
};

std::vector<SettlingPath> courses(double water_pressure, int sizes, int times) {
  std::vector<SettlingPath> all;
  const auto settle = [&](DecayCause cause, Span rise, Span time) {
    for (int i = 0; i < sizes; ++i)
      for (int j = 0; j < times; ++j)
        all.push_back({cause, rise.at(i, sizes), time.at(j, times), 0, 1.0 / (sizes * times)});
  };
  settle(DecayCause::tight, kTightRise, kTightTime);
  settle(DecayCause::moisture, {std::min(kLeastWaterRise, 0.3 * water_pressure), water_pressure},
         kMoistureTime);
  settle(DecayCause::oil, kOilRise, kOilTimes);
  // Leaks alone and, as many, beside gas given off; their rates are run through in weigh().
  all.push_back({DecayCause::leak, 0, 1, 0, 0.5});
  for (int j = 0; j < times; ++j)
    for (int k = 0; k < kBesideTimes; ++k)
      all.push_back({DecayCause::leak, kBesideRise.at(j, times), kBesideTime.at(k, kBesideTimes), 0,
                     0.5 / (times * kBesideTimes)});
  return all;
}

double sigma(const DecayGauge& gauge, double p) {
  return std::hypot(gauge.resolution / std::sqrt(12.0), gauge.relative_noise * p);
}

// Weighted sums over the readings, shifted by the first: the spread is a small difference of large squares
// otherwise.
struct FitSums {
  double w = 0, y = 0, yy = 0, t = 0, tt = 0, yt = 0;
};

// Gaussian likelihood with p0 integrated over a flat prior: what is left is the spread of p - rise(t), a
// quadratic in the leak.
class Weigher {
 public:
  Weigher(const std::vector<DecayReading>& readings, const DecayGauge& gauge, double water_pressure,
          int rates)
      : readings_(readings), water_pressure_(water_pressure), rates_(rates) {
    for (const DecayReading& r : readings) {
      const double model = kModelError * (r.pressure - readings.front().pressure);
      precision_.push_back(1 / (std::pow(sigma(gauge, r.pressure), 2) + model * model));
    }
  }

  std::vector<WeighedPath> weigh(const std::vector<SettlingPath>& all) {
    std::vector<WeighedPath> out;
    out.reserve(all.size() + 4 * static_cast<std::size_t>(rates_));
    double top = -1e300, top_leak = -1e300;
    const auto take = [&](const SettlingPath& c, const FitSums& s) {
      const WeighedPath x = weighed(c, s);
      if (c.cause == DecayCause::leak) {
        if (x.log_weight < top_leak - kNegligible) return;
        top_leak = std::max(top_leak, x.log_weight);
      }
      top = std::max(top, x.log_weight);
      out.push_back(x);
    };
    for (SettlingPath c : all) {
      const FitSums s = sums(c);
      if (c.cause != DecayCause::leak) {
        take(c, s);
        continue;
      }
      c.share /= rates_;
      for (int i = 0; i < rates_; ++i) {
        c.leak = kLeakRate.at(i, rates_);
        take(c, s);
      }
    }
    double sum = 0;
    for (const WeighedPath& x : out) sum += std::exp(x.log_weight - top);
    for (WeighedPath& x : out) x.log_weight -= top + std::log(sum);
    return out;
  }

 private:
  static constexpr double kNegligible = 40;  // nats

  FitSums sums(const SettlingPath& c) const {
    FitSums s;
    for (std::size_t i = 0; i < readings_.size(); ++i) {
      const double t = readings_[i].time, w = precision_[i];
      const double y = readings_[i].pressure - readings_.front().pressure - c.rise(t);
      s.w += w;
      s.y += w * y;
      s.yy += w * y * y;
      s.t += w * t;
      s.tt += w * t * t;
      s.yt += w * y * t;
    }
    return s;
  }

  WeighedPath weighed(const SettlingPath& c, const FitSums& s) const {
    const double y = s.y - c.leak * s.t, yy = s.yy - 2 * c.leak * s.yt + c.leak * c.leak * s.tt;
    const double misfit = std::max(yy - y * y / s.w, 0.0), p0 = readings_.front().pressure + y / s.w;
    // A start below nothing is no start; and water levels at its own vapour pressure at most.
    double prior = kPrior[static_cast<std::size_t>(c.cause)] * c.share;
    prior *= std::max(normal_cdf(p0 * std::sqrt(s.w)), 1e-30);
    if (c.cause == DecayCause::moisture)
      prior *= std::max(
          normal_cdf((water_pressure_ * (1 + kWaterSlack) - p0 - c.size) / (kWaterSlack * water_pressure_)),
          1e-30);
    return {c, std::log(prior) - 0.5 * misfit, p0, 1 / std::sqrt(s.w), misfit};
  }

  const std::vector<DecayReading>& readings_;
  std::vector<double> precision_;
  double water_pressure_;
  int rates_;
};

constexpr int kFineRates = 1500, kCoarseRates = 100;

std::array<double, kDecayCauses> probabilities(const std::vector<WeighedPath>& all) {
  std::array<double, kDecayCauses> p{};
  for (const WeighedPath& x : all) p[static_cast<std::size_t>(x.course.cause)] += std::exp(x.log_weight);
  return p;
}

template <class Quantity>
DecayRange range(const std::vector<WeighedPath>& all, bool leak, Quantity&& quantity) {
  std::vector<std::pair<double, double>> points;
  double sum = 0;
  for (const WeighedPath& x : all) {
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

const WeighedPath& draw(const std::vector<WeighedPath>& all, double u) {
  double so_far = 0;
  for (const WeighedPath& x : all)
    if ((so_far += std::exp(x.log_weight)) >= u) return x;
  return all.back();
}

// How sure of one cause a person is expected to be after reading on once a minute for `minutes`.
double expected_certainty(const std::vector<WeighedPath>& now, const std::vector<DecayReading>& readings,
                          const std::vector<SettlingPath>& coarse, const DecayGauge& gauge,
                          double water_pressure, int minutes, RandomStream random) {
  constexpr int kFutures = 40;
  double sum = 0;
  for (int i = 0; i < kFutures; ++i) {
    const WeighedPath& truth = draw(now, random.uniform());
    const double p0 = truth.p0 + truth.p0_sigma * random.normal();
    std::vector<DecayReading> longer = readings;
    const double last = readings.back().time;
    const int step = std::max(1, minutes / 30);
    for (int m = step; m <= minutes; m += step) {
      const double t = last + 60.0 * m;
      const double p = std::max(p0 + truth.course.rise(t), 0.01);
      longer.push_back({t, std::max(p + sigma(gauge, p) * random.normal(), 0.01)});
    }
    const auto p = probabilities(Weigher(longer, gauge, water_pressure, kCoarseRates).weigh(coarse));
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

std::array<DecayFit, kDecayCauses> likeliest(const std::vector<WeighedPath>& all) {
  std::array<DecayFit, kDecayCauses> fit{};
  std::array<double, kDecayCauses> best;
  best.fill(-1e300);
  for (const WeighedPath& x : all) {
    const auto i = static_cast<std::size_t>(x.course.cause);
    if (x.log_weight - std::log(x.course.share) <= best[i]) continue;
    best[i] = x.log_weight - std::log(x.course.share);
    fit[i] = {x.p0, x.course.size, x.course.settling, x.course.leak};
  }
  return fit;
}

// Whether the likeliest course passes within three standard deviations of every reading, gauge and four times
// the model's own error of the whole rise together.
bool is_explained(const std::vector<WeighedPath>& all, const std::vector<DecayReading>& readings,
                  const DecayGauge& gauge) {
  const auto best = std::max_element(
      all.begin(), all.end(), [](const WeighedPath& a, const WeighedPath& b) { return a.misfit > b.misfit; });
  const auto [least, most] = std::minmax_element(
      readings.begin(), readings.end(), [](const auto& a, const auto& b) { return a.pressure < b.pressure; });
  const double model = 4 * kModelError * (most->pressure - least->pressure);
  return std::all_of(readings.begin(), readings.end(), [&](const DecayReading& r) {
    return std::abs(r.pressure - best->p0 - best->course.rise(r.time)) <
           3 * std::hypot(sigma(gauge, r.pressure), model);
  });
}

std::vector<std::size_t> falls(const std::vector<DecayReading>& readings, const DecayGauge& gauge) {
  std::vector<std::size_t> out;
  for (std::size_t i = 1; i < readings.size(); ++i) {
    const double noise =
        std::hypot(sigma(gauge, readings[i].pressure), sigma(gauge, readings[i - 1].pressure));
    if (readings[i - 1].pressure - readings[i].pressure > 4 * noise) out.push_back(i);
  }
  return out;
}

}  // namespace

double DecayFit::at(double t) const { return start + size * (1 - std::exp(-t / settling)) + leak * t; }

Result<DecayAnswer> judge_decay(const std::vector<DecayReading>& readings, const DecayGauge& gauge,
                                double water_pressure, unsigned long long seed) {
  if (const auto problem = check(readings)) return *problem;
  const std::vector<WeighedPath> all =
      Weigher(readings, gauge, water_pressure, kFineRates).weigh(courses(water_pressure, 60, 30));
  DecayAnswer answer{};
  answer.fit = likeliest(all);
  answer.explained = is_explained(all, readings, gauge);
  answer.fell = falls(readings, gauge);
  answer.probability = probabilities(all);
  answer.leak_rate = range(all, true, [](const WeighedPath& x) { return x.course.leak; });
  if (answer.probability[static_cast<std::size_t>(DecayCause::leak)] < 0.95)
    answer.level = range(all, false, [](const WeighedPath& x) { return x.p0 + x.course.size; });
  const auto surest = [](const auto& p) { return *std::max_element(p.begin(), p.end()); };
  if (surest(answer.probability) >= answer.decided) {
    answer.minutes_to_decide = 0;
    return answer;
  }
  const std::vector<SettlingPath> coarse = courses(water_pressure, 24, 10);
  const RandomStream random(seed);
  for (int minutes : {2, 5, 10, 15, 20, 30, 45, 60, 90, 120})
    if (expected_certainty(all, readings, coarse, gauge, water_pressure, minutes,
                           random.fork(static_cast<std::uint64_t>(minutes))) >= answer.decided) {
      answer.minutes_to_decide = minutes;
      break;
    }
  return answer;
}

}  // namespace coldwright::procedures

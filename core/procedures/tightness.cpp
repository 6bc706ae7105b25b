#include "procedures/tightness.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/normal.hpp"
#include "procedures/constants.hpp"
#include "procedures/tightness_fit.hpp"

namespace coldwright::procedures {
namespace {

constexpr int kVolumes = 9, kCoursePoints = 25;
constexpr double kCertain = 0.95, kRising = 0.999;
constexpr double kStandsOut = 5;  // spreads of a reading

double evenly(int i, int n) { return normal_quantile((i + 0.5) / n); }

std::optional<Problem> check(const StandingTest& t) {
  const auto& r = t.readings;
  if (r.size() < 2)
    return Problem{"test readings", std::to_string(r.size()), "two or more",
                   "a fall needs a beginning and an end"};
  for (std::size_t i = 1; i < r.size(); ++i)
    if (!(r[i].time > r[i - 1].time))
      return Problem{"test reading " + std::to_string(i + 1), std::to_string(r[i].time) + " s",
                     "later than the reading before it",
                     "times have to rise: which of the two is the slip? Nothing was dropped"};
  if (!(t.volume.value > 0) || !(t.volume.sigma >= 0) || !(t.wanted > 0))
    return Problem{"volume", std::to_string(t.volume.value) + " m3",
                   "above zero, with a leak above zero to rule out", "without a volume a fall is no leak"};
  return std::nullopt;
}

// A mixture of normals.
struct Part {
  double weight, mean, sigma;
};
double below(const std::vector<Part>& parts, double x) {
  double sum = 0;
  for (const Part& p : parts) sum += p.weight * normal_cdf((x - p.mean) / p.sigma);
  return sum;
}
double quantile(const std::vector<Part>& parts, double q) {
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const Part& p : parts) {
    if (!(p.weight > 1e-12)) continue;
    low = std::min(low, p.mean - 9 * p.sigma);
    high = std::max(high, p.mean + 9 * p.sigma);
  }
  for (int i = 0; i < 80; ++i) {
    const double mid = 0.5 * (low + high);
    (below(parts, mid) < q ? low : high) = mid;
  }
  return 0.5 * (low + high);
}

std::vector<Part> leak_parts(const StandingTest& test, const Series& s, const Weighed& w) {
  std::vector<Part> parts;
  const double log_spread = std::sqrt(std::log1p(std::pow(test.volume.sigma / test.volume.value, 2)));
  const int volumes = log_spread > 1e-6 ? kVolumes : 1;
  for (int i = 0; i < volumes; ++i) {
    const double V = test.volume.value * std::exp(log_spread * (volumes > 1 ? evenly(i, volumes) : 0));
    for (const Way& way : w.ways)
      if (way.weight > 1e-9)
        parts.push_back({way.weight / volumes, -V * way.slope, V * w.each / std::sqrt(s.tt)});
  }
  return parts;
}

std::vector<CoursePoint> course_of(const Series& s, const Weighed& w) {
  std::vector<CoursePoint> course;
  const double n = static_cast<double>(s.time.size());
  for (int i = 0; i < kCoursePoints; ++i) {
    const double t = s.time.back() * 4 / 3 * i / (kCoursePoints - 1);
    std::vector<Part> parts;
    for (const Way& way : w.ways)
      if (way.weight > 1e-6)
        parts.push_back({way.weight, way.mean + way.slope * (t - s.mean_t) + w.shown(way, t),
                         w.each * std::sqrt(1 / n + std::pow(t - s.mean_t, 2) / s.tt)});
    double sum = 0;
    for (const Part& p : parts) sum += p.weight;
    for (Part& p : parts) p.weight /= sum;
    course.push_back({t, quantile(parts, 0.05), quantile(parts, 0.5), quantile(parts, 0.95)});
  }
  return course;
}

double middle_of(std::vector<std::pair<double, double>>& values, double total) {
  std::sort(values.begin(), values.end());
  double sum = 0;
  for (const auto& [value, weight] : values)
    if ((sum += weight) >= 0.5 * total) return value;
  return 0;
}

// When the gauge has less than its resolution left to go.
void remaining(const StandingTest& test, const Series& s, const Weighed& w, TightnessAnswer& out) {
  if (!w.course) return;
  const double enough = test.gauge.resolution / std::max(std::abs(w.share), 1e-3), last = s.time.back();
  std::vector<std::pair<double, double>> waits, speeds;
  double shown = 0;  // weight of the ways in which the course stands out of the readings' spread
  for (const Way& way : w.ways) {
    const double left = w.course->later(way.d0, last, way.speed);
    if (way.d0 > kStandsOut * w.each / std::max(std::abs(w.share), 1e-3)) {
      speeds.emplace_back(way.speed, way.weight);
      shown += way.weight;
    }
    const bool apart = left > enough;
    if (apart) out.still_apart += way.weight;
    const double wait = apart ? (w.course->time_at(enough) - w.course->time_at(left)) / way.speed : 0;
    waits.emplace_back(wait, way.weight);
  }
  out.seconds_to_equal = middle_of(waits, 1);
  if (shown > kCertain) out.tube_speed = middle_of(speeds, shown);
}

// Whether a straight line through these alone would have said that it leaks.
bool looks_leaking(const Series& s, const std::vector<double>& y, double each) {
  const StraightLine line = line_through(s, y);
  return line.slope + kOneSided * each / std::sqrt(s.tt) < 0;
}

}  // namespace

double reading_spread(const TightnessGauge& gauge, double p, double T) {
  return std::hypot(gauge.resolution / std::sqrt(12.0), p * gauge.temperature_sigma / T);
}

double smallest_leak(double volume, double each, int n, double span) {
  // n times evenly over the span: sum (t - mean)^2 = span^2 n (n + 1)/(12 (n - 1))
  const double tt = span * span * n * (n + 1.0) / (12 * (n - 1.0));
  return 2 * kOneSided * volume * each / std::sqrt(tt);
}

Result<TightnessAnswer> judge_standing(const StandingTest& test) {
  if (const auto problem = check(test)) return *problem;
  const auto series = compensated(test);
  if (!series) return series.problem();
  const Series& s = *series;
  const double each =
      reading_spread(test.gauge, test.readings.front().pressure, test.readings.front().temperature);
  if (!(each > 0))
    return Problem{"gauge", "a spread of zero", "a resolution or a temperature spread above zero",
                   "no instrument reads without end"};
  const auto weighed = weigh(test, s, each);
  if (!weighed) return weighed.problem();
  const auto parts = leak_parts(test, s, *weighed);

  TightnessAnswer out{};
  out.compensated = s.level;
  out.scatter = weighed->scatter;
  out.curved = weighed->curved;
  out.leak = {quantile(parts, 0.05), quantile(parts, 0.5), quantile(parts, 0.95)};
  out.probability_above = 1 - below(parts, test.wanted);
  out.probability_missed = out.probability_above / std::max(1 - below(parts, 0), 1e-12);
  double spread = 0;  // of the whole mixture about its own mean
  {
    double mean = 0;
    for (const Part& p : parts) mean += p.weight * p.mean;
    for (const Part& p : parts) spread += p.weight * (p.sigma * p.sigma + std::pow(p.mean - mean, 2));
  }
  out.smallest_shown = 2 * kOneSided * std::sqrt(spread);
  out.seconds_needed =
      s.time.back() * 2 * kOneSided * test.volume.value * weighed->each / std::sqrt(s.tt) / test.wanted;
  out.fall = test.readings.front().pressure - test.readings.back().pressure;
  out.fall_expected = out.fall - (s.level.front() - s.level.back());
  remaining(test, s, *weighed, out);
  out.course = course_of(s, *weighed);

  std::vector<double> raw;
  for (const TightnessReading& r : test.readings) raw.push_back(r.pressure);
  const double gauge_alone = test.gauge.resolution / std::sqrt(12.0);
  if (out.curved) {
    out.verdict = out.still_apart > 0.5 ? TightnessVerdict::equalising : TightnessVerdict::undecided;
  } else if (out.probability_above >= kCertain) {
    out.verdict = TightnessVerdict::leaks;
  } else if (quantile(parts, kRising) < 0) {
    out.verdict = TightnessVerdict::rising;
  } else if (out.probability_missed <= 1 - kCertain) {
    out.verdict = looks_leaking(s, s.level, each)                            ? TightnessVerdict::equalised
                  : looks_leaking(s, raw, std::max(gauge_alone, 0.1 * each)) ? TightnessVerdict::temperature
                                                                             : TightnessVerdict::tight;
    if (out.verdict == TightnessVerdict::equalised && !weighed->course) out.verdict = TightnessVerdict::tight;
  } else {
    out.verdict = out.still_apart > 0.5 ? TightnessVerdict::equalising : TightnessVerdict::undecided;
  }
  return out;
}

std::vector<Stage> staged_rise(double p_air, double wanted) {
  const double way = wanted - p_air;
  return {{p_air + std::min(2e5, 0.25 * way), 5}, {p_air + 0.5 * way, 5}, {wanted, 0}};
}

}  // namespace coldwright::procedures

#include "procedures/tightness.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/normal.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kOneSided = 1.6448536269514722;  // 95 %
constexpr double kEqualAlready = 0.3;             // prior, our estimate
constexpr int kCells = 22, kRounds = 16, kVolumes = 9, kCoursePoints = 25;
constexpr double kWidest = 2.5;      // standard deviations of ln k that are looked at
constexpr double kHardlyCounts = 8;  // of ln likelihood below the best
constexpr double kSure = 0.95;

// One way it may be: given it, level and slope are normal.
struct Way {
  double d0, speed, log_weight = 0, weight = 0;
  double slope = 0, mean = 0, squares = 0;  // of what is left without d
};

struct Line {
  double mean_t, mean_y, slope, squares;
};

struct Series {
  std::vector<double> time, level;
  double mean_t = 0, tt = 0;
};

Line line_through(const Series& s, const std::vector<double>& y) {
  const double n = static_cast<double>(y.size());
  double mean = 0, ty = 0, squares = 0;
  for (const double v : y) mean += v / n;
  for (std::size_t i = 0; i < y.size(); ++i) ty += (s.time[i] - s.mean_t) * (y[i] - mean);
  const double slope = ty / s.tt;
  for (std::size_t i = 0; i < y.size(); ++i)
    squares += std::pow(y[i] - mean - slope * (s.time[i] - s.mean_t), 2);
  return {s.mean_t, mean, slope, squares};
}

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

Result<Series> compensated(const StandingTest& test) {
  Series s;
  const auto walls = [&](const TightnessReading& r) {
    return WallTemperatures{r.temperature, r.temperature - test.coldest_below};
  };
  const double n = static_cast<double>(test.readings.size());
  for (const TightnessReading& r : test.readings) {
    const auto p = brought_to(test.gas, r.pressure, walls(r), walls(test.readings.front()));
    if (!p) return p.problem();
    s.time.push_back(r.time - test.readings.front().time);
    s.level.push_back(*p);
    s.mean_t += s.time.back() / n;
  }
  for (const double t : s.time) s.tt += (t - s.mean_t) * (t - s.mean_t);
  return s;
}

// Everything that depends on d0 and k, weighed.
struct Weighed {
  std::vector<Way> ways;
  std::optional<Equalising> course;
  double share = 0;  // of the difference that the gauge shows, with its sign
  double each = 0;   // Pa, spread of one reading, widened where they scatter
  double scatter = 1;
  double shown(const Way& way, double t) const {
    return course ? share * course->later(way.d0, t, way.speed) : 0;
  }
};

// Part of the plane of ln d0 and ln k.
struct Box {
  double d_low, d_high, k_low, k_high;
};

struct Fit {
  std::vector<Way> ways;
  double least_squares;
};

Way fitted(const Series& s, const Weighed& w, Way way) {
  std::vector<double> y = s.level;
  for (std::size_t i = 0; i < y.size(); ++i) y[i] -= w.shown(way, s.time[i]);
  const Line line = line_through(s, y);
  way.slope = line.slope;
  way.mean = line.mean_y;
  way.squares = line.squares;
  return way;
}

// The box's cells with their prior as weight.
Fit fit_box(const Series& s, const Weighed& w, const Box& box, const Box& whole, double flow_spread) {
  Fit out{{}, HUGE_VAL};
  const double d_step = (box.d_high - box.d_low) / kCells, k_step = (box.k_high - box.k_low) / kCells;
  for (int i = 0; i < kCells; ++i)
    for (int j = 0; j < kCells; ++j) {
      const double ln_d = box.d_low + (i + 0.5) * d_step, ln_k = box.k_low + (j + 0.5) * k_step;
      Way way = fitted(s, w, {std::exp(ln_d), std::exp(ln_k)});
      way.log_weight =
          std::log((1 - kEqualAlready) * d_step / (whole.d_high - whole.d_low) * k_step / flow_spread) +
          normal_log_density(ln_k / flow_spread);
      out.least_squares = std::min(out.least_squares, way.squares);
      out.ways.push_back(way);
    }
  return out;
}

// What is left of the box once cells that hardly count are taken off its sides.
Box shrunk(const Fit& fit, const Box& box, double sigma) {
  Box out{HUGE_VAL, -HUGE_VAL, HUGE_VAL, -HUGE_VAL};
  const double d_step = (box.d_high - box.d_low) / kCells, k_step = (box.k_high - box.k_low) / kCells;
  for (const Way& way : fit.ways) {
    if (0.5 * (way.squares - fit.least_squares) / (sigma * sigma) > kHardlyCounts) continue;
    const double ln_d = std::log(way.d0), ln_k = std::log(way.speed);
    out = {std::min(out.d_low, ln_d - 1.5 * d_step), std::max(out.d_high, ln_d + 1.5 * d_step),
           std::min(out.k_low, ln_k - 1.5 * k_step), std::max(out.k_high, ln_k + 1.5 * k_step)};
  }
  return {std::max(out.d_low, box.d_low), std::min(out.d_high, box.d_high), std::max(out.k_low, box.k_low),
          std::min(out.k_high, box.k_high)};
}

double area(const Box& b) { return (b.d_high - b.d_low) * (b.k_high - b.k_low); }

// The course between the sides, when there is one worth following.
Result<std::optional<Box>> follow(const StandingTest& test, const Series& s, double each, Weighed& out) {
  if (!test.joined || test.joined->fed == FedSide::both) return std::optional<Box>{};
  const Joined& j = *test.joined;
  const bool here = j.fed == FedSide::gauge;
  // The curve has the fed side as the higher one.
  const TwoSides fed = here ? j.sides : TwoSides{j.sides.other, j.sides.gauge};
  const double p_end = s.level.back(), T = test.readings.front().temperature;
  const double least = 0.2 * each, most = 0.999 * (p_end - test.p_air) / std::max(1 - fed.share(), 1e-3);
  if (!(most > 2 * least)) return std::optional<Box>{};
  const auto gas = real_nitrogen(*test.gas.nitrogen, T, p_end, p_end);
  if (!gas) return gas.problem();
  auto course = Equalising::make(*gas, j.tube, fed, p_end, T, most, 0.1 * least);
  if (!course) return course.problem();
  out.course = std::move(*course);
  out.share = here ? fed.share() : -(1 - fed.share());
  return std::optional<Box>{
      Box{std::log(least), std::log(most), -kWidest * j.flow_spread, kWidest * j.flow_spread}};
}

Result<Weighed> weigh(const StandingTest& test, const Series& s, double each) {
  Weighed out;
  const double spare = static_cast<double>(s.time.size()) - 2;
  const auto widened = [&](double squares) {
    return spare >= 2 ? each * std::max(1.0, std::sqrt(squares / spare) / each) : each;
  };
  const auto whole = follow(test, s, each, out);
  if (!whole) return whole.problem();
  Way equal = fitted(s, out, {0, 1});
  double least_squares = equal.squares;
  if (*whole) {
    // Where the readings know the course closely a grid over everything would miss it: it closes in on what
    // counts, as wide at first as its best cell still misses the readings.
    equal.log_weight = std::log(kEqualAlready);
    Box box = **whole;
    Fit fit = fit_box(s, out, box, **whole, test.joined->flow_spread);
    for (int round = 0; round < kRounds; ++round) {
      const Box next = shrunk(fit, box, widened(fit.least_squares));
      if (area(next) > 0.9 * area(box)) break;
      box = next;
      fit = fit_box(s, out, box, **whole, test.joined->flow_spread);
    }
    least_squares = std::min(least_squares, fit.least_squares);
    out.ways = std::move(fit.ways);
  }
  out.ways.push_back(equal);
  out.each = widened(least_squares);
  if (spare >= 2) out.scatter = std::sqrt(least_squares / spare) / each;
  double sum = 0;
  for (Way& way : out.ways) {
    way.weight = std::exp(way.log_weight - 0.5 * (way.squares - least_squares) / (out.each * out.each));
    sum += way.weight;
  }
  for (Way& way : out.ways) way.weight /= sum;
  return out;
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

// When the gauge has less than its resolution left to go.
void remaining(const StandingTest& test, const Series& s, const Weighed& w, TightnessAnswer& out) {
  if (!w.course) return;
  const double enough = test.gauge.resolution / std::max(std::abs(w.share), 1e-3), last = s.time.back();
  std::vector<std::pair<double, double>> waits;
  for (const Way& way : w.ways) {
    const double left = w.course->later(way.d0, last, way.speed);
    const bool apart = left > enough;
    if (apart) out.still_apart += way.weight;
    const double wait = apart ? (w.course->time_at(enough) - w.course->time_at(left)) / way.speed : 0;
    waits.emplace_back(wait, way.weight);
  }
  std::sort(waits.begin(), waits.end());
  double sum = 0;
  for (const auto& [wait, weight] : waits)
    if ((sum += weight) >= 0.5) {
      out.seconds_to_equal = wait;
      break;
    }
}

// Whether a straight line through these alone would have said that it leaks.
bool looks_leaking(const Series& s, const std::vector<double>& y, double each) {
  const Line line = line_through(s, y);
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
  out.leak = {quantile(parts, 0.05), quantile(parts, 0.5), quantile(parts, 0.95)};
  out.probability_above = 1 - below(parts, test.wanted);
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
  if (out.probability_above >= kSure) {
    out.verdict = TightnessVerdict::leaks;
  } else if (out.probability_above <= 1 - kSure) {
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

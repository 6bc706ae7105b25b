#include "procedures/tightness_fit.hpp"

#include <algorithm>
#include <cmath>

#include "base/normal.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kEqualAlready = 0.3;  // prior, our estimate
constexpr int kCells = 26, kRounds = 24;
constexpr double kGently = 8,
                 kCooling = 0.75;  // a coarse grid's best cell may be in the wrong place: close in slowly
constexpr double kTogether = 0.3, kScattered = 2;  // correlation, spreads (our estimates)
constexpr double kBlocked = 0.2;                   // prior that the tube is partly blocked, our estimate
constexpr double kSlowest = 50;      // times that it then passes less, even over the logarithm from none
constexpr double kWidest = 2.5;      // standard deviations of ln k that are looked at
constexpr double kHardlyCounts = 8;  // of ln likelihood below the best

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
  const StraightLine line = line_through(s, y);
  way.slope = line.slope;
  way.mean = line.mean_y;
  way.squares = line.squares;
  return way;
}

// Density of ln k: about the tube as reckoned, or partly blocked.
double speed_prior(double ln_k, double flow_spread) {
  const double as_reckoned = std::exp(normal_log_density(ln_k / flow_spread)) / flow_spread;
  const bool slower = ln_k < 0 && ln_k > -std::log(kSlowest);
  return (1 - kBlocked) * as_reckoned + (slower ? kBlocked / std::log(kSlowest) : 0);
}

// The box's cells with their prior as weight.
Fit fit_box(const Series& s, const Weighed& w, const Box& box, const Box& whole, double flow_spread) {
  Fit out{{}, HUGE_VAL};
  const double d_step = (box.d_high - box.d_low) / kCells, k_step = (box.k_high - box.k_low) / kCells;
  for (int i = 0; i < kCells; ++i)
    for (int j = 0; j < kCells; ++j) {
      const double ln_d = box.d_low + (i + 0.5) * d_step, ln_k = box.k_low + (j + 0.5) * k_step;
      Way way = fitted(s, w, {std::exp(ln_d), std::exp(ln_k)});
      way.log_weight = std::log((1 - kEqualAlready) * d_step / (whole.d_high - whole.d_low) * k_step *
                                speed_prior(ln_k, flow_spread));
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
      Box{std::log(least), std::log(most), -std::log(kSlowest), kWidest * j.flow_spread}};
}

// Whether the readings, less the best way, stay on one side for long: the correlation of neighbours.
bool runs_together(const Series& s, const Weighed& w) {
  const auto best = std::min_element(w.ways.begin(), w.ways.end(),
                                     [](const Way& a, const Way& b) { return a.squares < b.squares; });
  double neighbours = 0, all = 0, before = 0;
  for (std::size_t i = 0; i < s.time.size(); ++i) {
    const double left =
        s.level[i] - w.shown(*best, s.time[i]) - best->mean - best->slope * (s.time[i] - s.mean_t);
    if (i > 0) neighbours += before * left;
    all += left * left;
    before = left;
  }
  return neighbours > kTogether * all;
}

}  // namespace

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

StraightLine line_through(const Series& s, const std::vector<double>& y) {
  const double n = static_cast<double>(y.size());
  double mean = 0, ty = 0, squares = 0;
  for (const double v : y) mean += v / n;
  for (std::size_t i = 0; i < y.size(); ++i) ty += (s.time[i] - s.mean_t) * (y[i] - mean);
  const double slope = ty / s.tt;
  for (std::size_t i = 0; i < y.size(); ++i)
    squares += std::pow(y[i] - mean - slope * (s.time[i] - s.mean_t), 2);
  return {s.mean_t, mean, slope, squares};
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
      const double gently = std::max(1.0, kGently * std::pow(kCooling, round));
      const Box next = shrunk(fit, box, gently * widened(fit.least_squares));
      if (gently == 1 && area(next) > 0.9 * area(box)) break;
      box = next;
      fit = fit_box(s, out, box, **whole, test.joined->flow_spread);
    }
    least_squares = std::min(least_squares, fit.least_squares);
    out.ways = std::move(fit.ways);
  }
  out.ways.push_back(equal);
  out.each = widened(least_squares);
  if (spare >= 2) out.scatter = std::sqrt(least_squares / spare) / each;
  out.curved = spare >= 3 && out.scatter > kScattered && runs_together(s, out);
  double sum = 0;
  for (Way& way : out.ways) {
    way.weight = std::exp(way.log_weight - 0.5 * (way.squares - least_squares) / (out.each * out.each));
    sum += way.weight;
  }
  for (Way& way : out.ways) way.weight /= sum;
  return out;
}

}  // namespace coldwright::procedures

#include "drawing/axis.hpp"

#include <algorithm>
#include <cmath>
#include <span>

namespace coldwright::drawing {
namespace {

using base::Dimension;

/// SI value of a number shown in the reader's unit: both are joined by a straight line.
double si_of(double shown_value, Dimension dimension, const base::Display& display) {
  const double zero = base::show(dimension, 0, display).value;
  const double scale = base::show(dimension, 1e6, display).value - zero;
  return (shown_value - zero) / scale * 1e6;
}

double scale_of(std::string_view symbol) {
  for (const base::FieldUnit& row : base::field_units())
    if (row.dimension == Dimension::pressure && row.symbol == symbol) return row.scale;
  return 1;
}

struct Candidate {
  double gauge;  // in the unit
  bool mercury = false;
};

// The roundest first: a later one is dropped where it comes too near.
constexpr Candidate kUs[] = {{0},   {100},       {10},        {1000}, {20},  {50},        {200},
                             {500}, {-20, true}, {-10, true}, {5},    {30},  {300},       {150},
                             {70},  {40},        {-25, true}, {400},  {700}, {-15, true}, {-5, true},
                             {600}, {250},       {800},       {1500}, {2000}};
constexpr Candidate kMetric[] = {{0},    {10},   {1},   {100},  {2},  {5},  {20}, {50},
                                 {-0.5}, {3},    {30},  {15},   {7},  {4},  {40}, {70},
                                 {-0.8}, {-0.7}, {0.5}, {-0.9}, {25}, {60}, {80}, {-0.3}};

}  // namespace

double Axis::place(double value) const {
  const double share =
      logarithmic ? std::log(value / low) / std::log(high / low) : (value - low) / (high - low);
  return start + share * (end - start);
}

double round_step(double least) {
  const double power = std::pow(10, std::floor(std::log10(least)));
  for (const double m : {1.0, 2.0, 5.0})
    if (m * power >= least * 0.999) return m * power;
  return 10 * power;
}

std::vector<Tick> pressure_ticks(const Axis& axis, const base::Display& display, double gap) {
  const bool us = display.system == base::UnitSystem::us;
  const std::span<const Candidate> candidates = us ? std::span<const Candidate>(kUs) : kMetric;
  std::vector<Tick> out;
  for (const Candidate& candidate : candidates) {
    const double scale = scale_of(candidate.mercury ? "inHg" : us ? "psi" : "bar");
    const double p = display.site.si + candidate.gauge * scale;
    if (p < axis.low || p > axis.high) continue;
    const bool near = std::any_of(out.begin(), out.end(), [&](const Tick& other) {
      return std::abs(axis.place(other.value) - axis.place(p)) < gap;
    });
    const int decimals = std::abs(candidate.gauge) < 1 && candidate.gauge != 0 ? 1 : 0;
    if (!near)
      out.push_back({p, base::number_text(candidate.gauge, decimals, display.numerals) +
                            (candidate.mercury ? " inHg" : "")});
  }
  std::sort(out.begin(), out.end(), [](const Tick& a, const Tick& b) { return a.value < b.value; });
  return out;
}

std::vector<Tick> even_ticks(const Axis& axis, Dimension dimension, const base::Display& display,
                             double gap) {
  const double low = base::show(dimension, axis.low, display).value,
               high = base::show(dimension, axis.high, display).value;
  const double step = round_step((high - low) * gap / std::abs(axis.end - axis.start));
  const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
  std::vector<Tick> out;
  for (double k = std::ceil(low / step); k * step <= high; ++k)
    out.push_back(
        {si_of(k * step, dimension, display), base::number_text(k * step, decimals, display.numerals)});
  return out;
}

std::string unit_of(Dimension dimension, const base::Display& display) {
  return base::show(dimension, 2 * display.site.si, display).unit;
}

}  // namespace coldwright::drawing

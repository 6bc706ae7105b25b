// Numbers out of a trace with their intervals: how long it runs and rests, how fast it cools and warms, and
// the time constants of what decays.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "diagnosis/answer.hpp"
#include "traces/phases.hpp"

namespace coldwright::traces {

/// y = level + step * exp(-t / tau), least squares; the interval of tau from its profile, with as many
/// independent samples as the residuals' correlation leaves (first-order).
struct Decay {
  double level = 0, step = 0, tau = 0;
  double tau_low = 0, tau_high = 0;  // 90 %; tau_high is infinite when the record is too short to bound it
  double scatter = 0;                // of the residuals
  double explained = 0;              // share of the variance
};
/// None with fewer than 6 samples, or without any decay. Times in s from the start of the decay.
std::optional<Decay> fit_decay(const std::vector<double>& t, const std::vector<double>& y);

/// y = level + slope * t; slope per second with its standard error, residuals' correlation counted.
struct Slope {
  double slope = 0, error = 0, level = 0;
};
std::optional<Slope> fit_slope(const std::vector<double>& t, const std::vector<double>& y);

/// What a figure is, for the door to show it.
enum class Measure : std::uint8_t {
  seconds,
  share,
  power,
  current,
  kelvin_per_hour,
  energy_per_day,
  count,
  ratio
};

struct Figure {
  std::string key;  // of the wording section "trace_figures"
  Measure measure{};
  diagnosis::Interval interval{};  // 5, 50, 95 %; of `spread`: of single cycles, else of the estimate
  bool spread = false;
  int count = 0;    // cycles, phases or samples behind it
  int series = -1;  // Trace::series it was fitted in
};

std::vector<Figure> figures_of(const Trace& trace, const Phases& phases);

}  // namespace coldwright::traces

// What happened on the way: a door, a defrost, a pull-down, an overload's cycle, a start that failed,
// hunting.
#pragma once

#include <string>
#include <vector>

#include "traces/phases.hpp"

namespace coldwright::traces {

enum class Happening : std::uint8_t {
  door,
  defrost,
  pull_down,
  overload_cycle,
  failed_start,
  not_pumping,
  hunting,
  long_run,
  no_power,
};
std::string_view to_word(Happening happening);

struct Event {
  Happening what{};
  double from = 0, to = 0;  // s since the trace's start
  double probability = 0;
  double amount = 0;  // door: K that the air rose; pull_down: K that it fell; hunting: period, s;
                      // overload_cycle: tries; long_run: times the usual
  double second = 0;  // hunting: amplitude in the series' unit; ln likelihood gained stands in `gain`
  double gain = 0;
  int series = -1;
};

/// In the order of their beginning.
std::vector<Event> events_of(const Trace& trace, const Phases& phases);

/// A period that stands out of noise: Fisher's test on the periodogram of the samples, detrended
/// [fisher1929].
struct Periodic {
  double period = 0, amplitude = 0;
  double chance = 1;  // that noise alone would show as much
  double gain = 0;    // ln likelihood over that of noise
};
Periodic periodic_in(const std::vector<double>& t, const std::vector<double>& y, double shortest,
                     double longest);

}  // namespace coldwright::traces

// Two loggers' clocks brought together by what both saw: the compressor's starts and stops.
#pragma once

#include <optional>

#include "traces/phases.hpp"
#include "traces/trace.hpp"

namespace coldwright::traces {

/// Seconds to add to the other file's times in the middle of the first file, with 90 %, and what that changes
/// by in a day, with 90 %. The drift is zero where its interval holds zero.
struct Clock {
  double offset = 0, low = 0, high = 0;
  double drift = 0, drift_low = 0, drift_high = 0;  // s a day
  bool drift_tried = false;                         // long enough for a drift to be told
  double probability = 0;                           // of this offset against every other one tried
  double gain = 0;                                  // ln likelihood over that of no relation
  bool whole_hours = false;                         // the offset is that of a zone, within a minute
  bool trusted = false;                             // sure enough to be used
};

/// Likelihood over offsets, up to a day and two hours either way between files with dates and anywhere
/// between others, and over drifts up to 300 ppm: the other file's signal, or its slope, as a step function
/// of the first one's running plus Gaussian noise, with one independent look for each switch, in up to 48
/// parts. None when either has fewer than three switches in common reach.
std::optional<Clock> align(const Trace& first, const Phases& of_first, const Trace& other);

/// The other file's columns at the first one's times: its last value, as long as it stands.
void merge_into(Trace& first, const Trace& other, const Clock& clock);

}  // namespace coldwright::traces

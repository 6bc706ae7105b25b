// What a trace gives the diagnosis: spot readings out of a steady stretch of running, and what was seen, each
// with how sure that is.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "circuit/readings.hpp"
#include "traces/events.hpp"
#include "traces/phases.hpp"

namespace coldwright::traces {

struct SpotReading {
  circuit::ReadingKind kind{};
  double value = 0;            // SI
  double sd = 0;               // of the samples, with what the logger is counted in
  double minutes_running = 0;  // since the start, at the window's middle
  bool since_start = false;    // the start itself was logged
};

struct Observed {
  std::string subject, value;  // words of data/observations.json
  double confidence = 1;       // that it is so
};

struct Findings {
  std::vector<SpotReading> readings;
  std::optional<double> box, ambient;  // K, in the same window
  double from = 0, to = 0;             // of the window, s
  std::vector<Observed> observed;
};

Findings findings_of(const Trace& trace, const Phases& phases, const std::vector<Event>& events);

}  // namespace coldwright::traces

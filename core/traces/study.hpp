// Everything that is found in one or more traces of one machine.
#pragma once

#include <optional>
#include <vector>

#include "traces/align.hpp"
#include "traces/events.hpp"
#include "traces/findings.hpp"
#include "traces/fits.hpp"
#include "traces/phases.hpp"

namespace coldwright::traces {

struct Study {
  std::size_t main = 0;  // the file whose column tells running best
  std::vector<std::optional<Clock>>
      clocks;   // by file; none of the main one, nor of one that shows no switching
  Trace trace;  // the main one with what could be joined to it
  std::optional<Phases> phases;
  std::vector<Figure> figures;
  std::vector<Event> events;
  Findings findings;
};

/// Takes the traces apart; at least one.
Study study(std::vector<Trace> traces);

}  // namespace coldwright::traces

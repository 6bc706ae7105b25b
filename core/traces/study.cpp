#include "traces/study.hpp"

namespace coldwright::traces {
namespace {

/// Columns by how well they tell running, as signal_of() takes them.
int rank_of(const Trace& trace) {
  const auto signal = signal_of(trace);
  return signal ? static_cast<int>(trace.series[static_cast<std::size_t>(*signal)].what) : 1000;
}

}  // namespace

Study study(std::vector<Trace> traces) {
  Study out;
  for (std::size_t i = 1; i < traces.size(); ++i)
    if (rank_of(traces[i]) < rank_of(traces[out.main])) out.main = i;
  out.clocks.resize(traces.size());
  out.trace = std::move(traces[out.main]);
  out.phases = phases_of(out.trace);
  if (!out.phases) return out;
  bool joined = false;
  for (std::size_t i = 0; i < traces.size(); ++i) {
    if (i == out.main) continue;
    out.clocks[i] = align(out.trace, *out.phases, traces[i]);
    const bool same_clock = out.trace.dated && traces[i].dated;
    if (out.clocks[i] && out.clocks[i]->trusted) {
      merge_into(out.trace, traces[i], *out.clocks[i]);
      joined = true;
    } else if (same_clock) {
      merge_into(out.trace, traces[i], Clock{});  // as the clocks stand, which the door says
      joined = true;
    }
  }
  if (joined) out.phases = phases_of(out.trace);
  out.figures = figures_of(out.trace, *out.phases);
  out.events = events_of(out.trace, *out.phases);
  out.findings = findings_of(out.trace, *out.phases, out.events);
  return out;
}

}  // namespace coldwright::traces

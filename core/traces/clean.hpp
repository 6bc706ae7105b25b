// Puts a trace's rows in order and says what was done: rows out of order, stamps twice, a clock that was set,
// gaps, a sensor that hangs, a unit that changes on the way. Nothing is changed in silence: each leaves a
// SetAside.
#pragma once

#include "traces/trace.hpp"

namespace coldwright::traces {

/// Afterwards `t` rises strictly and counts from `start`; `interval` and `gap` are set.
void clean(Trace& trace);

// Its steps, in their order.
void drop_unset(Trace& trace);
void order(Trace& trace);
void merge_duplicates(Trace& trace);
void find_gaps(Trace& trace);
void power_from_energy(Trace& trace);
void settle_units(Trace& trace);
void fill_rests(Trace& trace);
void settle_sign(Trace& trace);
void find_stuck(Trace& trace);

}  // namespace coldwright::traces

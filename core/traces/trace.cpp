#include "traces/trace.hpp"

namespace coldwright::traces {

std::string_view to_word(Reason reason) {
  constexpr std::array<std::string_view, kReasons> kWords = {
      "unreadable_row",  "unreadable_time", "unreadable_value",
      "missing_value",   "sentinel_value",  "impossible_value",
      "repeated_header", "comment_row",     "duplicate_same",
      "duplicate_other", "coarse_stamps",   "shuffled",
      "newest_first",    "clock_step",      "stuck_sensor",
      "unit_changed",    "unit_in_cell",    "gap",
      "unknown_sensor",  "counter_reset",   "coarse_counter",
      "turned_sign",     "unset_clock",     "empty_rest"};
  return kWords[static_cast<std::size_t>(reason)];
}

const Series* Trace::find(What what) const {
  for (const Series& one : series)
    if (one.what == what) return &one;
  return nullptr;
}

}  // namespace coldwright::traces

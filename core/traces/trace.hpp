// A trace: what loggers wrote, as times and columns in SI, with an account of every row that was not used.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "traces/layout.hpp"

namespace coldwright::traces {

/// Why something in a file was not used as it stood.
enum class Reason : std::uint8_t {
  unreadable_row,    // no row of this table
  unreadable_time,   // its time can't be read
  unreadable_value,  // a cell that is no number
  missing_value,     // a cell that says that nothing was read
  sentinel_value,    // a number that loggers write for nothing
  impossible_value,  // outside what such a sensor can read
  repeated_header,   // the heading again, in the middle
  comment_row,       // a remark
  duplicate_same,    // the same time and values again: once is enough
  duplicate_other,   // the same time with other values: their mean is used
  coarse_stamps,     // several rows to a stamp, spread evenly over it
  shuffled,          // rows out of order, put in order
  newest_first,      // the whole file runs backwards
  clock_step,        // the clock was set back: what follows was moved on
  stuck_sensor,      // constant for longer than such a signal is
  unit_changed,      // a stretch in another unit, converted
  unit_in_cell,      // a cell with a unit of its own, converted
  gap,               // nothing logged for a while
  unknown_sensor,    // a name that the layout doesn't have
  counter_reset,     // a meter's counter that fell
  coarse_counter,    // a meter's counter whose steps hide what lasts less
  turned_sign,       // a clamp the wrong way round
  unset_clock,       // rows before the logger's clock was set
  empty_rest,        // cells left empty while nothing is drawn
};
std::string_view to_word(Reason reason);
inline constexpr int kReasons = 24;

struct SetAside {
  Reason reason{};
  int column = -1;                       // of the file; -1: the whole row
  std::uint64_t count = 0;               // rows, cells or gaps
  std::array<std::uint64_t, 5> lines{};  // the first lines it was met at, 1 the file's first; 0: no more
  double from = 0, to = 0;               // s since the trace's start, where a stretch is meant
  double seconds = 0;                    // how long altogether, where that means something
  std::string text;                      // what stood there, or from what unit to which
};

inline constexpr float kNothing = std::numeric_limits<float>::quiet_NaN();

/// One sensor's values beside the trace's times, SI; NaN where there is none. Four bytes a value.
struct Series {
  What what = What::unknown;
  std::string name;  // its header
  std::string unit;  // of the file
  int column = -1;
  bool derived = false;  // made of an energy
  double resolves = 0;   // s; what lasts less than this isn't in it, where that is longer than a step
  std::vector<float> value;
};

struct Trace {
  std::string name;                  // of the file
  bool dated = false;                // `start` counts from 1970-01-01 UTC; otherwise there is no date
  bool zoned = false;                // the file said its zone; otherwise `start` is local time
  double start = 0;                  // s
  double interval = 0;               // s, the median step
  double gap = 0;                    // s, a step longer than this is a gap
  std::uint64_t rows = 0, used = 0;  // lines with anything on them after the heading; those that are in here
  std::vector<double> t;             // s since `start`, rising
  std::vector<Series> series;
  std::vector<SetAside> aside;

  const Series* find(What what) const;
};

}  // namespace coldwright::traces

// How a logged file is to be read: which sign parts the columns, which marks the decimals, how time is
// written, and what each column is. Guessed once (guess.hpp), confirmed by a person, then followed to the
// letter.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/field_units.hpp"
#include "base/result.hpp"
#include "circuit/readings.hpp"

namespace coldwright::traces {

/// What a column holds.
enum class What : std::uint8_t {
  time,         // date and time, or time since the start
  date,         // beside a time of day
  time_of_day,  // beside a date, or alone
  power,
  current,
  voltage,
  suction_pressure,
  discharge_pressure,
  box_temp,
  ambient_temp,
  coil_temp,  // a probe in the evaporator's fins
  evaporator_inlet_temp,
  evaporator_outlet_temp,
  evaporator_air_out_temp,
  suction_line_temp,
  discharge_line_temp,
  condenser_middle_temp,
  condenser_air_out_temp,
  liquid_line_temp,
  shell_temp,
  superheat,
  energy,          // used in each interval: becomes a power
  energy_counter,  // what a meter shows: becomes a power
  door,            // 1 or "open": open
  sensor_name,     // of a file that has one value a row
  sensor_value,    // beside it
  other,           // a number of no use here: humidity, a count
  comment,
  unknown,  // a number that may be of use, if somebody says what it is
};

struct WhatInfo {
  What what;
  std::string_view word;                        // in files
  std::optional<base::Dimension> dimension;     // of an energy: power, which is made of it
  std::optional<circuit::ReadingKind> reading;  // the spot reading it corresponds to
};
std::span<const WhatInfo> what_table();
const WhatInfo& info(What what);
std::optional<What> what_from_word(std::string_view word);

enum class TimeForm : std::uint8_t {
  year_first,   // 2026-03-04 13:05:06, with or without T, zone, fractions; 20260304T130506
  day_first,    // 4/3/2026 1:05 PM
  month_first,  // 3/4/2026 1:05 PM
  epoch,        // a count since 1970-01-01 UTC in `seconds_per_unit`
  serial_days,  // days since 1899-12-30, as spreadsheets count
  elapsed,      // a count since the start in `seconds_per_unit`, or h:mm:ss
  time_of_day,  // without a date: past midnight it goes on with the next day
};
std::string_view to_word(TimeForm form);
std::optional<TimeForm> time_form_from_word(std::string_view word);

struct TimeLayout {
  TimeForm form = TimeForm::year_first;
  double seconds_per_unit = 1;
  bool open = false;  // guessed, and later rows may tell that day and month stand the other way about
};

struct ColumnLayout {
  What what = What::unknown;
  std::string header;     // as it stands in the file
  std::string unit;       // "W", "psig", "°F": as base::parse_spoken() reads it; empty where none is needed
  double confidence = 0;  // that `what` and `unit` are right, 0..1
  std::string why;        // a key of the wording section "trace_why": "header", "unit", "range", ...
};

enum class Encoding : std::uint8_t { utf8, utf16_le, utf16_be, latin1 };
std::string_view to_word(Encoding encoding);
std::optional<Encoding> encoding_from_word(std::string_view word);

/// One sensor of a file with one value a row.
struct NamedSensor {
  std::string name;
  What what = What::unknown;
  std::string unit;
};

struct Layout {
  Encoding encoding = Encoding::utf8;
  char separator = ',';  // ' ' stands for any run of blanks
  char decimal = '.';
  int header_rows = 0;  // everything before the first row of data
  TimeLayout time;
  std::vector<ColumnLayout> columns;
  std::vector<NamedSensor> sensors;  // with sensor_name and sensor_value columns only
};

/// What stays open after the guess.
struct Question {
  std::string key;  // of the wording section "trace_questions"
  std::optional<int> column = std::nullopt;
  std::vector<std::string> options;  // words of what_table, units or time forms; the first is what was taken
  std::string sensor = {};           // of a file with one value a row
};

struct Guess {
  Layout layout;
  std::vector<Question> questions;
};

inline bool is_energy(What what) { return what == What::energy || what == What::energy_counter; }
inline bool is_electric(What what) { return what == What::power || what == What::current; }
/// Whether it is mWh or mJ, a thousand million times less than MWh or MJ; no meter of a machine shows it.
bool is_thousandth(std::string_view energy);

/// A number in a unit as SI: si = number * scale + offset, pressures absolute at the site; energies in J.
struct Scale {
  double scale = 1, offset = 0;
};
/// Problem for a unit that isn't one of this kind of column.
Result<Scale> scale_of(std::string_view unit, What what, base::SitePressure site);
/// Units to choose from for a column of that kind, the usual ones first; none where none is needed.
std::span<const std::string_view> units_of(What what);

/// A layout can be followed when it names a time and at least one column that is of use.
std::optional<Problem> check(const Layout& layout);

}  // namespace coldwright::traces

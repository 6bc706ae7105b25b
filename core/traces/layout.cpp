#include "traces/layout.hpp"

#include <algorithm>
#include <array>

#include "base/heard.hpp"
#include "base/text.hpp"

namespace coldwright::traces {
namespace {

using base::Dimension;
using circuit::ReadingKind;

constexpr std::array kWhat = {
    WhatInfo{What::time, "time", {}, {}},
    WhatInfo{What::date, "date", {}, {}},
    WhatInfo{What::time_of_day, "time_of_day", {}, {}},
    WhatInfo{What::power, "power", Dimension::power, {}},
    WhatInfo{What::current, "current", Dimension::current, ReadingKind::compressor_current},
    WhatInfo{What::voltage, "voltage", Dimension::voltage, ReadingKind::supply_voltage},
    WhatInfo{What::suction_pressure, "suction_pressure", Dimension::pressure, ReadingKind::suction_pressure},
    WhatInfo{What::discharge_pressure, "discharge_pressure", Dimension::pressure,
             ReadingKind::discharge_pressure},
    WhatInfo{What::box_temp, "box_temp", Dimension::temperature, {}},
    WhatInfo{What::ambient_temp, "ambient_temp", Dimension::temperature, {}},
    WhatInfo{What::coil_temp, "coil_temp", Dimension::temperature, {}},
    WhatInfo{What::evaporator_inlet_temp, "evaporator_inlet_temp", Dimension::temperature,
             ReadingKind::evaporator_inlet_temp},
    WhatInfo{What::evaporator_outlet_temp, "evaporator_outlet_temp", Dimension::temperature,
             ReadingKind::evaporator_outlet_temp},
    WhatInfo{What::evaporator_air_out_temp, "evaporator_air_out_temp", Dimension::temperature,
             ReadingKind::evaporator_air_out_temp},
    WhatInfo{What::suction_line_temp, "suction_line_temp", Dimension::temperature,
             ReadingKind::suction_line_temp},
    WhatInfo{What::discharge_line_temp, "discharge_line_temp", Dimension::temperature,
             ReadingKind::discharge_line_temp},
    WhatInfo{What::condenser_middle_temp, "condenser_middle_temp", Dimension::temperature,
             ReadingKind::condenser_middle_temp},
    WhatInfo{What::condenser_air_out_temp, "condenser_air_out_temp", Dimension::temperature,
             ReadingKind::condenser_air_out_temp},
    WhatInfo{What::liquid_line_temp, "liquid_line_temp", Dimension::temperature,
             ReadingKind::liquid_line_temp},
    WhatInfo{What::shell_temp, "shell_temp", Dimension::temperature, ReadingKind::shell_temp},
    WhatInfo{What::superheat, "superheat", Dimension::temperature_difference, {}},
    WhatInfo{What::energy, "energy", Dimension::power, {}},
    WhatInfo{What::energy_counter, "energy_counter", Dimension::power, {}},
    WhatInfo{What::door, "door", {}, {}},
    WhatInfo{What::sensor_name, "sensor_name", {}, {}},
    WhatInfo{What::sensor_value, "sensor_value", {}, {}},
    WhatInfo{What::other, "other", {}, {}},
    WhatInfo{What::comment, "comment", {}, {}},
    WhatInfo{What::unknown, "unknown", {}, {}},
};

constexpr std::array<std::string_view, 7> kTimeForms = {"year_first",  "day_first", "month_first", "epoch",
                                                        "serial_days", "elapsed",   "time_of_day"};
constexpr std::array<std::string_view, 4> kEncodings = {"utf8", "utf16_le", "utf16_be", "latin1"};

template <class E, std::size_t N>
std::optional<E> named(const std::array<std::string_view, N>& words, std::string_view word) {
  const auto found = std::find(words.begin(), words.end(), word);
  if (found == words.end()) return std::nullopt;
  return static_cast<E>(found - words.begin());
}

}  // namespace

std::span<const WhatInfo> what_table() { return kWhat; }
const WhatInfo& info(What what) { return kWhat[static_cast<std::size_t>(what)]; }

std::optional<What> what_from_word(std::string_view word) {
  for (const WhatInfo& row : kWhat)
    if (row.word == word) return row.what;
  return std::nullopt;
}

std::string_view to_word(TimeForm form) { return kTimeForms[static_cast<std::size_t>(form)]; }
std::optional<TimeForm> time_form_from_word(std::string_view word) {
  return named<TimeForm>(kTimeForms, word);
}
std::string_view to_word(Encoding encoding) { return kEncodings[static_cast<std::size_t>(encoding)]; }
std::optional<Encoding> encoding_from_word(std::string_view word) {
  return named<Encoding>(kEncodings, word);
}

bool is_thousandth(std::string_view energy) { return energy == "mWh" || energy == "mJ"; }

Result<Scale> scale_of(std::string_view unit, What what, base::SitePressure site) {
  const auto dimension = info(what).dimension;
  if (!dimension) return Scale{};
  if (what == What::power && base::lower(unit) == "va")
    return Scale{};  // apparent, taken for what it is near
  if (is_energy(what)) {
    for (const auto& [name, joules] :
         {std::pair{"wh", 3600.0}, {"kwh", 3.6e6}, {"mwh", 3.6e9}, {"kj", 1e3}, {"mj", 1e6}})
      if (base::lower(unit) == name && !is_thousandth(unit)) return Scale{joules, 0};
    return Problem{"unit", base::quoted(unit), "Wh, kWh, MWh, kJ or MJ",
                   "a column needs a unit of its own kind"};
  }
  const auto spoken = base::parse_spoken("1 " + std::string(unit), "unit", *dimension);
  if (!spoken)
    return Problem{"unit", base::quoted(unit), std::string(base::allowed_forms(*dimension)),
                   "a column needs a unit of its own kind"};
  Scale scale{spoken->unit->scale, spoken->unit->offset};
  if (spoken->against == base::Against::gauge) scale.offset += site.si;
  if (spoken->against == base::Against::vacuum) scale = {-scale.scale, site.si};
  return scale;
}

std::span<const std::string_view> units_of(What what) {
  static constexpr std::array<std::string_view, 2> power{"W", "kW"}, current{"A", "mA"},
      difference{"K", "°F"};
  static constexpr std::array<std::string_view, 3> temperature{"°C", "°F", "K"};
  static constexpr std::array<std::string_view, 7> pressure{"psig",   "bar(g)", "kPa(g)", "psia",
                                                            "bar(a)", "kPa(a)", "MPa(a)"};
  static constexpr std::array<std::string_view, 5> energy{"kWh", "Wh", "MWh", "kJ", "MJ"};
  static constexpr std::array<std::string_view, 1> voltage{"V"};
  if (is_energy(what)) return energy;
  const auto dimension = info(what).dimension;
  if (!dimension) return {};
  switch (*dimension) {
    case Dimension::power:
      return power;
    case Dimension::current:
      return current;
    case Dimension::voltage:
      return voltage;
    case Dimension::pressure:
      return pressure;
    case Dimension::temperature_difference:
      return difference;
    default:
      return temperature;
  }
}

std::optional<Problem> check(const Layout& layout) {
  bool time = false, of_use = false, name = false, value = false;
  for (const ColumnLayout& column : layout.columns) {
    time = time || column.what == What::time || column.what == What::time_of_day;
    of_use = of_use || info(column.what).dimension || column.what == What::door;
    name = name || column.what == What::sensor_name;
    value = value || column.what == What::sensor_value;
    if (info(column.what).dimension) {
      const auto scale = scale_of(column.unit, column.what, base::sea_level);
      if (!scale) return scale.problem();
    }
  }
  for (const NamedSensor& sensor : layout.sensors) of_use = of_use || info(sensor.what).dimension;
  if (!time)
    return Problem{"layout", "no column of time", "a column that is time, or date and time_of_day",
                   "a trace without time can't be laid out"};
  if (!of_use || name != value)
    return Problem{"layout", "no column of use",
                   "at least one column that is a power, current, pressure, temperature or door",
                   "nothing is guessed where nobody says what a column is"};
  return std::nullopt;
}

}  // namespace coldwright::traces

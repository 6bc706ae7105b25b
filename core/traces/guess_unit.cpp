// Units as loggers write them, in headings and beside numbers.
#include "base/text.hpp"
#include "traces/guess_parts.hpp"

namespace coldwright::traces {
namespace {

bool known_unit(std::string_view unit) { return unit == "VA" || dimension_of(unit).has_value(); }

}  // namespace

/// Which kind of quantity a unit measures, among those of traces.
std::optional<base::Dimension> dimension_of(std::string_view unit) {
  using base::Dimension;
  for (const Dimension dimension :
       {Dimension::power, Dimension::current, Dimension::voltage, Dimension::temperature, Dimension::pressure,
        Dimension::frequency, Dimension::quality})
    if (base::parse_spoken("1 " + std::string(unit), "unit", dimension)) return dimension;
  return std::nullopt;
}

std::string unit_in(std::string_view header) {
  const auto as_unit = [](std::string text) -> std::string {
    while (!text.empty() && text.front() == ' ') text.erase(0, 1);
    while (!text.empty() && text.back() == ' ') text.pop_back();
    if (text.empty() || text.size() > 12) return "";
    const std::string low = base::lower(text);
    // What field units leave out or say otherwise, in logs' own ways.
    for (const auto& [from, to] : {std::pair{"degc", "°C"},
                                   {"deg c", "°C"},
                                   {"degf", "°F"},
                                   {"deg f", "°F"},
                                   {"º c", "°C"},
                                   {"ºc", "°C"},
                                   {"ºf", "°F"},
                                   {"bar", "bar(g)"},
                                   {"psi", "psig"},
                                   {"barg", "bar(g)"},
                                   {"bara", "bar(a)"},
                                   {"va", "VA"},
                                   {"watts", "W"},
                                   {"watt", "W"},
                                   {"amps", "A"},
                                   {"amp", "A"},
                                   {"volts", "V"},
                                   {"vac", "V"},
                                   {"kpa", "kPa(a)"},
                                   {"mpa", "MPa(a)"},
                                   {"kw", "kW"},
                                   {"w", "W"},
                                   {"c", "°C"},
                                   {"f", "°F"},
                                   {"a", "A"},
                                   {"v", "V"}})
      if (low == from) return to;
    if (is_thousandth(text)) return "";
    for (const char* energy : {"Wh", "kWh", "MWh", "kJ", "MJ"})
      if (low == base::lower(energy)) return energy;
    return known_unit(text) ? text : "";
  };
  for (const auto& [open, close] : {std::pair{'[', ']'}, {'(', ')'}, {'{', '}'}}) {
    const std::size_t from = header.rfind(open),
                      to = header.find(close, from == std::string_view::npos ? 0 : from);
    if (from == std::string_view::npos || to == std::string_view::npos || to < from) continue;
    const std::string unit = as_unit(std::string(header.substr(from + 1, to - from - 1)));
    if (!unit.empty()) return unit;
  }
  // "Phase A" and "sensor C" name places, not amperes and degrees.
  const std::string low = base::lower(header);
  for (const char* place : {"phase", "channel", "sensor", "probe", "zone", "circuit", "line "})
    if (low.find(place) != std::string::npos && low.size() < 12) return "";
  const std::size_t sign = header.find_last_of(" _/,-.");
  if (sign != std::string_view::npos) return as_unit(std::string(header.substr(sign + 1)));
  return as_unit(std::string(header));
}

}  // namespace coldwright::traces

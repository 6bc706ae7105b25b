// What a column of numbers is: words of the trade in its header first, its unit then, its values last.
#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.hpp"
#include "traces/guess_parts.hpp"

namespace coldwright::traces {
namespace {

/// Words for a thing in English, Spanish, French and German headers (common practice). Longer and more
/// particular ones stand first; each is looked for inside the header with signs made blanks.
struct Word {
  std::string_view text;
  What what;
};
constexpr std::array kHeaderWords = {
    Word{"evaporator inlet", What::evaporator_inlet_temp},
    Word{"evap inlet", What::evaporator_inlet_temp},
    Word{"evap in ", What::evaporator_inlet_temp},
    Word{"coil inlet", What::evaporator_inlet_temp},
    Word{"evaporator outlet", What::evaporator_outlet_temp},
    Word{"evap outlet", What::evaporator_outlet_temp},
    Word{"evap out ", What::evaporator_outlet_temp},
    Word{"coil outlet", What::evaporator_outlet_temp},
    Word{"evaporator air out", What::evaporator_air_out_temp},
    Word{"supply air", What::evaporator_air_out_temp},
    Word{"discharge air", What::evaporator_air_out_temp},
    Word{"air off", What::evaporator_air_out_temp},
    Word{"condenser air", What::condenser_air_out_temp},
    Word{"air off condenser", What::condenser_air_out_temp},
    Word{"condenser middle", What::condenser_middle_temp},
    Word{"condens", What::condenser_middle_temp},
    Word{"cond temp", What::condenser_middle_temp},
    Word{"cond ", What::condenser_middle_temp},
    Word{"liquid line", What::liquid_line_temp},
    Word{"liquid", What::liquid_line_temp},
    Word{"ligne liquide", What::liquid_line_temp},
    Word{"suction line", What::suction_line_temp},
    Word{"suction temp", What::suction_line_temp},
    Word{"discharge line", What::discharge_line_temp},
    Word{"discharge temp", What::discharge_line_temp},
    Word{"hot gas", What::discharge_line_temp},
    Word{"suction pressure", What::suction_pressure},
    Word{"discharge pressure", What::discharge_pressure},
    Word{"low pressure", What::suction_pressure},
    Word{"high pressure", What::discharge_pressure},
    Word{"low side", What::suction_pressure},
    Word{"high side", What::discharge_pressure},
    Word{"basse pression", What::suction_pressure},
    Word{"haute pression", What::discharge_pressure},
    Word{"baja", What::suction_pressure},
    Word{"alta", What::discharge_pressure},
    Word{"head", What::discharge_pressure},
    Word{"superheat", What::superheat},
    Word{"sobrecalentamiento", What::superheat},
    Word{"surchauffe", What::superheat},
    Word{"shell", What::shell_temp},
    Word{"dome", What::shell_temp},
    Word{"compressor temp", What::shell_temp},
    Word{"coil", What::coil_temp},
    Word{"evaporat", What::coil_temp},
    Word{"evaporad", What::coil_temp},
    Word{"vaporat", What::coil_temp},
    Word{"verdampf", What::coil_temp},
    Word{"evap", What::coil_temp},
    Word{"defrost probe", What::coil_temp},
    Word{"fin ", What::coil_temp},
    Word{"ambient", What::ambient_temp},
    Word{"ambiente", What::ambient_temp},
    Word{"ambiance", What::ambient_temp},
    Word{"room", What::ambient_temp},
    Word{"kitchen", What::ambient_temp},
    Word{"outside", What::ambient_temp},
    Word{"outdoor", What::ambient_temp},
    Word{"umgebung", What::ambient_temp},
    Word{"door", What::door},
    Word{"puerta", What::door},
    Word{"porte", What::door},
    Word{"humidity", What::other},
    Word{"energy", What::other},
    Word{"kwh", What::other},
    Word{"battery", What::other},
    Word{"rssi", What::other},
    Word{"factor", What::other},
    Word{"frequency", What::other},
    Word{"cost", What::other},
    Word{"power", What::power},
    Word{"watt", What::power},
    Word{"potencia", What::power},
    Word{"puissance", What::power},
    Word{"leistung", What::power},
    Word{"demand", What::power},
    Word{"current", What::current},
    Word{"amp", What::current},
    Word{"corriente", What::current},
    Word{"intensidad", What::current},
    Word{"courant", What::current},
    Word{"strom", What::current},
    Word{"volt", What::voltage},
    Word{"tension", What::voltage},
    Word{"spannung", What::voltage},
    Word{"suction", What::suction_pressure},
    Word{"succi", What::suction_pressure},
    Word{"aspira", What::suction_pressure},
    Word{"discharge", What::discharge_pressure},
    Word{"descarga", What::discharge_pressure},
    Word{"refoulement", What::discharge_pressure},
    Word{"box", What::box_temp},
    Word{"cabinet", What::box_temp},
    Word{"freezer", What::box_temp},
    Word{"fridge", What::box_temp},
    Word{"refrigerator", What::box_temp},
    Word{"return air", What::box_temp},
    Word{"air on", What::box_temp},
    Word{"inside", What::box_temp},
    Word{"interior", What::box_temp},
    Word{"mueble", What::box_temp},
    Word{"meuble", What::box_temp},
    Word{"product", What::box_temp},
    Word{"compartment", What::box_temp},
    Word{"comp", What::power},
    Word{" lp ", What::suction_pressure},
    Word{" hp ", What::discharge_pressure},
    Word{" bp ", What::suction_pressure},
};

/// The same place, told by its pressure or by its temperature.
What with_dimension(What what, base::Dimension dimension) {
  using base::Dimension;
  if (dimension == Dimension::temperature) {
    if (what == What::suction_pressure) return What::suction_line_temp;
    if (what == What::discharge_pressure) return What::discharge_line_temp;
    if (what == What::power) return What::shell_temp;
  }
  if (dimension == Dimension::pressure) {
    if (what == What::suction_line_temp) return What::suction_pressure;
    if (what == What::coil_temp) return What::suction_pressure;
    if (what == What::discharge_line_temp || what == What::condenser_middle_temp ||
        what == What::liquid_line_temp)
      return What::discharge_pressure;
  }
  if (dimension == Dimension::power || dimension == Dimension::current || dimension == Dimension::voltage)
    return dimension == Dimension::power     ? What::power
           : dimension == Dimension::current ? What::current
                                             : What::voltage;
  return what;
}

std::string with_blanks(std::string_view header) {
  std::string out = " ";
  char before = ' ';
  for (const char c : header) {
    const bool sign = c == '_' || c == '-' || c == '.' || c == '/' || c == '(' || c == '[' || c == ')' ||
                      c == ']' || c == ':' || c == ',';
    const bool capital = c >= 'A' && c <= 'Z' && before >= 'a' && before <= 'z';
    if (capital) out += ' ';
    out += sign ? ' ' : c;
    before = c;
  }
  return base::lower(out + " ");
}

std::optional<What> what_in(const std::string& header) {
  for (const Word& word : kHeaderWords)
    if (header.find(word.text) != std::string::npos) return word.what;
  return std::nullopt;
}

/// Which kind of quantity a unit measures, among those of traces.
std::optional<base::Dimension> dimension_of(std::string_view unit) {
  using base::Dimension;
  for (const Dimension dimension :
       {Dimension::power, Dimension::current, Dimension::voltage, Dimension::temperature, Dimension::pressure,
        Dimension::frequency, Dimension::quality})
    if (base::parse_spoken("1 " + std::string(unit), "unit", dimension)) return dimension;
  return std::nullopt;
}

bool known_unit(std::string_view unit) { return unit == "VA" || dimension_of(unit).has_value(); }

struct Spread {
  double low, mid, high;
};
Spread spread(std::vector<double> v) {
  std::sort(v.begin(), v.end());
  const auto at = [&](double q) {
    return v[static_cast<std::size_t>(q * static_cast<double>(v.size() - 1))];
  };
  return {at(0.02), at(0.5), at(0.98)};
}

const std::vector<std::string> kAnyTemperature = {"box_temp",
                                                  "coil_temp",
                                                  "ambient_temp",
                                                  "suction_line_temp",
                                                  "discharge_line_temp",
                                                  "condenser_middle_temp",
                                                  "liquid_line_temp",
                                                  "other"};

}  // namespace

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

ColumnLayout guess_number(std::string_view header, std::string_view unit, const std::vector<double>& values,
                          int column, std::vector<Question>& questions) {
  using base::Dimension;
  ColumnLayout out;
  out.header = header;
  out.unit = unit.empty() ? unit_in(header) : unit_in(unit);
  const std::string words = with_blanks(header);
  const auto named = what_in(words);
  const bool has_unit = out.unit == "VA" || (!out.unit.empty() && dimension_of(out.unit));
  const Dimension measure =
      has_unit && out.unit != "VA" ? dimension_of(out.unit).value_or(Dimension::power) : Dimension::power;
  const auto ask = [&](const char* key, std::vector<std::string> options) {
    questions.push_back({key, column, std::move(options)});
  };
  const Spread s = values.empty() ? Spread{0, 0, 0} : spread(values);
  if (named == What::door || named == What::other) {
    out.what = *named;
    out.unit.clear();
    out.confidence = 0.9;
    out.why = "header";
    return out;
  }
  if (has_unit && (measure == Dimension::frequency || measure == Dimension::quality)) {
    out.what = What::other;
    out.unit.clear();
    out.confidence = 0.9;
    out.why = "unit";
    return out;
  }
  const bool temperature_word =
      words.find(" temp") != std::string::npos || words.find(" t ") != std::string::npos;
  if (named) {
    What what = *named;
    if (has_unit || temperature_word)
      what = with_dimension(what, has_unit ? measure : Dimension::temperature);
    const auto dimension = info(what).dimension;
    if (!has_unit || !dimension || *dimension == measure ||
        (*dimension == Dimension::temperature_difference && measure == Dimension::temperature)) {
      out.what = what;
      out.confidence = has_unit ? 0.97 : 0.8;
      out.why = has_unit ? "header_and_unit" : "header";
    }
  }
  if (out.what == What::unknown && has_unit) {
    out.why = "unit";
    out.confidence = 0.6;
    if (measure == Dimension::power || measure == Dimension::current || measure == Dimension::voltage) {
      out.what = with_dimension(What::power, measure);
      out.confidence = 0.9;
    } else if (measure == Dimension::pressure) {
      out.what = What::suction_pressure;
      ask("which_pressure", {"suction_pressure", "discharge_pressure", "other"});
    } else {
      out.what = What::box_temp;
      ask("which_temperature", kAnyTemperature);
    }
  }
  if (out.what == What::unknown && temperature_word) {
    out.what = What::box_temp;
    out.confidence = 0.6;
    out.why = "header";
    ask("which_temperature", kAnyTemperature);
  }
  if (out.what == What::unknown) {
    // Without a word and a unit, only the range speaks: mains voltage, a plug's watts, an air temperature.
    out.why = "range";
    out.confidence = 0.4;
    const bool mains = s.low > 80 && s.high < 270 && s.high - s.low < 0.2 * s.mid;
    if (mains)
      out.what = What::voltage;
    else if (s.low > -3 && s.high > 25 && s.high < 20000)
      out.what = What::power;
    else if (s.low >= 0 && s.high > 0.2 && s.high < 25 && s.low < 0.5 * s.high)
      out.what = What::current;
    else if (s.low > -60 && s.high < 130 && s.high != s.low)
      out.what = What::box_temp;
    if (out.what != What::unknown)
      ask("what_is_it", {std::string(info(out.what).word), "power", "current", "voltage", "box_temp",
                         "coil_temp", "ambient_temp", "suction_pressure", "discharge_pressure", "other"});
    else
      ask("what_is_it", {"unknown", "power", "current", "voltage", "box_temp", "coil_temp", "ambient_temp",
                         "suction_pressure", "discharge_pressure", "other"});
  }
  const auto dimension = info(out.what).dimension;
  if (!dimension) {
    out.unit.clear();
    return out;
  }
  if (out.what == What::superheat && out.unit == "°C") out.unit = "K";
  if (!out.unit.empty() && scale_of(out.unit, out.what, base::sea_level)) {
    // "bar" and "psi" alone don't say against what.
    const std::string low = with_blanks(unit.empty() ? header : unit);
    const bool bare = out.unit == "psig"     ? low.find("psi ") != std::string::npos
                      : out.unit == "bar(g)" ? low.find("bar ") != std::string::npos
                                             : out.unit == "kPa(a)" || out.unit == "MPa(a)";
    if (bare && out.unit == "psig") ask("gauge_or_absolute", {"psig", "psia"});
    if (bare && out.unit == "bar(g)") ask("gauge_or_absolute", {"bar(g)", "bar(a)"});
    if (bare && out.unit == "kPa(a)") ask("gauge_or_absolute", {"kPa(a)", "kPa(g)"});
    return out;
  }
  out.confidence = std::min(out.confidence, 0.7);
  switch (*dimension) {
    case Dimension::power:
      out.unit = s.high < 6 && s.high > 0 ? "kW" : "W";
      if (out.unit == "kW") ask("which_unit", {"kW", "W"});
      break;
    case Dimension::current:
      out.unit = s.high > 60 ? "mA" : "A";
      if (out.unit == "mA") ask("which_unit", {"mA", "A"});
      break;
    case Dimension::voltage:
      out.unit = "V";
      break;
    case Dimension::temperature_difference:
      out.unit = "K";
      ask("which_unit", {"K", "°F"});
      break;
    case Dimension::temperature: {
      // 20 to 30 may be either; a cabinet's air at 38 is in °F, at -18 in °C, kelvin stand above 200.
      const bool cold = out.what == What::box_temp || out.what == What::coil_temp;
      const bool kelvin = s.low > 200 && s.high < 360;
      const bool fahrenheit = cold ? s.mid > 26 : s.mid > 55;
      out.unit = kelvin ? "K" : fahrenheit ? "°F" : "°C";
      if (!kelvin)
        ask("which_unit",
            fahrenheit ? std::vector<std::string>{"°F", "°C"} : std::vector<std::string>{"°C", "°F"});
      break;
    }
    default:
      out.unit = s.high > 35 ? "psig" : "bar(g)";
      ask("which_unit", out.unit == "psig" ? std::vector<std::string>{"psig", "psia", "kPa(a)", "bar(g)"}
                                           : std::vector<std::string>{"bar(g)", "bar(a)", "psig"});
  }
  return out;
}

}  // namespace coldwright::traces

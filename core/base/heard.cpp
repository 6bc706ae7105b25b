#include "base/heard.hpp"

#include <array>
#include <cctype>
#include <optional>
#include <utility>
#include <vector>

#include "base/text.hpp"

namespace coldwright::base {
namespace {

struct Asked {
  std::string_view typed, field;
  Dimension kind;
  std::string_view unit;  // default
  bool chosen;
  Problem either(const std::string& one, const std::string& other, std::string why) const {
    return {std::string(field), quoted(typed), one + " or " + other, std::move(why)};
  }
};

/// Where the unit begins: behind the last figure of the number.
std::size_t unit_begin(std::string_view text) {
  std::size_t i = text.find_first_of("0123456789");
  if (i == std::string_view::npos) return text.size();
  std::size_t end = i;
  for (; i < text.size(); ++i) {
    const char c = text[i];
    if (c >= '0' && c <= '9')
      end = i + 1;
    else if (std::string_view(" .,/-").find(c) == std::string_view::npos)
      break;
  }
  while (end < text.size() && (text[end] == '.' || text[end] == ',')) ++end;  // "5." and "5,"
  return end;
}

struct Parts {
  std::string number, unit;
};

Parts parts_of(std::string_view text) {
  const std::size_t at = unit_begin(text);
  Parts parts{std::string(text.substr(0, at)), std::string(text.substr(at))};
  while (!parts.number.empty() && (parts.number.back() == ',' || parts.number.back() == '.'))
    parts.number.pop_back();
  const std::size_t first = parts.unit.find_first_not_of(" \t");
  parts.unit = first == std::string::npos ? "" : parts.unit.substr(first);
  return parts;
}

/// A unit's words as they are said, to the table's spelling. Longer sayings first.
std::string table_unit(std::string unit, Dimension kind) {
  using Pair = std::pair<std::string_view, std::string_view>;
  std::string said = lower(unit);
  const std::string before = said;
  const auto apply = [&](auto& rows) {
    for (const auto& [from, to] : rows) replace_all(said, from, to);
  };
  if (kind == Dimension::pressure || kind == Dimension::pressure_difference) {
    constexpr std::array<Pair, 17> rows = {{{"pounds per square inch", "psi"},
                                            {"p.s.i.", "psi"},
                                            {"p s i", "psi"},
                                            {"psi.", "psi"},
                                            {"pounds", "psi"},
                                            {"pound", "psi"},
                                            {"lbs", "psi"},
                                            {"of vacuum", "vac"},
                                            {"of vac", "vac"},
                                            {"of mercury", "Hg"},
                                            {"of hg", "Hg"},
                                            {"inches", "in"},
                                            {"inch", "in"},
                                            {"mercury", "Hg"},
                                            {"kilopascals", "kpa"},
                                            {"kilopascal", "kpa"},
                                            {"pascals", "pa"}}};
    apply(rows);
    if (said == "lb" || said == "#") said = "psi";
    // Inches of a pressure are inches of mercury here.
    if (said == "\"" || said == "in" || said == "in.") said = "inHg";
    if (said == "in vac" || said == "in v" || said == "invac" || said == "\" vac" || said == "\"vac" ||
        said == "in vacuum")
      said = "inHg vac";
    if (said == "in abs" || said == "in absolute") said = "inHg abs";
  } else if (kind == Dimension::temperature || kind == Dimension::temperature_difference) {
    constexpr std::array<Pair, 9> rows = {{{"degrees", "°"},
                                           {"degree", "°"},
                                           {"grados", "°"},
                                           {"degrés", "°"},
                                           {"deg", "°"},
                                           {"celcius", "C"},
                                           {"celsius", "C"},
                                           {"centigrade", "C"},
                                           {"fahrenheit", "F"}}};
    apply(rows);
  } else if (kind == Dimension::length) {
    constexpr std::array<Pair, 3> rows = {
        {{"millimetres", "mm"}, {"millimeters", "mm"}, {"centimetres", "cm"}}};
    apply(rows);
  } else if (kind == Dimension::area || kind == Dimension::volume) {
    constexpr std::array<Pair, 8> rows = {{{"square metres", "m2"},
                                           {"square meters", "m2"},
                                           {"square feet", "sqft"},
                                           {"cubic metres", "m3"},
                                           {"cubic meters", "m3"},
                                           {"cubic feet", "cuft"},
                                           {"cubic inches", "cuin"},
                                           {"cubic centimetres", "cm3"}}};
    apply(rows);
  }
  return said == before ? unit : said;
}

/// The spelling as typed, or else the one that differs by the size of its letters alone. Of resistances not:
/// a small m is a thousandth, a capital a million.
std::string cased(const std::string& unit, Dimension kind) {
  if (kind == Dimension::resistance || parse_spoken("1 " + unit, "", kind)) return unit;
  for (const FieldUnit& row : field_units()) {
    if (row.dimension != kind || !row.exact_case) continue;
    std::string_view left = row.spellings;
    while (!left.empty()) {
      const std::size_t bar = left.find('|');
      const std::string word(left.substr(0, bar));
      left = bar == std::string_view::npos ? std::string_view() : left.substr(bar + 1);
      if (lower(unit).substr(0, word.size()) != lower(word)) continue;
      const std::string mended = word + unit.substr(word.size());
      const auto read = parse_spoken("1 " + mended, "", kind);
      if (read || unit.size() == word.size()) return mended;
    }
  }
  return unit;
}

/// "psi", "bar", "inHg": a pressure's unit without what it was read against.
const FieldUnit* bare_pressure_unit(std::string_view unit) {
  for (const FieldUnit& row : field_units())
    if (row.dimension == Dimension::pressure && !absolute_by_nature(row) && lower(row.symbol) == lower(unit))
      return &row;
  return nullptr;
}

Spoken gauge_or_absolute(const Spoken& of, double number, Against against) {
  Spoken out = of;
  out.number = number;
  out.against = against;
  return out;
}

/// A pressure whose unit was typed without gauge or absolute.
Result<Heard> hear_unsaid(const Asked& asked, const std::string& number, const FieldUnit& row) {
  const std::string symbol(row.symbol);
  const auto as_absolute = parse_spoken(number + " " + symbol + " abs", asked.field, asked.kind);
  const bool inches = symbol == "inHg";
  if (inches && number.find('-') == std::string::npos) {
    const auto gauge = parse_spoken(number + " " + symbol + " vac", asked.field, asked.kind);
    if (!gauge) return gauge.problem();
    const auto wanted = parse_spoken("1 " + std::string(asked.unit), asked.field, asked.kind);
    if (asked.chosen && lower(asked.unit).find("vac") != std::string::npos && wanted)
      return Heard{*gauge, canonical_text(*gauge), false, true};
    if (!as_absolute) return as_absolute.problem();
    return asked.either(canonical_text(*gauge), canonical_text(*as_absolute),
                        "inches of mercury without a sign could be vacuum or absolute");
  }
  const auto gauge = parse_spoken(number + " " + symbol + " gauge", asked.field, asked.kind);
  if (!gauge) return gauge.problem();
  if (inches) return Heard{*gauge, canonical_text(*gauge), false, false};
  const auto wanted = parse_spoken("1 " + std::string(asked.unit), asked.field, asked.kind);
  if (wanted && wanted->unit == gauge->unit) {
    const Spoken meant = gauge_or_absolute(*gauge, gauge->number, wanted->against);
    if (wanted->against == Against::absolute && !as_absolute) return as_absolute.problem();
    return Heard{meant, canonical_text(meant), false, true};
  }
  const Spoken absolute = gauge_or_absolute(*gauge, gauge->number, Against::absolute);
  return asked.either(canonical_text(*gauge), canonical_text(absolute),
                      "it doesn't say gauge or absolute, and they differ by the whole atmosphere");
}

Result<Heard> hear_number(const Asked& asked, const std::string& number) {
  const bool negative = number.find('-') != std::string::npos;
  const std::string unit(asked.unit);
  if (asked.kind == Dimension::pressure && negative) {
    if (lower(unit).find("vac") != std::string::npos) {
      const auto read = parse_spoken(number + " inHg", asked.field, asked.kind);
      if (!read) return read.problem();
      return Heard{*read, canonical_text(*read), true, false};
    }
    const auto pounds = parse_spoken(number + " psig", asked.field, asked.kind);
    const auto inches = parse_spoken(number + " inHg", asked.field, asked.kind);
    if (!asked.chosen && unit == "psig" && pounds && inches)
      return asked.either(canonical_text(*inches), canonical_text(*pounds),
                          "below the air's pressure gauges count in inches of mercury, and no unit was said");
  }
  const auto read = parse_spoken(number + " " + unit, asked.field, asked.kind);
  if (!read) {
    if (asked.kind == Dimension::pressure && lower(unit) == "inhg")
      return hear_unsaid(asked, number, *bare_pressure_unit("inHg"));
    return read.problem();
  }
  return Heard{*read, canonical_text(*read), true, false};
}

/// "1,840": a decimal or a thousands mark.
std::optional<Problem> two_readings(const Asked& asked, const Parts& parts) {
  const std::size_t comma = parts.number.find(',');
  const std::size_t first = parts.number.find_first_of("0123456789");
  if (comma == std::string::npos || first == std::string::npos || parts.number.find('.') != std::string::npos)
    return std::nullopt;
  const bool three =
      parts.number.size() - comma == 4 && parts.number.find(',', comma + 1) == std::string::npos;
  if (!three || comma - first > 3 || parts.number[first] == '0') return std::nullopt;
  std::string decimal = parts.number, thousands = parts.number;
  decimal[comma] = '.';
  thousands.erase(comma, 1);
  const std::string unit = " " + (parts.unit.empty() ? std::string(asked.unit) : parts.unit);
  return asked.either(decimal + unit, thousands + unit, "the comma could be a decimal or a thousands mark");
}

Result<Heard> hear_one(const Asked& asked, const std::string& text) {
  Parts parts = parts_of(text);
  if (auto problem = two_readings(asked, parts)) return *problem;
  const std::string unit = table_unit(parts.unit, asked.kind);
  const bool temperature =
      asked.kind == Dimension::temperature || asked.kind == Dimension::temperature_difference;
  if (unit.empty() || (temperature && unit == "°")) return hear_number(asked, parts.number);
  if (asked.kind == Dimension::pressure)
    if (const FieldUnit* row = bare_pressure_unit(cased(unit, asked.kind)))
      return hear_unsaid(asked, parts.number, *row);
  auto read = parse_spoken(parts.number + " " + cased(unit, asked.kind), asked.field, asked.kind);
  if (!read) {
    Problem problem = read.problem();
    problem.given = quoted(asked.typed);
    return problem;
  }
  return Heard{*read, canonical_text(*read), false, false};
}

/// "1 h 30 min", "2 lb 3 oz", "5 ft 6 in", "5'6": where the second number begins; none when there is one.
std::optional<std::size_t> second_number(std::string_view text, Dimension kind) {
  if (kind != Dimension::duration && kind != Dimension::mass && kind != Dimension::length)
    return std::nullopt;
  const std::size_t unit = unit_begin(text);
  const std::size_t next = text.find_first_of("0123456789", unit);
  if (next == std::string_view::npos || text.find('-') != std::string_view::npos) return std::nullopt;
  if (text.find_first_not_of(" \t", unit) == next) return std::nullopt;
  return next;
}

Result<Heard> hear_two(const Asked& asked, std::string_view text, std::size_t next) {
  auto first = hear_one(asked, std::string(text.substr(0, next)));
  if (!first) return first;
  std::string rest(text.substr(next));
  const bool feet = first->spoken.unit != nullptr && first->spoken.unit->symbol == "ft";
  const bool hours = first->spoken.unit != nullptr && first->spoken.unit->symbol == "h";
  if (parts_of(rest).unit.empty() && (feet || hours)) rest += feet ? " in" : " min";
  auto second = hear_one(asked, rest);
  if (!second) return second;
  const FieldUnit* small = second->spoken.unit;
  if (second->unit_assumed || first->unit_assumed || small == nullptr || first->spoken.unit == nullptr ||
      !(small->scale < first->spoken.unit->scale) || small->system != first->spoken.unit->system)
    return Problem{std::string(asked.field), quoted(asked.typed), std::string(allowed_forms(asked.kind)),
                   "there are two numbers in it"};
  Heard out = *second;
  out.spoken.si += first->spoken.si;
  out.spoken.number = out.spoken.si / small->scale;
  out.text = canonical_text(out.spoken);
  return out;
}

}  // namespace

std::string_view default_unit(Dimension kind, UnitSystem system) {
  const bool inch_pound = system == UnitSystem::us;
  switch (kind) {
    case Dimension::temperature:
      return inch_pound ? "°F" : "°C";
    case Dimension::temperature_difference:
      return inch_pound ? "°F" : "K";
    case Dimension::pressure:
      return inch_pound ? "psig" : "bar(g)";
    case Dimension::pressure_difference:
      return inch_pound ? "psi" : "bar";
    case Dimension::mass:
      return inch_pound ? "oz" : "g";
    case Dimension::length:
      return inch_pound ? "in" : "mm";
    case Dimension::power:
      return "W";
    case Dimension::current:
      return "A";
    case Dimension::voltage:
      return "V";
    case Dimension::resistance:
      return "ohm";
    case Dimension::duration:
      return "min";
    case Dimension::frequency:
      return "Hz";
    case Dimension::volume:
      return inch_pound ? "ft3" : "m3";
    case Dimension::area:
      return inch_pound ? "ft2" : "m2";
    case Dimension::volume_flow:
      return inch_pound ? "cfm" : "m3/h";
    case Dimension::mass_flow:
      return "g/min";
    case Dimension::specific_energy:
      return inch_pound ? "Btu/lb" : "kJ/kg";
    case Dimension::specific_entropy:
      return inch_pound ? "Btu/(lb °F)" : "kJ/(kg K)";
    case Dimension::density:
      return inch_pound ? "lb/ft3" : "kg/m3";
    case Dimension::quality:
      return "%";
  }
  return "";
}

Result<Heard> hear(std::string_view typed, std::string_view field, Dimension kind, std::string_view unit,
                   bool chosen) {
  const Asked asked{typed, field, kind, unit, chosen};
  const auto refuse = [&](std::string why) {
    return Problem{std::string(field), quoted(typed), std::string(allowed_forms(kind)), std::move(why)};
  };
  if (typed.size() > 2 * longest_spoken) return refuse("nobody speaks a quantity that long");
  if (first_invalid_utf8(typed)) return refuse("the text is not UTF-8");
  std::string text = plain_signs(typed);
  for (char& c : text)
    if (c == '\t' || c == '\r' || c == '\n') c = ' ';
  if (text.empty()) return refuse("there is nothing in it");
  text = digits_for_words(text);
  if (const auto next = second_number(text, kind)) return hear_two(asked, text, *next);
  auto heard = hear_one(asked, text);
  if (heard) return heard;
  Problem problem = heard.problem();
  problem.given = quoted(typed);
  return problem;
}

}  // namespace coldwright::base

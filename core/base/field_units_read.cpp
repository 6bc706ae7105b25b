// Reading a spoken quantity: a number, then a unit, then for a pressure what it was read against.
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string>
#include <utility>

#include "base/field_units.hpp"
#include "base/text.hpp"

namespace coldwright::base {
namespace {

struct Number {
  double value = 0;
  bool negative = false;       // as typed, so that "-0 inHg" still counts as vacuum
  std::string_view unit_text;  // what follows
};

struct Typed {
  std::string_view text;
  std::string_view field;
  std::string_view allowed;
  Problem problem(std::string why) const {
    return {std::string(field), quoted(text), std::string(allowed), std::move(why)};
  }
};

bool digit(char c) { return c >= '0' && c <= '9'; }

std::size_t skip_spaces(std::string_view s, std::size_t i) {
  while (i < s.size() && (s[i] == ' ' || s[i] == '\t')) ++i;
  return i;
}

std::size_t skip_digits(std::string_view s, std::size_t i) {
  while (i < s.size() && digit(s[i])) ++i;
  return i;
}

std::optional<double> to_double(std::string_view ascii) {
  double value = 0;
  const auto [end, error] = std::from_chars(ascii.data(), ascii.data() + ascii.size(), value);
  if (error != std::errc() || end != ascii.data() + ascii.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

/// "1/4" at `i`: its value and where it ends; none when there is no fraction.
std::optional<std::pair<double, std::size_t>> fraction_at(std::string_view s, std::size_t i) {
  const std::size_t slash = skip_digits(s, i);
  if (slash == i || slash >= s.size() || s[slash] != '/') return std::nullopt;
  const std::size_t end = skip_digits(s, slash + 1);
  if (end == slash + 1 || slash - i > 3 || end - slash > 4) return std::nullopt;
  const double top = to_double(s.substr(i, slash - i)).value_or(0);
  const double bottom = to_double(s.substr(slash + 1, end - slash - 1)).value_or(0);
  if (bottom <= 0 || top >= bottom) return std::nullopt;
  return std::pair{top / bottom, end};
}

/// Where the decimal number starting at `i` ends: digits, one decimal mark, digits, a small exponent.
std::size_t decimal_end(std::string_view s, std::size_t i) {
  while (i < s.size() && (digit(s[i]) || s[i] == '.' || s[i] == ',')) ++i;
  if (i + 1 < s.size() && (s[i] == 'e' || s[i] == 'E')) {
    const std::size_t sign = i + 1 + ((s[i + 1] == '+' || s[i + 1] == '-') ? 1U : 0U);
    const std::size_t end = skip_digits(s, sign);
    if (end > sign) return end;
  }
  return i;
}

/// "1,84" is a decimal comma; "1,840" could be either and is refused unless a leading zero settles it.
Result<double> decimal(std::string_view digits, const Typed& typed) {
  const auto marks = std::count_if(digits.begin(), digits.end(), [](char c) { return c == '.' || c == ','; });
  if (marks > 1) return typed.problem("a number has one decimal mark and no thousands marks here");
  const std::size_t comma = digits.find(',');
  if (comma != std::string_view::npos && digits.size() - comma == 4 && comma >= 1 && comma <= 3 &&
      digits[0] != '0')
    return typed.problem(
        "a comma before three digits could be a decimal or a thousands mark; use a point "
        "for decimals and leave thousands together");
  std::string with_point(digits);
  std::replace(with_point.begin(), with_point.end(), ',', '.');
  const auto value = to_double(with_point);
  if (!value) return typed.problem("that isn't a number this program can hold");
  return *value;
}

Result<Number> scan_number(std::string_view s, const Typed& typed) {
  Number number;
  std::size_t i = 0;
  if (i < s.size() && (s[i] == '-' || s[i] == '+')) {
    number.negative = s[i] == '-';
    i = skip_spaces(s, i + 1);
  }
  const std::string start = lower(s.substr(i, 3));
  if (start == "nan" || start == "inf")
    return typed.problem("that isn't a number anyone can read off an instrument");
  if (const auto fraction = fraction_at(s, i)) {
    number.value = fraction->first;
    i = fraction->second;
  } else {
    const std::size_t end = decimal_end(s, i);
    if (end == i || std::none_of(s.begin() + static_cast<std::ptrdiff_t>(i),
                                 s.begin() + static_cast<std::ptrdiff_t>(end), digit))
      return typed.problem("there is no number at its start");
    const auto value = decimal(s.substr(i, end - i), typed);
    if (!value) return value.problem();
    number.value = *value;
    const bool whole = skip_digits(s, i) == end;
    i = end;
    std::size_t next = skip_spaces(s, i);
    if (whole && next < s.size() && s[next] == '-') ++next;  // "3-1/4 oz"
    if (const auto part = fraction_at(s, next); whole && part) {
      number.value += part->first;
      i = part->second;
    }
  }
  if (std::abs(number.value) > 1e12) return typed.problem("no quantity on a cabinet is that large");
  if (number.negative) number.value = -number.value;
  number.unit_text = s.substr(skip_spaces(s, i));
  return number;
}

/// The unit without spaces, dots and brackets: "bar (g)" and "in. Hg" become "barg" and "inHg".
std::string unit_token(std::string_view text) {
  std::string out;
  for (char c : text)
    if (std::string_view(" \t.()*").find(c) == std::string_view::npos) out += c;
  return out;
}

bool starts_with(std::string_view token, std::string_view word, bool exact_case) {
  if (token.size() < word.size()) return false;
  token = token.substr(0, word.size());
  return exact_case ? token == word : lower(token) == lower(word);
}

struct Match {
  const FieldUnit* unit = nullptr;
  Against against = Against::absolute;
  bool both = false;  // says gauge and absolute at once
};

/// What follows a pressure unit: "g", "(a)", "abs", "vac". None when it is something else.
std::optional<Match> qualifier(std::string_view rest) {
  constexpr std::array<std::pair<std::string_view, Against>, 9> words = {{
      {"absolute", Against::absolute},
      {"abs", Against::absolute},
      {"a", Against::absolute},
      {"gauge", Against::gauge},
      {"gage", Against::gauge},
      {"g", Against::gauge},
      {"vacuum", Against::vacuum},
      {"vac", Against::vacuum},
      {"v", Against::vacuum},
  }};
  std::array<bool, 4> said{};
  const std::string low = lower(rest);
  for (std::string_view left = low; !left.empty();) {
    const auto word = std::find_if(words.begin(), words.end(), [&](const auto& row) {
      return left.substr(0, row.first.size()) == row.first;
    });
    if (word == words.end()) return std::nullopt;
    said[static_cast<std::size_t>(word->second)] = true;
    left.remove_prefix(word->first.size());
  }
  Match match;
  const bool absolute = said[0], gauge = said[1], vacuum = said[2];
  match.both = absolute && (gauge || vacuum);
  match.against = absolute ? Against::absolute
                  : vacuum ? Against::vacuum
                  : gauge  ? Against::gauge
                           : Against::unsaid;
  return match;
}

std::optional<Match> match_row(const FieldUnit& row, std::string_view token) {
  std::string_view left = row.spellings;
  while (!left.empty()) {
    const std::size_t bar = left.find('|');
    const std::string_view word = left.substr(0, bar);
    left = bar == std::string_view::npos ? std::string_view() : left.substr(bar + 1);
    if (!starts_with(token, word, row.exact_case)) continue;
    if (token.size() == word.size()) {
      Match match;
      match.unit = &row;
      match.against = row.dimension == Dimension::pressure ? Against::unsaid : Against::absolute;
      return match;
    }
    if (row.dimension != Dimension::pressure) continue;
    if (auto match = qualifier(token.substr(word.size()))) {
      match->unit = &row;
      return match;
    }
  }
  return std::nullopt;
}

std::optional<Match> find_unit(std::string_view token, std::optional<Dimension> wanted) {
  for (const FieldUnit& row : field_units()) {
    const bool difference =
        row.dimension == Dimension::temperature_difference || row.dimension == Dimension::pressure_difference;
    if (wanted ? row.dimension != *wanted : difference) continue;
    if (auto match = match_row(row, token)) return match;
  }
  return std::nullopt;
}

Result<Spoken> pressure_of(const Number& number, const Match& match, const Typed& typed) {
  const FieldUnit& unit = *match.unit;
  const std::string symbol(unit.symbol);
  Spoken spoken{
      Dimension::pressure, number.value * unit.scale, match.against, unit.system, number.value, &unit};
  if (match.both) return typed.problem("it says gauge and absolute at once; write one of them");
  if (spoken.against == Against::unsaid) {
    if (absolute_by_nature(unit)) {
      spoken.against = Against::absolute;
    } else if (unit.symbol == "inHg" && number.negative) {
      spoken.against = Against::gauge;
    } else if (unit.symbol == "inHg") {
      return typed.problem(
          "without a sign it could be vacuum or absolute; write \"-3 inHg\" or \"3 inHg vac\" "
          "for a vacuum, \"inHg abs\" for absolute");
    } else {
      return typed.problem(
          "it doesn't say gauge or absolute, and they differ by the whole atmosphere; write " +
          (unit.symbol == "psi" ? std::string("psig or psia") : symbol + "(g) or " + symbol + "(a)"));
    }
  }
  if (spoken.against == Against::vacuum) {
    if (number.negative)
      return typed.problem(
          "a minus sign and \"vac\" say the same thing twice; write \"-3 inHg\" or \"3 inHg vac\"");
    spoken.si = -spoken.si;
    spoken.number = -spoken.number;
    spoken.against = Against::gauge;
  }
  if (spoken.against == Against::absolute && !(spoken.si > 0))
    return typed.problem(
        "an absolute pressure is above zero; a reading below the atmosphere is gauge, such as "
        "-3 inHg or -1.5 psig");
  return spoken;
}

Result<Spoken> spoken_from(const Number& number, const Match& match, const Typed& typed) {
  const FieldUnit& unit = *match.unit;
  if (unit.dimension == Dimension::pressure) return pressure_of(number, match, typed);
  Spoken spoken{unit.dimension,    number.value * unit.scale + unit.offset,
                Against::absolute, unit.system,
                number.value,      &unit};
  if (unit.dimension == Dimension::temperature && !(spoken.si > 0))
    return typed.problem("nothing is colder than absolute zero (-459.67 °F, -273.15 °C)");
  return spoken;
}

Result<Spoken> parse(std::string_view text, std::string_view field, std::optional<Dimension> wanted) {
  const Typed typed{
      text, field,
      wanted ? allowed_forms(*wanted) : std::string_view("a number with its unit, such as 22F or 41 psig")};
  if (text.size() > longest_spoken) return typed.problem("nobody speaks a quantity that long");
  if (first_invalid_utf8(text)) return typed.problem("the text is not UTF-8");
  const std::string signs = plain_signs(text);
  if (signs.empty()) return typed.problem("there is nothing in it");
  const auto number = scan_number(signs, typed);
  if (!number) return number.problem();
  const std::string token = unit_token(number->unit_text);
  if (token.empty()) return typed.problem("the unit is missing, and it isn't guessed");
  if (const auto match = find_unit(token, wanted)) return spoken_from(*number, *match, typed);
  const auto other = find_unit(token, std::nullopt);
  if (wanted == Dimension::pressure_difference && other && other->unit->dimension == Dimension::pressure)
    return typed.problem("a pressure difference is neither gauge nor absolute");
  if (other)
    return typed.problem("that is " + std::string(spoken_name(other->unit->dimension)) + " and " +
                         std::string(spoken_name(wanted.value_or(Dimension::quality))) + " is wanted here");
  return typed.problem(quoted(number->unit_text) + " is no unit this program knows");
}

}  // namespace

bool absolute_by_nature(const FieldUnit& unit) {
  return unit.symbol == "mbar" || unit.symbol == "hPa" || unit.symbol == "Pa" || unit.symbol == "Torr" ||
         unit.symbol == "micron";
}

Result<Spoken> parse_spoken(std::string_view text, std::string_view field) {
  return parse(text, field, std::nullopt);
}

Result<Spoken> parse_spoken(std::string_view text, std::string_view field, Dimension wanted) {
  return parse(text, field, wanted);
}

Result<Temperature> parse_temperature(std::string_view text, std::string_view field) {
  const auto spoken = parse(text, field, Dimension::temperature);
  if (!spoken) return spoken.problem();
  return Temperature{spoken->si};
}

Result<TemperatureDifference> parse_temperature_difference(std::string_view text, std::string_view field) {
  const auto spoken = parse(text, field, Dimension::temperature_difference);
  if (!spoken) return spoken.problem();
  return TemperatureDifference{spoken->si};
}

Result<PressureDifference> parse_pressure_difference(std::string_view text, std::string_view field) {
  const auto spoken = parse(text, field, Dimension::pressure_difference);
  if (!spoken) return spoken.problem();
  return PressureDifference{spoken->si};
}

Result<SitePressure> parse_barometer(std::string_view text, std::string_view field) {
  const Typed typed{text, field, "the air's own pressure such as 29.5 inHg, 1000 hPa, 14.5 psia or 100 kPa"};
  const std::string signs = text.size() <= longest_spoken ? plain_signs(text) : std::string();
  const auto number = scan_number(signs, typed);
  if (number) {
    const auto match = find_unit(unit_token(number->unit_text), Dimension::pressure);
    if (match && !match->both && (match->against == Against::gauge || match->against == Against::vacuum))
      return typed.problem("a barometer reads absolute pressure, not gauge");
    if (match && match->against == Against::unsaid) {
      auto site = site_pressure_from(Pressure{number->value * match->unit->scale});
      if (site) return site;
      return Problem{std::string(field), quoted(text), site.problem().allowed, site.problem().why};
    }
  }
  const auto spoken = parse(text, field, Dimension::pressure);
  if (!spoken)
    return Problem{std::string(field), quoted(text), std::string(typed.allowed), spoken.problem().why};
  auto site = site_pressure_from(Pressure{spoken->si});
  if (site) return site;
  return Problem{std::string(field), quoted(text), site.problem().allowed, site.problem().why};
}

Result<SpokenPressure> parse_pressure(std::string_view text, std::string_view field) {
  const auto spoken = parse(text, field, Dimension::pressure);
  if (!spoken) return spoken.problem();
  if (spoken->against == Against::gauge) return SpokenPressure(GaugePressure{spoken->si});
  return SpokenPressure(Pressure{spoken->si});
}

Result<Pressure> resolve(const SpokenPressure& spoken, SitePressure site, std::string_view field,
                         std::string_view given) {
  const auto* gauge = std::get_if<GaugePressure>(&spoken);
  if (gauge == nullptr) return *std::get_if<Pressure>(&spoken);
  const Pressure absolute = to_absolute(*gauge, site);
  if (absolute.si > 0) return absolute;
  const auto bottom = [&](UnitSystem system) {
    return show(Dimension::pressure, 0, Display{system, site}, system == UnitSystem::us ? 1 : 0).text();
  };
  return Problem{std::string(field), std::string(given),
                 "above " + bottom(UnitSystem::us) + " (" + bottom(UnitSystem::metric) + ") at this site",
                 "a gauge can't read below a perfect vacuum, and the air here presses with " +
                     number_text(site.si / 1000.0, 1) + " kPa"};
}

Result<double> parse_positive(std::string_view text, std::string_view field, Dimension wanted) {
  const auto spoken = parse(text, field, wanted);
  if (!spoken) return spoken.problem();
  if (spoken->si < 0)
    return Problem{std::string(field), quoted(text), std::string(allowed_forms(wanted)),
                   "it can't be negative"};
  return spoken->si;
}

}  // namespace coldwright::base

// The one table of field units, as they are spoken in the trade: read "41 psig", "-3 inHg", "3 1/4 oz",
// "1,84 A"; write them back. Nothing is guessed: a number without a unit, "psi" without gauge or absolute,
// or a unit of another quantity is a Problem that says what would have been understood.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/quantities.hpp"
#include "base/result.hpp"

namespace coldwright::base {

enum class Dimension {
  temperature,
  temperature_difference,
  pressure,
  pressure_difference,
  mass,
  length,
  power,
  current,
  voltage,
  resistance,
  duration,
  frequency,
  volume,
  area,
  volume_flow,
  mass_flow,
  specific_energy,
  specific_entropy,
  density,
  quality,
};

enum class UnitSystem { us, metric };

/// What a pressure was read against. `vacuum` counts down from the site's air.
enum class Against { absolute, gauge, vacuum, unsaid };

/// One row of the table: si = number * scale + offset. Pressures carry no offset: what they are read
/// against is a word after the unit, kept apart.
struct FieldUnit {
  Dimension dimension;
  std::string_view symbol;     // as printed: "°F"
  std::string_view spellings;  // separated by '|', spaces, dots and brackets removed
  double scale;
  double offset = 0;
  bool exact_case = false;  // where a small or capital m means another size
  UnitSystem system = UnitSystem::metric;
};
std::span<const FieldUnit> field_units();

/// "a temperature", "a gauge or absolute pressure": for messages.
std::string_view spoken_name(Dimension dimension);
/// What may be written for it: "22F, -5C or 270 K".
std::string_view allowed_forms(Dimension dimension);

/// A number with its unit as written. For pressures `against` says how; for everything else `si` is final.
struct Spoken {
  Dimension dimension = Dimension::quality;
  double si = 0;
  Against against = Against::absolute;
  UnitSystem system = UnitSystem::metric;
  double number = 0;  // as typed, in `unit`; below the atmosphere negative, also of "3 inHg vac"
  const FieldUnit* unit = nullptr;  // the row of the table
};

/// Longest text looked at; nobody speaks a longer number.
inline constexpr std::size_t longest_spoken = 64;

/// Any known unit ("saturation" takes a temperature or a pressure). `field` is named in the Problem.
Result<Spoken> parse_spoken(std::string_view text, std::string_view field);
/// As above, of one dimension; a temperature unit is accepted for a difference when that is asked for.
Result<Spoken> parse_spoken(std::string_view text, std::string_view field, Dimension wanted);
/// "41.5 psig", "-3 inHg", "3.25 oz": what was understood, written so that it reads back as the same.
std::string canonical_text(const Spoken& spoken);
/// mbar, hPa, Pa, Torr and micron: no everyday gauge form, so alone they mean absolute.
bool absolute_by_nature(const FieldUnit& unit);

Result<Temperature> parse_temperature(std::string_view text, std::string_view field);
Result<TemperatureDifference> parse_temperature_difference(std::string_view text, std::string_view field);
Result<PressureDifference> parse_pressure_difference(std::string_view text, std::string_view field);
/// A barometer reads absolute; "29.5 inHg" and "100 kPa" are that here.
Result<SitePressure> parse_barometer(std::string_view text, std::string_view field);

using SpokenPressure = std::variant<Pressure, GaugePressure>;
Result<SpokenPressure> parse_pressure(std::string_view text, std::string_view field);
/// Absolute pressure of what was said, read at this site; refuses anything at or below a perfect vacuum.
Result<Pressure> resolve(const SpokenPressure& spoken, SitePressure site, std::string_view field,
                         std::string_view given);

/// A quantity that can't be negative: mass, length (but altitude), power, current, voltage, ...
Result<double> parse_positive(std::string_view text, std::string_view field, Dimension wanted);

// --- writing ---

/// How a language writes numbers: "31.5 psig", in Spanish and French "31,5 psig" with a space that doesn't
/// break. Both are texts that stand for ever, such as literals.
struct Numerals {
  std::string_view decimal = ".";
  std::string_view gap = " ";  // between number and unit
};

/// Fixed decimals, never "-0.0".
std::string number_text(double value, int decimals, const Numerals& numerals = {});

/// A quantity in the unit it is spoken in.
struct Shown {
  double value = 0;
  std::string unit;
  int decimals = 0;
  Numerals numerals = {};
  std::string number() const;  // "31.5"
  std::string text() const;    // "31.5 psig"
};

/// How a reader wants numbers: the system, and the air their gauge reads against.
struct Display {
  UnitSystem system = UnitSystem::us;
  SitePressure site = sea_level;
  Numerals numerals = {};
};

/// `extra` adds decimals where a table wants more than a sentence. Pressure is absolute Pa and is shown as a
/// gauge would: "31.5 psig", below the air's pressure "-3.0 inHg"; metric "2.17 bar(g)".
Shown show(Dimension dimension, double si, const Display& display, int extra = 0);
/// The same pressure read against nothing: "46.2 psia", "3.19 bar(a)".
Shown show_absolute(Pressure pressure, const Display& display, int extra = 0);
/// As a vacuum gauge shows it: "500 micron", "0.67 mbar".
Shown show_vacuum(Pressure pressure, const Display& display);

/// The number of another amount in the unit of `like`, which show() or show_vacuum() gave.
double in_same_unit(const Shown& like, Dimension dimension, double si, const Display& display);

/// The same amount in every unit of its kind, pressures against the site's air and against nothing; five
/// significant digits. A pressure is absolute Pa.
std::vector<Shown> in_every_unit(Dimension dimension, double si, const Display& display);

}  // namespace coldwright::base

// Writing quantities back the way they are spoken, with the digits an instrument carries.
#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/field_units.hpp"

namespace coldwright::base {
namespace {

struct Form {
  std::string_view symbol;
  int decimals;
};

/// Unit and decimals by system. Where size decides (oz or lb, g or kg), it decides here.
Form form_of(Dimension dimension, double si, UnitSystem system) {
  const bool us = system == UnitSystem::us;
  switch (dimension) {
    case Dimension::temperature:
      return us ? Form{"°F", 1} : Form{"°C", 1};
    case Dimension::temperature_difference:
      return us ? Form{"°F", 1} : Form{"K", 1};
    case Dimension::pressure:
      return us ? Form{"psi", 1} : Form{"bar", 2};
    case Dimension::pressure_difference:
      return us ? Form{"psi", 1} : Form{"bar", 2};
    case Dimension::mass:
      if (us) return std::abs(si) < 1.0 ? Form{"oz", 2} : Form{"lb", 2};
      return std::abs(si) < 1.0 ? Form{"g", std::abs(si) < 0.01 ? 1 : 0} : Form{"kg", 2};
    case Dimension::length:
      // A bore in inches or millimetres, a tube's or a room's length in feet or metres.
      if (std::abs(si) < 0.1) return us ? Form{"in", 3} : Form{"mm", 1};
      return {us ? "ft" : "m", std::abs(si) < 1.0 ? 1 : 0};
    case Dimension::power:
      return us ? Form{"Btu/h", 0} : Form{"W", 0};
    case Dimension::current:
      return {"A", 2};
    case Dimension::voltage:
      return {"V", 0};
    case Dimension::resistance:
      if (std::abs(si) >= 1e5) return {"Mohm", 1};
      return std::abs(si) >= 1e3 ? Form{"kohm", 1} : Form{"ohm", 1};
    case Dimension::duration:
      if (std::abs(si) < 120) return {"s", 0};
      return std::abs(si) < 2 * 3600 ? Form{"min", 0} : Form{"h", 1};
    case Dimension::frequency:
      return {"Hz", 0};
    case Dimension::volume:
      if (us) return std::abs(si) < 0.01 ? Form{"in3", 2} : Form{"ft3", si < 1 ? 1 : 0};
      return std::abs(si) < 0.01 ? Form{"cm3", 1} : Form{"m3", 1};
    case Dimension::area:
      return us ? Form{"ft2", 0} : Form{"m2", 1};
    case Dimension::volume_flow:
      return us ? Form{"cfm", 0} : Form{"m3/h", 0};
    case Dimension::mass_flow:
      // A leak is spoken of by the year, a flow through a tube by the minute.
      if (std::abs(si) < 1e-6) return us ? Form{"oz/yr", 2} : Form{"g/yr", 1};
      return us ? Form{"oz/min", 2} : Form{"g/min", 1};
    case Dimension::specific_energy:
      return us ? Form{"Btu/lb", 2} : Form{"kJ/kg", 1};
    case Dimension::specific_entropy:
      return us ? Form{"Btu/(lb °F)", 4} : Form{"kJ/(kg K)", 3};
    case Dimension::density:
      return us ? Form{"lb/ft3", 3} : Form{"kg/m3", 2};
    case Dimension::quality:
      return {"%", 0};
  }
  return {"", 2};
}

const FieldUnit* unit_row(Dimension dimension, std::string_view symbol) {
  for (const FieldUnit& row : field_units())
    if (row.dimension == dimension && row.symbol == symbol) return &row;
  return nullptr;
}

double in_unit(Dimension dimension, std::string_view symbol, double si) {
  const FieldUnit* row = unit_row(dimension, symbol);
  return row == nullptr ? si : (si - row->offset) / row->scale;
}

Shown show_gauge(double absolute, const Display& display, int extra) {
  const double gauge = absolute - display.site.si;
  if (display.system == UnitSystem::metric)
    return {in_unit(Dimension::pressure, "bar", gauge), "bar(g)", 2 + extra, display.numerals};
  const Shown above{in_unit(Dimension::pressure, "psi", gauge), "psig", 1 + extra, display.numerals};
  // A gauge in inches of mercury below the atmosphere: the compound gauge's own scale.
  if (above.value >= 0 || number_text(above.value, above.decimals).front() != '-') return above;
  return {in_unit(Dimension::pressure, "inHg", gauge), "inHg", 1 + extra, display.numerals};
}

}  // namespace

std::string number_text(double value, int decimals, const Numerals& numerals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  if (const std::size_t point = text.find('.'); point != std::string::npos)
    text.replace(point, 1, numerals.decimal);
  return text;
}

std::string Shown::number() const { return number_text(value, decimals, numerals); }

std::string Shown::text() const {
  return unit.empty() ? number() : number().append(numerals.gap).append(unit);
}

Shown show(Dimension dimension, double si, const Display& display, int extra) {
  if (dimension == Dimension::pressure) return show_gauge(si, display, extra);
  const Form form = form_of(dimension, si, display.system);
  return {in_unit(dimension, form.symbol, si), std::string(form.symbol), form.decimals + extra,
          display.numerals};
}

Shown show_absolute(Pressure pressure, const Display& display, int extra) {
  if (display.system == UnitSystem::metric)
    return {in_unit(Dimension::pressure, "bar", pressure.si), "bar(a)", 2 + extra, display.numerals};
  return {in_unit(Dimension::pressure, "psi", pressure.si), "psia", 1 + extra, display.numerals};
}

Shown show_vacuum(Pressure pressure, const Display& display) {
  const bool us = display.system == UnitSystem::us;
  const std::string_view symbol = us ? "micron" : "mbar";
  const double value = in_unit(Dimension::pressure, symbol, pressure.si);
  const int decimals = us ? (value < 10 ? 1 : 0) : value < 0.1 ? 3 : value < 10 ? 2 : 0;
  return {value, std::string(symbol), decimals, display.numerals};
}

double in_same_unit(const Shown& like, Dimension dimension, double si, const Display& display) {
  const bool gauge = dimension == Dimension::pressure && unit_row(dimension, like.unit) == nullptr;
  if (like.unit == "psig") return in_unit(dimension, "psi", si - display.site.si);
  if (gauge) return in_unit(dimension, "bar", si - display.site.si);
  const bool compound = dimension == Dimension::pressure && like.unit == "inHg";
  return in_unit(dimension, like.unit, compound ? si - display.site.si : si);
}

namespace {

/// Enough for five significant digits, never a sixth behind the point that nobody reads.
int digits_for(double value) {
  if (value == 0) return 1;
  return std::clamp(4 - static_cast<int>(std::floor(std::log10(std::abs(value)))), 0, 6);
}

std::string against_text(const FieldUnit& unit, Against against) {
  const std::string symbol(unit.symbol);
  const bool gauge = against != Against::absolute;
  if (symbol == "psi") return gauge ? "psig" : "psia";
  if (symbol == "inHg") return gauge ? "inHg" : "inHg abs";
  if (!gauge && absolute_by_nature(unit)) return symbol;
  return symbol + (gauge ? "(g)" : "(a)");
}

}  // namespace

std::string canonical_text(const Spoken& spoken) {
  std::string number = fmt::format("{:.9g}", spoken.number);
  if (number == "-0") number = "0";
  if (spoken.unit == nullptr) return number;
  if (spoken.dimension != Dimension::pressure) return number + " " + std::string(spoken.unit->symbol);
  std::string unit = against_text(*spoken.unit, spoken.against);
  // "3 inHg" could be either; a positive gauge reading in inches of mercury says so.
  if (unit == "inHg" && spoken.number >= 0) unit = "inHg gauge";
  return number + " " + unit;
}

std::vector<Shown> in_every_unit(Dimension dimension, double si, const Display& display) {
  std::vector<Shown> out;
  const auto add = [&](double value, std::string unit) {
    out.push_back({value, std::move(unit), digits_for(value), display.numerals});
  };
  for (const FieldUnit& row : field_units()) {
    if (row.dimension != dimension) continue;
    if (dimension != Dimension::pressure) {
      add((si - row.offset) / row.scale, std::string(row.symbol));
      continue;
    }
    // Inches of mercury on a gauge are those of vacuum.
    const double gauge = si - display.site.si;
    if (!absolute_by_nature(row) && (row.symbol != "inHg" || gauge <= 0))
      add(gauge / row.scale, against_text(row, Against::gauge));
    add(si / row.scale, against_text(row, Against::absolute));
  }
  return out;
}

}  // namespace coldwright::base

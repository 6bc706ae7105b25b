// The table itself. Factors: NIST Special Publication 811 [thompson2008, appendix B]; exact where the
// unit is defined so.
#include <array>

#include "base/field_units.hpp"

namespace coldwright::base {
namespace {

using enum Dimension;
constexpr UnitSystem us = UnitSystem::us;

constexpr double psi = 6894.757293168361;  // Pa, lbf/in2
constexpr double inHg = 3386.388640341;    // Pa, mercury at 0 C, conventional (25.4 mmHg)
constexpr double torr = 101325.0 / 760.0;  // Pa
constexpr double pound = 0.45359237;       // kg, exact
constexpr double foot = 0.3048;            // m, exact
constexpr double btu = 1055.05585262;      // J, International Table
constexpr double fahrenheit = 5.0 / 9.0;   // K
constexpr double year = 365.25 * 86400;    // s, Julian

constexpr std::array kTable = {
    FieldUnit{temperature, "°F", "°F|F|degF|deg F|fahrenheit", fahrenheit, 459.67 * fahrenheit, false, us},
    FieldUnit{temperature, "°C", "°C|C|degC|celsius", 1, 273.15},
    FieldUnit{temperature, "K", "K|kelvin", 1},
    FieldUnit{temperature_difference, "°F", "°F|F|degF|F°|fahrenheit", fahrenheit, 0, false, us},
    FieldUnit{temperature_difference, "K", "K|°C|C|degC|C°|celsius|kelvin", 1},

    FieldUnit{pressure, "psi", "psi|lb/in2", psi, 0, false, us},
    FieldUnit{pressure, "inHg", "inHg|inchHg|inchesHg|\"Hg", inHg, 0, false, us},
    FieldUnit{pressure, "bar", "bar", 1e5},
    FieldUnit{pressure, "mbar", "mbar|millibar", 100},
    FieldUnit{pressure, "hPa", "hPa", 100},
    FieldUnit{pressure, "kPa", "kPa", 1e3},
    FieldUnit{pressure, "MPa", "MPa", 1e6, 0, true},
    FieldUnit{pressure, "Pa", "Pa", 1, 0, true},
    FieldUnit{pressure, "Torr", "Torr|mmHg", torr},
    FieldUnit{pressure, "kgf/cm2", "kgf/cm2|kg/cm2|kgf/cm²|kg/cm²", 98066.5},
    FieldUnit{pressure, "micron", "microns|micron|µmHg|umHg", torr / 1000.0, 0, false, us},
    FieldUnit{pressure_difference, "psi", "psi", psi, 0, false, us},
    FieldUnit{pressure_difference, "inHg", "inHg", inHg, 0, false, us},
    FieldUnit{pressure_difference, "bar", "bar", 1e5},
    FieldUnit{pressure_difference, "mbar", "mbar", 100},
    FieldUnit{pressure_difference, "kPa", "kPa", 1e3},
    FieldUnit{pressure_difference, "MPa", "MPa", 1e6, 0, true},
    FieldUnit{pressure_difference, "Pa", "Pa", 1, 0, true},

    FieldUnit{mass, "oz", "oz|ounce|ounces", pound / 16.0, 0, false, us},
    FieldUnit{mass, "lb", "lb|lbs|pound|pounds", pound, 0, false, us},
    FieldUnit{mass, "g", "g|gram|grams|gr", 1e-3},
    FieldUnit{mass, "kg", "kg", 1},

    FieldUnit{length, "in", "in|inch|inches|\"", 0.0254, 0, false, us},
    FieldUnit{length, "ft", "ft|foot|feet|'", 0.3048, 0, false, us},
    FieldUnit{length, "mm", "mm", 1e-3, 0, true},
    FieldUnit{length, "cm", "cm", 1e-2},
    FieldUnit{length, "m", "m|metre|metres|meter|meters", 1, 0, true},
    FieldUnit{length, "km", "km", 1e3},

    FieldUnit{power, "W", "W|watt|watts", 1},
    FieldUnit{power, "kW", "kW", 1e3},
    FieldUnit{power, "Btu/h", "Btu/h|Btuh|Btu/hr", btu / 3600.0, 0, false, us},
    FieldUnit{power, "hp", "hp", 745.6998715822702, 0, false, us},

    FieldUnit{current, "A", "A|amp|amps|ampere|amperes", 1},
    FieldUnit{current, "mA", "mA", 1e-3, 0, true},
    FieldUnit{voltage, "V", "V|volt|volts|VAC", 1},
    FieldUnit{resistance, "ohm", "ohm|ohms|Ω", 1},
    FieldUnit{resistance, "kohm", "kohm|kohms|kΩ", 1e3},
    FieldUnit{resistance, "Mohm", "Mohm|MΩ", 1e6, 0, true},

    FieldUnit{duration, "min", "min|mins|minute|minutes", 60},
    FieldUnit{duration, "h", "h|hr|hrs|hour|hours", 3600},
    FieldUnit{duration, "s", "s|sec|secs|second|seconds", 1},
    FieldUnit{frequency, "Hz", "Hz", 1},
    FieldUnit{volume, "cm3", "cm3|cc|cm³|ml", 1e-6},
    FieldUnit{volume, "in3", "in3|cuin|in³", 1.6387064e-5, 0, false, us},
    FieldUnit{volume, "L", "L|litre|litres|liter|liters", 1e-3},
    FieldUnit{volume, "ft3", "ft3|cuft|ft³", foot* foot* foot, 0, false, us},
    FieldUnit{volume, "m3", "m3|m³", 1, 0, true},
    FieldUnit{area, "ft2", "ft2|sqft|ft²", foot* foot, 0, false, us},
    FieldUnit{area, "in2", "in2|sqin|in²", 0.0254 * 0.0254, 0, false, us},
    FieldUnit{area, "m2", "m2|m²|sqm", 1, 0, true},
    FieldUnit{area, "cm2", "cm2|cm²", 1e-4},
    FieldUnit{volume_flow, "cfm", "cfm|ft3/min|ft³/min", foot* foot* foot / 60.0, 0, false, us},
    FieldUnit{volume_flow, "m3/h", "m3/h|m³/h", 1.0 / 3600.0},
    FieldUnit{volume_flow, "L/s", "L/s", 1e-3},
    FieldUnit{volume_flow, "L/min", "L/min|lpm", 1e-3 / 60.0},

    FieldUnit{mass_flow, "g/min", "g/min|gram/min|grams per minute", 1e-3 / 60.0},
    FieldUnit{mass_flow, "oz/min", "oz/min|ounces per minute", pound / 16.0 / 60.0, 0, false, us},
    FieldUnit{mass_flow, "kg/h", "kg/h|kg/hr", 1.0 / 3600.0},
    FieldUnit{mass_flow, "lb/h", "lb/h|lb/hr|lbs/h", pound / 3600.0, 0, false, us},
    FieldUnit{mass_flow, "g/s", "g/s", 1e-3},
    FieldUnit{mass_flow, "g/yr", "g/yr|g/year|g/a|grams per year|grams a year", 1e-3 / year},
    FieldUnit{mass_flow, "oz/yr", "oz/yr|oz/year|ounces per year|ounces a year", pound / 16.0 / year, 0,
              false, us},

    FieldUnit{specific_energy, "kJ/kg", "kJ/kg", 1e3},
    FieldUnit{specific_energy, "Btu/lb", "Btu/lb", 2326, 0, false, us},
    FieldUnit{specific_entropy, "kJ/(kg K)", "kJ/kgK|kJ/kg/K", 1e3},
    FieldUnit{specific_entropy, "Btu/(lb °F)", "Btu/lb°F|Btu/lbF|Btu/lbR|Btu/lb/F", 4186.8, 0, false, us},
    FieldUnit{density, "kg/m3", "kg/m3|kg/m³", 1},
    FieldUnit{density, "lb/ft3", "lb/ft3|lb/ft³", pound / (0.3048 * 0.3048 * 0.3048), 0, false, us},
    FieldUnit{quality, "%", "%|percent", 0.01},
};

}  // namespace

std::span<const FieldUnit> field_units() { return kTable; }

std::string_view spoken_name(Dimension dimension) {
  switch (dimension) {
    case temperature:
      return "a temperature";
    case temperature_difference:
      return "a temperature difference";
    case pressure:
      return "a pressure";
    case pressure_difference:
      return "a pressure difference";
    case mass:
      return "a mass";
    case length:
      return "a length";
    case power:
      return "a power";
    case current:
      return "a current";
    case voltage:
      return "a voltage";
    case resistance:
      return "a resistance";
    case duration:
      return "a time";
    case frequency:
      return "a frequency";
    case volume:
      return "a volume";
    case area:
      return "an area";
    case volume_flow:
      return "a volume flow";
    case mass_flow:
      return "a mass flow";
    case specific_energy:
      return "an enthalpy";
    case specific_entropy:
      return "an entropy";
    case density:
      return "a density";
    case quality:
      return "a share";
  }
  return "a quantity";
}

std::string_view allowed_forms(Dimension dimension) {
  switch (dimension) {
    case temperature:
      return "a temperature such as 22F, -5C or 268.15 K";
    case temperature_difference:
      return "a difference such as 9 F, 5 C or 5 K";
    case pressure:
      return "a pressure such as 41 psig, -3 inHg, 2.8 barg, 55.7 psia, 3.8 bara or 384 kPa(a)";
    case pressure_difference:
      return "a difference such as 0.5 psi, 0.03 bar or 3 kPa, without g or a";
    case mass:
      return "a mass such as 3.2 oz, 3 1/4 oz, 90 g, 0.2 lb or 0.09 kg";
    case length:
      return "a length such as 5000 ft, 1500 m, 0.031 in or 0.8 mm";
    case power:
      return "a power such as 180 W, 0.18 kW or 600 Btu/h";
    case current:
      return "a current such as 1.84 A";
    case voltage:
      return "a voltage such as 115 V";
    case resistance:
      return "a resistance such as 4.6 ohm, 1.2 kohm, or OL when the meter shows open";
    case duration:
      return "a time such as 25 min or 1.5 h";
    case frequency:
      return "a frequency such as 60 Hz";
    case volume:
      return "a volume such as 5.2 cm3, 0.32 in3, 30 m3 or 1060 ft3";
    case area:
      return "an area such as 12 m2 or 130 ft2";
    case volume_flow:
      return "a volume flow such as 60 cfm, 100 m3/h or 28 L/s";
    case mass_flow:
      return "a mass flow such as 12 g/min, 0.4 oz/min, or 5 g/yr of a leak";
    case specific_energy:
      return "an enthalpy such as 570 kJ/kg or 245 Btu/lb";
    case specific_entropy:
      return "an entropy such as 2.4 kJ/(kg K) or 0.57 Btu/(lb F)";
    case density:
      return "a density such as 9.5 kg/m3 or 0.6 lb/ft3";
    case quality:
      return "a share of vapour such as 20 %";
  }
  return "a number with its unit";
}

}  // namespace coldwright::base

// The pressure of the air a gauge is read in.
#include "base/quantities.hpp"

#include <cmath>

#include "base/field_units.hpp"

namespace coldwright::base {

Result<SitePressure> site_pressure_at(Length altitude) {
  if (!(altitude.si >= -500.0 && altitude.si <= 6000.0))
    return Problem{"altitude", number_text(altitude.si, 0) + " m", "-500 m to 6000 m (-1640 ft to 19685 ft)",
                   "no cabinet stands outside that, and the standard atmosphere is used only there"};
  // p = p0 (1 - beta H / T0)^(g0 / (R beta)), ISO 2533:1975, troposphere [iso2533]:
  // p0 = 101325 Pa, T0 = 288.15 K, beta = 6.5 K/km, g0 = 9.80665 m/s2, R = 287.05287 J/(kg K).
  constexpr double beta = 0.0065;
  constexpr double exponent = 9.80665 / (287.05287 * beta);
  return SitePressure{101325.0 * std::pow(1.0 - beta * altitude.si / 288.15, exponent)};
}

Result<SitePressure> site_pressure_from(Pressure barometer) {
  if (!(barometer.si >= 45e3 && barometer.si <= 110e3))
    return Problem{"barometer", number_text(barometer.si / 1000.0, 1) + " kPa absolute",
                   "45 kPa to 110 kPa absolute (13.3 to 32.5 inHg)",
                   "no weather and no inhabited height gives air outside that"};
  return SitePressure{barometer.si};
}

}  // namespace coldwright::base

// Quantities that must not be mixed, as distinct types: a temperature isn't a temperature difference, and a
// gauge pressure becomes absolute only with the pressure of the air it was read in. SI inside, always.
#pragma once

#include <compare>

#include "base/result.hpp"

namespace coldwright::base {

/// A number of one kind. `si` is its value in the kind's SI unit, named beside each alias below.
template <class Kind>
struct Amount {
  double si = 0;
  friend constexpr auto operator<=>(Amount, Amount) = default;
};

namespace kind {
// clang-format off
struct temperature {}; struct temperature_difference {};
struct pressure {}; struct gauge_pressure {}; struct site_pressure {}; struct pressure_difference {};
struct mass {}; struct length {}; struct power {}; struct current {}; struct voltage {};
struct resistance {}; struct duration {}; struct frequency {}; struct volume {};
struct specific_energy {}; struct specific_entropy {}; struct density {}; struct quality {};
// clang-format on
}  // namespace kind

using Temperature = Amount<kind::temperature>;                       // K
using TemperatureDifference = Amount<kind::temperature_difference>;  // K
using Pressure = Amount<kind::pressure>;                             // Pa, absolute
using GaugePressure = Amount<kind::gauge_pressure>;                  // Pa above the air outside the gauge
using SitePressure = Amount<kind::site_pressure>;                    // Pa, absolute, of that air
using PressureDifference = Amount<kind::pressure_difference>;        // Pa
using Mass = Amount<kind::mass>;                                     // kg
using Length = Amount<kind::length>;                                 // m
using Power = Amount<kind::power>;                                   // W
using Current = Amount<kind::current>;                               // A
using Voltage = Amount<kind::voltage>;                               // V
using Resistance = Amount<kind::resistance>;                         // ohm
using Duration = Amount<kind::duration>;                             // s
using Frequency = Amount<kind::frequency>;                           // Hz
using Volume = Amount<kind::volume>;                                 // m3
using SpecificEnergy = Amount<kind::specific_energy>;                // J/kg
using SpecificEntropy = Amount<kind::specific_entropy>;              // J/(kg K)
using Density = Amount<kind::density>;                               // kg/m3
using Quality = Amount<kind::quality>;                               // kg vapour / kg

constexpr TemperatureDifference operator-(Temperature a, Temperature b) { return {a.si - b.si}; }
constexpr Temperature operator+(Temperature a, TemperatureDifference b) { return {a.si + b.si}; }
constexpr PressureDifference operator-(Pressure a, Pressure b) { return {a.si - b.si}; }
constexpr Pressure operator+(Pressure a, PressureDifference b) { return {a.si + b.si}; }

constexpr Pressure to_absolute(GaugePressure p, SitePressure site) { return {p.si + site.si}; }
constexpr GaugePressure to_gauge(Pressure p, SitePressure site) { return {p.si - site.si}; }

/// The standard atmosphere at sea level: what a gauge reads against when nobody says otherwise.
inline constexpr SitePressure sea_level{101325.0};

/// Air pressure at an altitude by the standard atmosphere. Domain -500..6000 m.
Result<SitePressure> site_pressure_at(Length altitude);

/// A barometer's reading as a site pressure. Domain 45..110 kPa: from above the highest road to the lowest
/// shore.
Result<SitePressure> site_pressure_from(Pressure barometer);

}  // namespace coldwright::base

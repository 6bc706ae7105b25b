// A trace of something a detector smells in the nitrogen of a leak search: how much so that no dilution with
// air can burn, how many grams that is, and which leak it still shows.
//
// Burning   thinned with air the fuel is at f x and the oxygen at 0.21 (1 - f). Nothing burns where the
//           oxygen is below its limit L while the fuel is still above its lower limit l:
//             x <= l / (1 - L/0.21).
//           The flammable region's tip holds more fuel than l, so this is on the cautious side.
// Filling   each gas at its own partial pressure by its own equation of state (Dalton), the trace below its
//           dew point at the coldest wall.
// Showing   what a leak passes: viscous, Q ~ (p1^2 - p2^2)/mu of the mixture [roth1990, Chapter 3], its
//           viscosity by [wilke1950]; or molecular, each gas alone by its own partial pressure.
#pragma once

#include "base/result.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::procedures {

/// Largest mole fraction of a fuel in nitrogen that burns at no dilution with air: `lower_limit` and
/// `oxygen_limit` as mole fractions in air and of oxygen. 1 where the oxygen limit doesn't bind.
double largest_fuel_share(double lower_limit, double oxygen_limit);

struct Filling {
  double trace;           // kg of refrigerant
  double nitrogen;        // kg
  double first_pressure;  // Pa absolute, of the trace alone, before the nitrogen
  double mass_share;      // of the refrigerant in the mixture
  double dew_at_coldest;  // Pa at which the trace would condense there
};
/// A volume (m3) evacuated and filled at T (K) with a trace of mole fraction `share`, to p (Pa) in all.
/// Problem when the trace would come nearer to condensing at the coldest wall than four fifths of its dew
/// pressure, or the share isn't above zero and below one.
Result<Filling> fill_with_trace(const fluids::Fluid& trace, const fluids::Fluid& nitrogen, double volume,
                                double T, double coldest, double p, double share);

/// Viscosity (Pa s) of a thin mixture of two gases, y the mole fraction of the second [wilke1950].
double mixed_viscosity(double mu_1, double M_1, double mu_2, double M_2, double y);

struct Shown {
  double viscous, molecular;  // of service leaks, in the unit that the detector's threshold came in
};
/// The leak of refrigerant in service (vapour at p_service, T) whose trace at test pressure p_test just gives
/// a detector its threshold `smallest` (a mass flow of that refrigerant).
Result<Shown> smallest_shown(const fluids::Fluid& trace, const fluids::Fluid& nitrogen, double share,
                             double smallest, double p_test, double p_service, double p_air, double T);

/// kg/s of refrigerant in service that the same hole lets out which gives `sampled` (m3/s of air drawn in)
/// the mole fraction `seen` of hydrogen from forming gas with `share` hydrogen.
struct HydrogenShown {
  double viscous, molecular;  // kg/s
};
Result<HydrogenShown> hydrogen_shown(const fluids::Fluid& refrigerant, const fluids::Fluid& nitrogen,
                                     double share, double seen, double sampled, double p_test,
                                     double p_service, double p_air, double T);

/// m/s at which a probe may pass: over the width that it draws from at `distance` (m), tip `tip` (m) wide,
/// a first-order detector with this 90 % response time (s) must reach its threshold from a leak `margin`
/// times as large. Half spreading angle of a round jet 11.8 degrees [pope2000, from memory].
double probe_speed(double response, double tip, double distance, double margin);

/// How large leaks are before anything is known: lognormal, kg/a.
struct LeakSizes {
  double median, ratio;  // kg/a, one standard deviation as a factor
};
/// Of installed systems: 57 % of leaks below 5 g/a and 96 % below 500 g/a, as a test house counted.
LeakSizes usual_leaks();

struct ClearResult {
  double before;     // probability that a leak above the size is there, before the search
  double after;      // and once the search found none
  double any_after;  // that any leak is there
};
/// `prior` that there is a leak at all; `smallest` (kg/a) is found half of the time where the probe passes,
/// twice that nearly always (spread of half a natural unit, our estimate); `covered` the share of joints
/// searched as they should be; `above` (kg/a) the size asked about.
ClearResult clear_result(double prior, const LeakSizes& sizes, double smallest, double covered, double above);

}  // namespace coldwright::procedures

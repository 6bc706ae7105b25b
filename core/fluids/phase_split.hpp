// Liquid and vapour of a blend in equilibrium, by Newton's method in the partial densities of both phases
// [deiters2012]: no density is searched inside, and dilute components are no harder than others.
#pragma once

#include "fluids/mixture.hpp"

namespace coldwright::fluids {

struct PhaseSplit {
  double T = 0, p = 0;     // K, Pa
  Amounts liquid, vapour;  // partial molar densities, mol/m3
  bool converged = false;
  int iterations = 0;
};

/// What is given besides the overall composition (mass fractions) and the vapour's share of the mass:
/// 0 is the bubble point, 1 the dew point.
struct SplitQuestion {
  Amounts mass_fractions;
  double quality = 0;
  bool at_pressure = false;  // else at temperature
  double value = 0;          // Pa or K
};

/// From a start near enough; a few iterations of some microseconds. Not converged means only that: the start
/// was too far, or there are no two phases.
PhaseSplit split_from(const Mixture& mixture, const SplitQuestion& question, PhaseSplit start);

/// From nothing, at a temperature: an ideal start where it serves, else followed there from one where it
/// does. To be used for compositions without fitted curves; up to about 0.99 of the critical temperature.
PhaseSplit split_at_temperature(const Mixture& mixture, const Amounts& mass_fractions, double quality,
                                double T);
/// The same at a pressure.
PhaseSplit split_at_pressure(const Mixture& mixture, const Amounts& mass_fractions, double quality, double p);

/// Mole fractions of partial densities, mass fractions of mole fractions, and back.
Amounts fractions(const Amounts& amounts);
Amounts by_mass(const Mixture& mixture, const Amounts& moles);
Amounts by_moles(const Mixture& mixture, const Amounts& masses);

}  // namespace coldwright::fluids

// The critical point of a mixture at one composition: where the surface of stability has an inflection in its
// own weakest direction [heidemann1980].
#pragma once

#include "fluids/mixture.hpp"

namespace coldwright::fluids {

struct MixtureCriticalPoint {
  double T = 0, p = 0, rho = 0;  // K, Pa, mol/m3
  bool converged = false;
};

/// To about a part in 1e7. Slow (some milliseconds): for tools that fit curves.
MixtureCriticalPoint critical_point(const Mixture& mixture, const Amounts& mole_fractions);

}  // namespace coldwright::fluids

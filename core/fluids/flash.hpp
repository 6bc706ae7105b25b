// The state at a pressure and an enthalpy or entropy.
#pragma once

#include "base/result.hpp"
#include "fluids/equation.hpp"

namespace coldwright::fluids {

enum class Caloric2nd { enthalpy, entropy };

/// Precondition: 0 < p <= p_max and `value` finite. Below the critical pressure the saturated values
/// decide the phase; then T is found on its branch, where h and s increase with it (cp > 0).
Result<State> at_pressure(const Equation& equation, double p, Caloric2nd kind, double value);

}  // namespace coldwright::fluids

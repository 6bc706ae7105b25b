// Joins the transport by scaling to a refrigerant's equation of state: residual entropy, ideal heat
// capacities and the closeness of the critical point, of a pure fluid or a blend.
#pragma once

#include "fluids/equation.hpp"

namespace coldwright::fluids {

/// Preconditions: data().scaling is set; the state is one phase of this fluid.
Result<Transport> scaled_transport(const Equation& equation, const State& state);

/// Between the phases at T; of a blend between its bubble point's liquid and vapour.
Result<double> scaled_tension(const Equation& equation, double T);

}  // namespace coldwright::fluids

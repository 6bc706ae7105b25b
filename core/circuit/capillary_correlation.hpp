// The generalised dimensionless correlation for adiabatic capillary tubes [wolf1995] (coefficients recalled
// from memory and verified against a published worked example: R134a, 1.1 mm x 3 m, 1.4 MPa, 15 K subcooled
// gives 15.12 kg/h). Stated agreement with data about +-10..15 %; for choked, adiabatic tubes.
#pragma once

#include "base/result.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::circuit {

/// Mass flow, kg/s. `p_in` Pa absolute; `subcooling` K > 0, or pass `quality` in (0, 1) for a two-phase inlet
/// with subcooling = 0. Problem outside 0.3-2.5 mm, 0.5-10 m or when p_in has no saturation.
Result<double> correlated_flow(const fluids::Fluid& fluid, double diameter, double length, double p_in,
                               double subcooling, double quality);

}  // namespace coldwright::circuit

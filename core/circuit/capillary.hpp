// The capillary tube: what flows through it between two pressures.
//
// Homogeneous equilibrium flow. Momentum with friction and acceleration,
//   -dp = G^2 dv + G^2 v f/(2 D) dz,     f by Churchill for a smooth tube [churchill1977],
// two-phase viscosity by McAdams [mcadams1942], energy h + G^2 v^2/2 constant less the heat given to the
// suction line. Integrated over pressure it gives
//   G^2 = Int w rho dp / (f_in L/(2 D) + 0.75 + Int w dln v),   w = f_in / f(p),
// and the flow is the largest G over all exit pressures not below the evaporator's: where the largest lies
// inside, the tube is choked there and the evaporator pressure no longer matters.
// Heat exchange: metering sees half of the heat removed upstream of it: about 10 % less than the stepwise
// march gives with liquid at the inlet, within 6 % once the bore is solved at a design point; wet inlets
// differ more (tests/differential/circuit_capillary_march_test.cpp). Against the generalised correlation (see
// capillary_correlation.hpp) it passes -14..+4 % with liquid and +1..+16 % with a wet inlet: equilibrium
// ignores the delay of flashing, a smooth wall the 5-10 % of flow that 1.5 um of roughness would take.
#pragma once

#include <optional>

#include "circuit/working_fluid.hpp"

namespace coldwright::circuit {

struct Capillary {
  double length = 0;      // m
  double diameter = 0;    // m, bore
  double open_share = 1;  // of the flow area; below one when partly blocked
};

struct CapillaryInlet {
  double lnp;  // total pressure, ln Pa
  double h;    // J/kg: subcooled liquid, two-phase or vapour
};

struct CapillaryFlow {
  double flow;      // kg/s
  double lnp_exit;  // where the flow leaves the tube: the choking or the evaporator pressure
  bool choked;
};

/// Friction factor (Darcy) of a smooth tube at any Reynolds number [churchill1977].
double churchill_friction(double reynolds, double relative_roughness = 0);

/// Homogeneous flow through the tube to ln p_out, giving `heat_removed` J/kg to the suction line on its way.
/// Friction and kinetic energy need the flow itself: with `expected_flow` (kg/s) it is taken from there in
/// one pass, exact where the result agrees with it, as at an operating point; otherwise it is iterated.
CapillaryFlow flow_through(const Capillary& tube, const WorkingFluid& fluid, const CapillaryInlet& inlet,
                           double lnp_out, double heat_removed,
                           std::optional<double> expected_flow = std::nullopt);

/// The same physics integrated step by step along the length with the heat taken out where the tube touches
/// the suction line (from share `contact_from` to `contact_to` of the length). Slow; for checking and tables.
/// Returns the choked or back-pressure-limited flow found by bisection on G, to 1e-6 relative.
CapillaryFlow march_through(const Capillary& tube, const WorkingFluid& fluid, const CapillaryInlet& inlet,
                            double lnp_out, double heat_removed, double contact_from, double contact_to);

}  // namespace coldwright::circuit

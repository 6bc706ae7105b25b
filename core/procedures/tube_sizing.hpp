// The capillary that replaces another: which length of a bore at hand passes the same refrigerant at the
// design point.
//
// Two opinions: homogeneous flow (circuit/capillary.hpp, with the heat it gives to the suction line) and the
// generalised correlation [wolf1995] (circuit/capillary_correlation.hpp, adiabatic). Comparing a tube with a
// tube, each opinion's own error cancels for the most part; their difference is the interval, widened by what
// the bore's tolerance does. By the correlation's exponents L ~ d^(2.61/0.484) at the same flow.
#pragma once

#include <optional>

#include "base/result.hpp"
#include "circuit/capillary.hpp"
#include "circuit/working_fluid.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::procedures {

/// What stands at the tube's ends when the machine does its work.
struct DesignPoint {
  double p_in = 0, p_out = 0;  // Pa absolute: condensing, evaporating
  double subcooling = 0;       // K at the inlet, above zero
  double heat_removed = 0;     // J/kg to the suction line
};

/// Both opinions of one tube's flow, kg/s.
struct TwoFlows {
  double homogeneous;
  std::optional<double> correlated;  // absent outside the correlation's range
};
Result<TwoFlows> design_flow(const fluids::Fluid& fluid, const circuit::WorkingFluid& table, double bore,
                             double length, const DesignPoint& at);

/// Both opinions of the length (m), and the length with the bore larger or smaller by its tolerance by the
/// homogeneous one. An opinion is absent when the length lies outside 0.3-12 m, or outside the correlation's
/// range.
struct SizedTube {
  double bore;
  std::optional<double> homogeneous, correlated;
  std::optional<double> bore_smaller, bore_larger;
};

/// The length of `bore` (m) that passes `wanted`; of each opinion its own flow. Problem when `wanted` isn't
/// above zero or p_in isn't above p_out.
Result<SizedTube> length_for_flow(const fluids::Fluid& fluid, const circuit::WorkingFluid& table, double bore,
                                  double bore_tolerance, const DesignPoint& at, const TwoFlows& wanted);

/// L2/L1 for d2/d1 at the same flow by the correlation's exponents.
double length_ratio_by_similarity(double bore_ratio);

}  // namespace coldwright::procedures

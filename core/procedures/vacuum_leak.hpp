// A leak seen under vacuum, and what it is in service: air drawn in now, refrigerant lost later.
//
// The rise a (Pa/s) in the volume V is Q = V a of air from p_air into nearly nothing. In service the other
// way, from p_s to p_air: through a capillary-like hole (viscous, Q ~ (p1^2 - p2^2)/mu) or through a fine one
// (molecular, Q ~ (p1 - p2)/sqrt(M)) [roth1990, Chapter 3]. Which of them isn't known; both are given.
#pragma once

#include "base/result.hpp"
#include "fluids/fluid.hpp"
#include "procedures/pressure_test.hpp"

namespace coldwright::procedures {

/// kg of air a year at T through a leak of Q (Pa m3/s).
double air_a_year(double leak, double T);

/// kg of refrigerant a year at p_service (Pa absolute) and T, into air at p_air. Zero both where the service
/// pressure isn't above the air's: there air goes in, in service too.
Result<YearlyLoss> service_loss(const fluids::Fluid& refrigerant, double leak, double p_service, double T,
                                double p_air);

}  // namespace coldwright::procedures

// The converged phase equilibrium of a pure fluid's equation and its own critical point. Slow and
// exact: it is what the fitted saturation curves are made from and checked against, not what a
// caller of Fluid waits for. Near the critical point S must be wider than double: rounding
// of p and g stands against the cube of the phases' difference in density.
#pragma once

#include <cmath>

#include "fluids/helmholtz.hpp"

namespace coldwright::fluids {

template <class S>
struct PhasePair {
  S p{}, rho_liquid{}, rho_vapour{};
  bool converged = false;
  int iterations = 0;
};

/// Newton on equal pressure and equal Gibbs energy in (rho_liquid, rho_vapour) from a starting pair,
/// after [akasaka2008]. The pressure is taken from the vapour, where it is not a small difference of large
/// numbers.
template <class S>
PhasePair<S> equal_phases(const Formula& fluid, S T, S rho_liquid, S rho_vapour, S tolerance) {
  using std::abs;
  PhasePair<S> out{S(0), rho_liquid, rho_vapour, false, 0};
  const Isotherm<S> isotherm(fluid, T);
  S last = S(1);
  for (out.iterations = 1; out.iterations <= 100; ++out.iterations) {
    const auto liquid = isotherm.at(out.rho_liquid);
    const auto vapour = isotherm.at(out.rho_vapour);
    out.p = vapour.p;
    const S dp = vapour.p - liquid.p;
    const S dg = vapour.gibbs - liquid.gibbs;
    // [p_L' -p_V'; g_L' -g_V'] (step_L, step_V) = (dp, dg)
    const S determinant = -liquid.dp_drho * vapour.dgibbs_drho + vapour.dp_drho * liquid.dgibbs_drho;
    S step_liquid = (-dp * vapour.dgibbs_drho + dg * vapour.dp_drho) / determinant;
    S step_vapour = (liquid.dp_drho * dg - liquid.dgibbs_drho * dp) / determinant;
    const S part_liquid = abs(step_liquid / out.rho_liquid), part_vapour = abs(step_vapour / out.rho_vapour);
    const S largest = part_liquid > part_vapour ? part_liquid : part_vapour;
    const S damping = largest > S(0.5) ? S(S(0.5) / largest) : S(1);
    out.rho_liquid += damping * step_liquid;
    out.rho_vapour += damping * step_vapour;
    // Near the critical point rounding keeps the steps from shrinking further: that is all S can tell.
    const bool at_rounding = largest < S(1e-7) && largest >= S(0.5) * last;
    last = largest;
    if (largest < tolerance || at_rounding) {
      out.p = isotherm.at(out.rho_vapour).p;
      out.converged = out.rho_liquid > out.rho_vapour;
      return out;
    }
  }
  return out;
}

template <class S>
struct CriticalPoint {
  S T{}, p{}, rho{};
  bool converged = false;
};

/// Newton on dp/drho = d2p/drho2 = 0 in (T, rho), from the published critical point. The third
/// derivatives come from a jet inside a jet.
template <class S>
CriticalPoint<S> own_critical_point(const Formula& fluid, S T, S rho, S tolerance) {
  using std::abs;
  CriticalPoint<S> out{T, S(0), rho, false};
  for (int i = 0; i < 60; ++i) {
    const auto at = isotherm_point(fluid, Jet<S>::first(out.T), Jet<S>::second(out.rho));
    const Jet<S>& slope = at.dp_drho;  // (T, rho) -> dp/drho
    out.p = at.p.v;
    const S determinant = slope.x * slope.yy - slope.y * slope.xy;
    const S step_T = (slope.v * slope.yy - slope.y * slope.y) / determinant;
    const S step_rho = (slope.x * slope.y - slope.xy * slope.v) / determinant;
    out.T -= step_T;
    out.rho -= step_rho;
    if (abs(step_T / out.T) < tolerance && abs(step_rho / out.rho) < tolerance) {
      out.p = isotherm_point(fluid, out.T, out.rho).p;
      out.converged = true;
      return out;
    }
  }
  return out;
}

}  // namespace coldwright::fluids

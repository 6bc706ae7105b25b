// The reduced Helmholtz energy alpha(tau, delta) of a pure fluid, tau = T_red/T, delta = rho/rho_red,
// written once for any number type; every property comes from its jet derivatives.
// Form and property relations [span2000, section 3]; the terms of each fluid in fluid_data.hpp.
#pragma once

#include <array>
#include <cmath>

#include "base/jet.hpp"
#include "fluids/fluid_data.hpp"

namespace coldwright::fluids {

/// alpha0 without ln delta: the part that depends on temperature alone.
template <class Tau>
Tau alpha_ideal_of_tau(const IdealPart& part, const Tau& tau) {
  using std::exp;
  using std::log;
  const Tau ln_tau = log(tau);
  Tau sum = Tau(part.a1 + part.shift_a1) + (part.a2 + part.shift_a2) * tau + part.log_tau * ln_tau;
  for (const auto& term : part.power) sum = sum + term.n * exp(term.t * ln_tau);
  for (const auto& term : part.einstein) sum = sum + term.m * log(1.0 - exp(-(term.theta * tau)));
  return sum;
}

/// alphar = sum of PowerTerm and GaussianTerm. Tau and Delta may be plain or jets.
template <class Tau, class Delta>
auto alpha_residual(const ResidualPart& part, const Tau& tau, const Delta& delta) {
  using std::exp;
  using std::log;
  const auto ln_tau = log(tau);
  const auto ln_delta = log(delta);
  using Value = decltype(ln_tau + ln_delta);
  std::array<Delta, 7> power_of_delta{Delta(0.0), delta};
  for (std::size_t l = 2; l < power_of_delta.size(); ++l) power_of_delta[l] = power_of_delta[l - 1] * delta;
  Value sum(0.0);
  for (const PowerTerm& term : part.power) {
    const auto exponent =
        term.t * ln_tau + (term.d * ln_delta - power_of_delta[static_cast<std::size_t>(term.l)]);
    sum = sum + term.n * exp(exponent);
  }
  for (const GaussianTerm& term : part.gaussian) {
    const Delta from_epsilon = delta - term.epsilon;
    const Tau from_gamma = tau - term.gamma;
    const auto exponent = (term.t * ln_tau - term.beta * (from_gamma * from_gamma)) +
                          (term.d * ln_delta - term.eta * (from_epsilon * from_epsilon));
    sum = sum + term.n * exp(exponent);
  }
  return sum;
}

/// Pressure, its slope dp/drho at constant T, and g/(R T) up to a function of T, at one (T, rho).
template <class S>
struct IsothermPoint {
  S p;            // Pa
  S dp_drho;      // Pa m3/kg
  S gibbs;        // alphar + delta alphar_delta + ln delta
  S dgibbs_drho;  // m3/kg
};

/// One point of an isotherm; S is double, or a wider type where equal phases are solved.
/// p = rho R T (1 + delta alphar_delta)
template <class S>
IsothermPoint<S> isotherm_point(const FluidData& fluid, const S& T, const S& rho) {
  using std::log;
  const auto rho_reducing = fluid.rho_reducing * fluid.M;
  const auto gas = (fluid.R / fluid.M) * T;
  const S tau = fluid.T_reducing / T;
  const S delta = rho / rho_reducing;
  using TauOnIsotherm = std::conditional_t<Plain<S>, S, Jet1<S>>;  // a constant beside delta
  const Jet1<S> alphar = alpha_residual(fluid.residual, TauOnIsotherm(tau), Jet1<S>::variable(delta));
  IsothermPoint<S> out;
  out.p = rho * gas * (1.0 + delta * alphar.d);
  out.dp_drho = gas * (1.0 + 2.0 * (delta * alphar.d) + delta * delta * alphar.dd);
  out.gibbs = alphar.v + delta * alphar.d + log(delta);
  out.dgibbs_drho = out.dp_drho / (rho * gas);
  return out;
}

/// Everything at one (T, rho), per kilogram.
struct Caloric {
  double p, u, s, cv, cp, sound_speed;
  double dp_drho;  // at constant T, Pa m3/kg
  double dp_dT;    // at constant rho, Pa/K
};

/// s, u, cv, cp, w from alpha's derivatives [span2000, Table 3.9], with tau and delta subscripts:
///   u = R T tau (a0_t + ar_t)            s = R (tau (a0_t + ar_t) - a0 - ar)
///   cv = -R tau^2 (a0_tt + ar_tt)        dp/dT = rho R (1 + d ar_d - d tau ar_dt)
///   cp = cv + T (dp/dT)^2 / (rho^2 dp/drho)      w^2 = dp/drho cp / cv
inline Caloric caloric(const FluidData& fluid, double T, double rho) {
  const double R = fluid.R / fluid.M;
  const double tau = fluid.T_reducing / T;
  const double delta = rho / (fluid.rho_reducing * fluid.M);
  const Jet<double> ar = alpha_residual(fluid.residual, Jet<double>::first(tau), Jet<double>::second(delta));
  const Jet1<double> a0 = alpha_ideal_of_tau(fluid.ideal, Jet1<double>::variable(tau));
  Caloric out{};
  out.p = rho * R * T * (1.0 + delta * ar.y);
  out.dp_drho = R * T * (1.0 + 2.0 * delta * ar.y + delta * delta * ar.yy);
  out.dp_dT = rho * R * (1.0 + delta * ar.y - delta * tau * ar.xy);
  out.u = R * T * tau * (a0.d + ar.x);
  out.s = R * (tau * (a0.d + ar.x) - (a0.v + std::log(delta)) - ar.v);
  out.cv = -R * tau * tau * (a0.dd + ar.xx);
  out.cp = out.cv + T * out.dp_dT * out.dp_dT / (rho * rho * out.dp_drho);
  out.sound_speed = std::sqrt(out.dp_drho * out.cp / out.cv);
  return out;
}

}  // namespace coldwright::fluids

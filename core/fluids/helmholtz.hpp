// The reduced Helmholtz energy alpha(tau, delta) of a pure fluid, tau = T_red/T, delta = rho/rho_red,
// written once for any number type; every property comes from its jet derivatives.
// Form and property relations [span2000, section 3]; the terms of each fluid in fluid_data.hpp.
#pragma once

#include <algorithm>
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

/// Room for the terms of any published equation here; Equation::check holds the data to it.
inline constexpr std::size_t most_terms = 48;
inline constexpr int highest_d = 15, highest_l = 6;

/// Each residual term is A(tau) f(delta). The A, once for a temperature:
///   power: n tau^t      gaussian: n tau^t exp(-beta (tau - gamma)^2)
template <class Tau>
struct Amplitudes {
  std::array<Tau, most_terms> power, gaussian;
  int largest_d = 1, largest_l = 0;  // how far the powers of delta are needed
};
template <class Tau>
Amplitudes<Tau> amplitudes(const ResidualPart& part, const Tau& tau) {
  using std::exp;
  using std::log;
  Amplitudes<Tau> out;
  const Tau ln_tau = log(tau);
  for (std::size_t i = 0; i < part.power.size(); ++i) {
    const PowerTerm& term = part.power[i];
    out.power[i] = term.n * exp(term.t * ln_tau);
    out.largest_d = std::max(out.largest_d, term.d);
    out.largest_l = std::max(out.largest_l, term.l);
  }
  for (std::size_t i = 0; i < part.gaussian.size(); ++i) {
    const GaussianTerm& term = part.gaussian[i];
    const Tau off = tau - term.gamma;
    out.gaussian[i] = term.n * exp(term.t * ln_tau - term.beta * (off * off));
    out.largest_d = std::max(out.largest_d, term.d);
  }
  return out;
}

/// Calls add(A_i, f_i(delta)) for every term:
///   power: f = delta^d exp(-delta^l), without the exponential for l = 0
///   gaussian: f = delta^d exp(-eta (delta - epsilon)^2)
template <class Tau, class Delta, class Add>
void each_term(const ResidualPart& part, const Amplitudes<Tau>& a, const Delta& delta, Add&& add) {
  using std::exp;
  std::array<Delta, highest_d + 1> power;
  power[0] = Delta(1.0);
  const auto highest = static_cast<std::size_t>(std::max(a.largest_d, a.largest_l));
  for (std::size_t d = 1; d <= highest; ++d) power[d] = power[d - 1] * delta;
  std::array<Delta, highest_l + 1> decay;
  decay[0] = Delta(1.0);
  for (std::size_t l = 1; l <= static_cast<std::size_t>(a.largest_l); ++l) decay[l] = exp(-power[l]);
  for (std::size_t i = 0; i < part.power.size(); ++i) {
    const PowerTerm& term = part.power[i];
    const Delta& delta_d = power[static_cast<std::size_t>(term.d)];
    add(a.power[i], term.l == 0 ? delta_d : delta_d * decay[static_cast<std::size_t>(term.l)]);
  }
  for (std::size_t i = 0; i < part.gaussian.size(); ++i) {
    const GaussianTerm& term = part.gaussian[i];
    const Delta off = delta - term.epsilon;
    add(a.gaussian[i], power[static_cast<std::size_t>(term.d)] * exp(-(term.eta * (off * off))));
  }
}

/// Pressure, its slope dp/drho at constant T, and g/(R T) up to a function of T, at one (T, rho).
template <class S>
struct IsothermPoint {
  S p;            // Pa
  S dp_drho;      // Pa m3/kg
  S gibbs;        // alphar + delta alphar_delta + ln delta
  S dgibbs_drho;  // m3/kg
};

/// One temperature of one fluid, ready for many densities. S is double, or a wider type or a jet where
/// equal phases or the critical point are solved.
template <class S>
class Isotherm {
 public:
  Isotherm(const FluidData& fluid, const S& T)
      : residual_(fluid.residual),
        rho_reducing_(fluid.rho_reducing * fluid.M),
        gas_((fluid.R / fluid.M) * T),
        amplitudes_(amplitudes<S>(fluid.residual, fluid.T_reducing / T)) {}

  /// p = rho R T (1 + delta alphar_delta). Cost: about 0.15 us for double.
  IsothermPoint<S> at(const S& rho) const {
    using std::log;
    const S delta = rho / rho_reducing_;
    Jet1<S> alphar;
    each_term(residual_, amplitudes_, Jet1<S>::variable(delta),
              [&](const S& amplitude, const Jet1<S>& shape) { alphar += amplitude * shape; });
    IsothermPoint<S> out;
    out.p = rho * gas_ * (1.0 + delta * alphar.d);
    out.dp_drho = gas_ * (1.0 + 2.0 * (delta * alphar.d) + delta * delta * alphar.dd);
    out.gibbs = alphar.v + delta * alphar.d + log(delta);
    out.dgibbs_drho = out.dp_drho / (rho * gas_);
    return out;
  }

 private:
  const ResidualPart& residual_;
  double rho_reducing_;
  S gas_;
  Amplitudes<S> amplitudes_;
};

template <class S>
IsothermPoint<S> isotherm_point(const FluidData& fluid, const S& T, const S& rho) {
  return Isotherm<S>(fluid, T).at(rho);
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
  Jet<double> ar;
  each_term(fluid.residual, amplitudes(fluid.residual, Jet1<double>::variable(tau)),
            Jet1<double>::variable(delta),
            [&](const Jet1<double>& amplitude, const Jet1<double>& shape) { ar += outer(amplitude, shape); });
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

// The reduced Helmholtz energy alpha(tau, delta) of a pure fluid, tau = T_red/T, delta = rho/rho_red,
// written once for any number type; every property comes from its jet derivatives.
// Form and property relations [span2000, section 3]; the terms of each fluid in fluid_data.hpp.
#pragma once

#include <cmath>

#include "base/jet.hpp"
#include "fluids/fluid_data.hpp"
#include "fluids/residual.hpp"

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
  Isotherm(const Formula& fluid, const S& T)
      : rho_reducing_(fluid.rho_reducing * fluid.M),
        gas_((fluid.R / fluid.M) * T),
        residual_(fluid.residual, fluid.T_reducing / T) {}

  /// p = rho R T (1 + delta alphar_delta). Cost: about 0.1 us for double.
  IsothermPoint<S> at(const S& rho) const {
    const S delta = rho / rho_reducing_;
    return point(residual_.at(delta), rho, delta, gas_);
  }

  static IsothermPoint<S> point(const Jet1<S>& alphar, const S& rho, const S& delta, const S& gas) {
    using std::log;
    IsothermPoint<S> out;
    out.p = rho * gas * (1.0 + delta * alphar.d);
    out.dp_drho = gas * (1.0 + 2.0 * (delta * alphar.d) + delta * delta * alphar.dd);
    out.gibbs = alphar.v + delta * alphar.d + log(delta);
    out.dgibbs_drho = out.dp_drho / (rho * gas);
    return out;
  }

 private:
  double rho_reducing_;
  S gas_;
  ResidualAtTau<S> residual_;
};

template <class S>
IsothermPoint<S> isotherm_point(const Formula& fluid, const S& T, const S& rho) {
  return Isotherm<S>(fluid, T).at(rho);
}

/// Everything at one (T, rho), per kilogram.
struct Caloric {
  double p, u, s, cv, cp, sound_speed;
  double dp_drho;  // at constant T, Pa m3/kg
  double dp_dT;    // at constant rho, Pa/K
};

/// One temperature at which a density is searched and then everything is wanted: what depends on T alone is
/// computed once.
class Slice {
 public:
  Slice(const Formula& fluid, double T)
      : fluid_(fluid),
        T_(T),
        rho_reducing_(fluid.rho_reducing * fluid.M),
        residual_(fluid.residual, Jet1<double>::variable(fluid.T_reducing / T)) {}

  IsothermPoint<double> point(double rho) const {
    const double delta = rho / rho_reducing_;
    return Isotherm<double>::point(residual_.along(delta), rho, delta, fluid_.R / fluid_.M * T_);
  }

  /// s, u, cv, cp, w from alpha's derivatives [span2000, Table 3.9], with tau and delta subscripts:
  ///   u = R T tau (a0_t + ar_t)            s = R (tau (a0_t + ar_t) - a0 - ar)
  ///   cv = -R tau^2 (a0_tt + ar_tt)        dp/dT = rho R (1 + d ar_d - d tau ar_dt)
  ///   cp = cv + T (dp/dT)^2 / (rho^2 dp/drho)      w^2 = dp/drho cp / cv
  Caloric caloric(double rho) const {
    const double R = fluid_.R / fluid_.M;
    const double tau = fluid_.T_reducing / T_;
    const double delta = rho / rho_reducing_;
    const Jet<double> ar = residual_.both(delta);
    const Jet1<double> a0 = alpha_ideal_of_tau(fluid_.ideal, Jet1<double>::variable(tau));
    Caloric out{};
    out.p = rho * R * T_ * (1.0 + delta * ar.y);
    out.dp_drho = R * T_ * (1.0 + 2.0 * delta * ar.y + delta * delta * ar.yy);
    out.dp_dT = rho * R * (1.0 + delta * ar.y - delta * tau * ar.xy);
    out.u = R * T_ * tau * (a0.d + ar.x);
    out.s = R * (tau * (a0.d + ar.x) - (a0.v + std::log(delta)) - ar.v);
    out.cv = -R * tau * tau * (a0.dd + ar.xx);
    out.cp = out.cv + T_ * out.dp_dT * out.dp_dT / (rho * rho * out.dp_drho);
    out.sound_speed = std::sqrt(out.dp_drho * out.cp / out.cv);
    return out;
  }

 private:
  const Formula& fluid_;
  double T_, rho_reducing_;
  ResidualAtTau<Jet1<double>> residual_;
};

inline Caloric caloric(const Formula& fluid, double T, double rho) { return Slice(fluid, T).caloric(rho); }

}  // namespace coldwright::fluids

// The refrigerant as the circuit model needs it: a few properties, a few nanoseconds each.
//
// Tabulated once from fluids::Fluid (the reference equation) on fine uniform grids, linear in
// ln p and cubic in enthalpy.
// A blend is taken at its dew temperature; one that glides by more than 1.5 K is refused.
// Two approximations belong to the circuit, not to the fluid: liquid off saturation is taken as saturated
// liquid at its temperature, and vapour is tabulated against its enthalpy above saturation.
// Domain: saturation from 195 K (or 2 kPa, whichever is higher) to 0.985 of the critical temperature; vapour
// up to `span_h()` above saturated vapour. Arguments outside are clamped: the solver steps through such
// points on its way and must see something smooth; a solution is checked against `lnp_low/high` afterwards.
// Tables against the equation: tests/differential/circuit_working_fluid_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::circuit {

/// Both phases on the saturation line.
struct SatPoint {
  double T;         // K
  double h_l, h_v;  // J/kg
  double rho_l, rho_v;
  double mu_l, mu_v;  // Pa s
  double cp_l;        // J/(kg K)
};

/// Superheated vapour.
struct VapourPoint {
  double T;
  double rho;
  double k;   // isentropic exponent of real gas, rho w^2 / p
  double cp;  // J/(kg K), dh/dT at constant pressure
};

class WorkingFluid;

/// One pressure with everything that depends on it alone looked up once: what a component works on.
struct Isobar {
  const WorkingFluid* fluid;
  double lnp, p;  // ln Pa, Pa
  SatPoint sat;
  int row;  // place in the vapour table
  double weight;

  /// Vapour at enthalpy h; below saturation it is clamped to saturated vapour.
  VapourPoint vapour(double h) const;
  /// Vapour enthalpy at T >= T_sat.
  double vapour_enthalpy(double T) const;
  /// Density at any h: liquid (saturated), two-phase or vapour.
  double density(double h) const;
};

class WorkingFluid {
 public:
  /// Whether it boils at one temperature, or nearly so: no blend that glides by more than 1.5 K.
  static bool suits(const fluids::Fluid& fluid);
  static Result<WorkingFluid> make(const fluids::Fluid& fluid);

  const std::string& designation() const { return designation_; }
  double lnp_low() const { return lnp0_; }
  double lnp_high() const { return lnp1_; }
  double T_low() const { return T0_; }
  double T_high() const { return T1_; }
  double span_h() const { return dh1_; }

  SatPoint saturation(double lnp) const;
  double ln_saturation_pressure(double T) const;
  double saturation_pressure(double T) const;
  double saturation_temperature(double lnp) const;
  /// Saturated liquid enthalpy and density at T: stands for subcooled liquid at T.
  SatPoint at_temperature(double T) const { return saturation(ln_saturation_pressure(T)); }

  Isobar isobar(double lnp) const;

 private:
  friend struct Isobar;
  static constexpr int kSatFields = 8;
  static constexpr int kVapourFields = 3;
  std::string designation_;
  double lnp0_ = 0, lnp1_ = 0, T0_ = 0, T1_ = 0, dh1_ = 0;
  double per_lnp_ = 0, per_T_ = 0;  // rows per unit of the saturation tables
  int n_sat_ = 0, n_T_ = 0, n_p_ = 0, n_h_ = 0;
  std::vector<double> sat_;     // n_sat x kSatFields, uniform in ln p
  std::vector<double> lnp_T_;   // ln p, uniform in T
  std::vector<double> vapour_;  // n_p x n_h x kVapourFields: T, rho / p, k

  Result<bool> tabulate_saturation(const fluids::Fluid& fluid);
  Result<bool> tabulate_vapour(const fluids::Fluid& fluid);
  void vapour_fields(const Isobar& at, double dh, double out[kVapourFields], double& dT_dh) const;
};

}  // namespace coldwright::circuit

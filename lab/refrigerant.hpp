// The refrigerant as the virtual cabinet needs it: what a cell of known volume holds, from its mass and its
// internal energy, and the transport numbers of the saturated phases.
//
// Tabulated from fluids::Fluid, the reference equation. Two approximations are the lab's own: liquid below
// saturation is compressible with one modulus, far softer than the real one (kModulus), since a tube full of
// liquid would otherwise ring like a bell; and vapour is a table of 0.1 % or so.
#pragma once

#include <vector>

#include "base/result.hpp"
#include "fluids/fluid.hpp"
#include "fluids/quick_curve.hpp"

namespace coldwright::lab {

/// Both phases at saturation; transport along.
struct Saturated {
  double T, p, rho_l, rho_v, u_l, u_v;
  double h_l() const { return u_l + p / rho_l; }
  double h_v() const { return u_v + p / rho_v; }
};
struct Carrying {
  double mu_l, mu_v, k_l, k_v, cp_l, cp_v, sigma;
};

enum class Held { liquid, two_phase, vapour };

/// What a cell holds. `quality` is by mass of what stands there, not of what flows; `open` is the share of
/// the volume that isn't liquid.
struct Content {
  Held held;
  double T, p;   // K, Pa of refrigerant and foreign gas together
  double p_gas;  // Pa of the foreign gas alone
  double quality, open;
  Saturated at;     // saturation at T; of vapour the vapour itself stands in rho_v and u_v
  double h_l, h_v;  // of what would flow out as liquid and as vapour, J/kg
};

/// A vapour by density and internal energy.
struct Vapour {
  double T, p, k;  // K, Pa, isentropic exponent of the real gas rho w^2 / p
};

/// Foreign gas is taken as dry air, ideal.
inline constexpr double kGasConstant = 287.05, kGasHeat = 718.0;  // J/(kg K), from memory

class Refrigerant {
 public:
  static constexpr double kModulus = 1e7;  // Pa, our estimate

  /// Problem for blends, and for fluids without transport equations.
  static Result<Refrigerant> make(const fluids::Fluid& fluid);

  double T_low() const { return T_low_; }
  double T_high() const { return T_high_; }
  double T_critical() const { return T_critical_; }
  double p_critical() const { return p_critical_; }
  double molar_mass() const { return molar_mass_; }

  /// Any T; clamped to the tables.
  Saturated saturated(double T) const;
  Carrying carrying(double T) const;
  double pressure(double T) const;
  double temperature(double p) const;  // of saturation
  Vapour vapour(double rho, double u) const;
  /// The vapour of this pressure and enthalpy, not below saturation.
  struct Gas {
    double T, rho, u, k;
  };
  Gas gas(double p, double h) const;

  /// `mass` and `gas` in kg, `energy` in J for both together, `volume` in m3; `near` a temperature to start
  /// from. Mass must be above zero.
  Content content(double mass, double energy, double gas, double volume, double near) const;

 private:
  using Two = fluids::Two;
  double clamp_T(double T) const;
  Content liquid(double rho, double u, double gas, double volume) const;
  Content two_phase(double mass, double energy, double gas, double volume, double near) const;

  double T_low_ = 0, T_high_ = 0, T_critical_ = 0, p_critical_ = 0, molar_mass_ = 0;
  fluids::QuickCurveOf<Two> ln_p_rho_v_, rho_l_u_l_, u_v_sigma_, mu_, k_, cp_;
  fluids::QuickCurve T_of_ln_p_, T_of_u_l_;
  fluids::QuickCurveOf<Two> dew_by_ln_rho_;  // u, T
  // Vapour over ln rho and u above dew: T, p / rho, k at the nodes.
  double ln_rho_low_ = 0, per_ln_rho_ = 0, per_u_ = 0;
  int rows_ = 0, columns_ = 0;
  std::vector<double> nodes_;
};

}  // namespace coldwright::lab

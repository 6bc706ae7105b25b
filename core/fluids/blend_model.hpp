// A blend of fixed composition: its mixture model, the fitted bubble and dew lines, and the equilibria
// between them.
#pragma once

#include "fluids/fluid_data.hpp"
#include "fluids/mixture.hpp"
#include "fluids/phase_split.hpp"

namespace coldwright::fluids {

struct BlendModel {
  Mixture mixture;
  Amounts mass_fractions, mole_fractions;
  BlendCurves curves;
  double shift_h = 0, shift_s = 0;  // J/kg, J/(kg K), to the reference state of the whole blend

  // From the fitted lines, T_low..T_high.
  double bubble_pressure(double T) const;
  double dew_pressure(double T) const;
  double bubble_temperature(double p) const;
  double dew_temperature(double p) const;
  double bubble_density(double T) const;  // kg/m3
  double dew_density(double T) const;

  /// The converged equilibrium of the full model with this share of the mass as vapour, from the fitted
  /// lines.
  PhaseSplit split_at_T(double T, double quality) const;
  PhaseSplit split_at_p(double p, double quality) const;
};

}  // namespace coldwright::fluids

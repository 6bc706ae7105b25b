// One fluid's equation of state at work: densities, states and saturation values for inputs that
// are already known to lie inside its limits. Fluid checks them and speaks to callers.
#pragma once

#include "base/result.hpp"
#include "fluids/fluid.hpp"
#include "fluids/fluid_data.hpp"
#include "fluids/helmholtz.hpp"

namespace coldwright::fluids {

/// Which part of an isotherm to look for a density on; p(rho) increases along each.
enum class Branch { liquid, vapour, whole };

class Equation {
 public:
  /// Precondition: check(data) found nothing.
  explicit Equation(FluidData data);

  /// The first thing in the data that cannot be right, if any.
  static std::optional<Problem> check(const FluidData& data);

  const FluidData& data() const { return data_; }
  const Limits& limits() const { return limits_; }

  // The saturation line. Two phases are told apart up to 1e-9 below the critical temperature.
  double T_two_phase_max() const { return T_two_phase_max_; }
  double p_two_phase_max() const { return p_two_phase_max_; }
  double p_triple() const { return p_triple_; }
  double saturation_pressure(double T) const;
  double saturation_temperature(double p) const;
  double liquid_density(double T) const;
  double vapour_density(double T) const;

  /// Above every density inside the limits, kg/m3.
  double densest() const { return densest_; }

  /// Coldest liquid at p: the triple point, or where it freezes under that pressure.
  double coldest(double p) const;
  /// Pressure at which the liquid freezes, or p_max where that is lower.
  double highest_pressure(double T) const;

  /// The branch that (T, p) lies on; exactly on the saturation line the vapour.
  Branch branch_at(double T, double p) const;
  /// Density at (T, p) on that branch; `guess` (kg/m3) saves iterations when near.
  double density(double T, double p, Branch branch, double guess = 0) const;

  double density(const Slice& slice, double T, double p, Branch branch, double guess = 0) const;

  /// The state at (T, p), which doesn't lie on the saturation line.
  State at_Tp(double T, double p) const;
  State single_phase(double T, double p, double rho) const;
  State single_phase(double T, double p, double rho, const Caloric& at) const;
  Saturation saturation(double T, double p) const;
  static State mixture(const Saturation& ends, double quality);

 private:
  double default_guess(double T, double p, Branch branch) const;

  FluidData data_;
  Limits limits_{};
  double T_two_phase_max_ = 0, p_two_phase_max_ = 0, p_triple_ = 0;
  double densest_ = 0;  // kg/m3, above anything reached inside the limits
};

}  // namespace coldwright::fluids

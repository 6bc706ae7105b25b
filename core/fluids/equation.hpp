// One fluid's equation of state at work: densities, states and saturation values for inputs that
// are already known to lie inside its limits. Fluid checks them and speaks to callers.
#pragma once

#include "base/result.hpp"
#include "fluids/fluid.hpp"
#include "fluids/fluid_data.hpp"
#include "fluids/helmholtz.hpp"
#include "fluids/quick_curve.hpp"

namespace coldwright::fluids {

struct PhaseSplit;

/// Which part of an isotherm to look for a density on; p(rho) increases along each. A blend has both phases
/// between its bubble and dew pressure; near its critical point it isn't told which.
enum class Branch { liquid, vapour, whole, two_phase, unclear };

class Equation {
 public:
  /// Precondition: check(data) found nothing.
  explicit Equation(FluidData data);

  /// The first thing in the data that cannot be right, if any.
  static std::optional<Problem> check(const FluidData& data);

  const FluidData& data() const { return data_; }
  const Limits& limits() const { return limits_; }

  // Where liquid and vapour exist side by side. Of a pure fluid bubble and dew are one line, and the phases
  // are told apart up to 1e-9 below the critical temperature; the lines of a blend end a little before it.
  double T_two_phase_max() const { return T_two_phase_max_; }
  double p_two_phase_min() const { return p_two_phase_min_; }
  double p_two_phase_max() const { return p_two_phase_max_; }
  double bubble_pressure(double T) const;
  double dew_pressure(double T) const;
  double bubble_temperature(double p) const;
  double dew_temperature(double p) const;
  double bubble_density(double T) const;  // kg/m3
  double dew_density(double T) const;
  /// Highest temperature and pressure at which the curves hold: the critical point, or where they end.
  double T_curve_max() const;
  double p_curve_max() const;

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
  Saturation saturation_at_T(double T) const;
  Saturation saturation_at_p(double p) const;
  /// Between the two ends; `quality` is the vapour's share of the mass. A blend's equilibrium is solved
  /// there, and is absent only where that fails.
  std::optional<State> two_phase_at_T(double T, double quality) const;
  std::optional<State> two_phase_at_p(double p, double quality) const;
  /// For a blend: the state between bubble and dew at this T and p.
  std::optional<State> two_phase_at_Tp(double T, double p) const;

 private:
  double default_guess(double T, double p, Branch branch) const;
  void fill_quick_curves();
  State end_state(double T, double p, bool liquid) const;
  State mixed(const PhaseSplit& split, double quality) const;

  /// The lines again, away from the critical point, where short polynomials do: five times faster.
  struct QuickLines {
    QuickCurve p_bubble, p_dew, rho_bubble, rho_dew;  // of T
    QuickCurve T_bubble, T_dew;                       // of ln p
  };

  double exact_bubble_pressure(double T) const;
  double exact_dew_pressure(double T) const;
  double exact_bubble_temperature(double p) const;
  double exact_dew_temperature(double p) const;
  double exact_bubble_density(double T) const;
  double exact_dew_density(double T) const;

  FluidData data_;
  QuickLines quick_;
  Limits limits_{};
  double T_two_phase_max_ = 0, p_two_phase_min_ = 0, p_two_phase_max_ = 0;
  double densest_ = 0;  // kg/m3, above anything reached inside the limits
};

}  // namespace coldwright::fluids

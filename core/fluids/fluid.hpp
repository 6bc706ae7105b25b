// One refrigerant: its thermodynamic states, saturation line and transport properties.
// SI throughout: K, Pa absolute, kg/m3, J/kg, J/(kg K), m/s, Pa s, W/(m K), N/m.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "base/result.hpp"

namespace coldwright::fluids {

struct FluidData;  // plain published coefficients, see fluid_data.hpp

enum class Phase { liquid, vapour, two_phase, supercritical };

/// Second-derivative properties; they exist in one phase only.
struct SinglePhase {
  double cv;           // J/(kg K)
  double cp;           // J/(kg K)
  double sound_speed;  // m/s
};

struct State {
  double T;    // K
  double p;    // Pa absolute
  double rho;  // kg/m3
  double u;    // J/kg
  double h;    // J/kg
  double s;    // J/(kg K)
  Phase phase;
  std::optional<double> quality;  // kg vapour / kg, only when two_phase
  // Absent when two_phase, and within rounding of the critical point, where cp has no value.
  std::optional<SinglePhase> single;
};

/// Saturated liquid and saturated vapour, at one temperature or at one pressure. Of a pure fluid both have
/// the same T and p. Of a blend they are its bubble and its dew point: at one temperature their pressures
/// differ, at one pressure their temperatures, by the glide. Superheat is counted from the dew point,
/// subcooling from the bubble point.
struct Saturation {
  State liquid;
  State vapour;
};

struct Transport {
  double viscosity;     // Pa s
  double conductivity;  // W/(m K)
  // Relative, for about 95 % of states; of a correlation of its own what its authors state.
  double viscosity_uncertainty, conductivity_uncertainty;
};

/// The range in which the fluid's equation is offered.
struct Limits {
  double T_min;   // K, the triple point, of a blend where its lines begin; a melting line, where published,
                  // cuts off the solid above it
  double T_max;   // K
  double p_max;   // Pa
  double T_crit;  // K, of the equation itself (where its isotherm has a horizontal inflection)
  double p_crit;  // Pa
  double rho_crit;
  double M;  // kg/mol
};

class Fluid {
 public:
  /// Builds from published coefficients; refuses inconsistent data.
  static Result<Fluid> make(FluidData data);

  const std::string& designation() const;  // "R290"
  const Limits& limits() const;
  /// The published coefficients with their sources and stated uncertainties.
  const FluidData& data() const;

  // Each refuses inputs outside limits() with a Problem that states the limit. Cost on one core of
  // 2020s make: at_Tp 2-4 us, at_ph and at_ps 10-20 us, the others about 2 us.
  // at_Tp refuses a pressure within 1e-9 (relative) of saturation, where (T, p) names no single state.
  // Quality 0 and 1 give the saturated liquid and vapour: one phase, with `single` and no `quality`.
  Result<State> at_Tp(double T, double p) const;
  Result<State> at_ph(double p, double h) const;
  Result<State> at_ps(double p, double s) const;
  Result<State> at_Trho(double T, double rho) const;
  Result<State> at_px(double p, double quality) const;
  Result<State> at_Tx(double T, double quality) const;

  /// Saturation from the fitted expansions (near-exact, see the stated error in the data). The phases of a
  /// pure fluid are told apart up to 1e-9 (relative) below T_crit, and its curves below reach T_crit itself;
  /// those of a blend end at 0.99 of T_crit.
  Result<Saturation> saturation_at_T(double T) const;
  Result<Saturation> saturation_at_p(double p) const;
  /// Just the curves, below 0.1 us. T_min..T_crit, and the pressures there.
  Result<double> bubble_pressure(double T) const;
  Result<double> dew_pressure(double T) const;
  Result<double> bubble_temperature(double p) const;
  Result<double> dew_temperature(double p) const;
  /// Of a pure fluid, where bubble and dew are one.
  Result<double> saturation_pressure(double T) const { return dew_pressure(T); }
  Result<double> saturation_temperature(double p) const { return dew_temperature(p); }
  bool is_blend() const;
  /// Up to here saturation_at_T answers.
  double T_two_phase_max() const;

  /// Transport at a single-phase state (any State returned above that is not two_phase).
  Result<Transport> transport(const State& state) const;
  /// N/m, T_min..T_crit; of a blend at its bubble point, as far as the curves reach.
  Result<double> surface_tension(double T) const;

 private:
  struct Model;
  explicit Fluid(std::shared_ptr<const Model> model);
  std::shared_ptr<const Model> model_;  // immutable, shared by copies
};

}  // namespace coldwright::fluids

#include "fluids/equation.hpp"

#include <algorithm>
#include <cmath>

#include "base/root.hpp"
#include "fluids/expansion.hpp"

namespace coldwright::fluids {
namespace {

constexpr double phases_told_apart = 1e-9;  // relative to T_crit; closer, rounding swamps their difference
constexpr double compression = 1.5;         // densest state over the triple point liquid; 1.2 at 100 MPa

double x_of(const FluidData& data, double T) {
  return std::sqrt(std::max(0.0, 1.0 - T / data.saturation.T_crit));
}

double melting_pressure(const MeltingLine& line, double T) {
  return line.p0 + line.a * (std::pow(T / line.T0, line.c) - 1.0);
}

double melting_temperature(const MeltingLine& line, double p) {
  return line.T0 * std::pow(std::max(0.0, 1.0 + (p - line.p0) / line.a), 1.0 / line.c);
}

}  // namespace

Equation::Equation(FluidData data) : data_(std::move(data)) {
  const SaturationCurves& curves = data_.saturation;
  limits_ = {data_.T_triple, data_.T_max,     data_.p_max, curves.T_crit,
             curves.p_crit,  curves.rho_crit, data_.M};
  T_two_phase_max_ = curves.T_crit * (1.0 - phases_told_apart);
  p_two_phase_max_ = saturation_pressure(T_two_phase_max_);
  p_triple_ = saturation_pressure(data_.T_triple);
  densest_ = compression * liquid_density(data_.T_triple);
}

double Equation::saturation_pressure(double T) const {
  return std::exp(evaluate(data_.saturation.ln_p, x_of(data_, T)));
}

double Equation::saturation_temperature(double p) const {
  return evaluate(data_.saturation.T_of_z, std::sqrt(std::max(0.0, std::log(data_.saturation.p_crit / p))));
}

double Equation::liquid_density(double T) const {
  return evaluate(data_.saturation.rho_liquid, x_of(data_, T));
}

double Equation::vapour_density(double T) const {
  return std::exp(evaluate(data_.saturation.ln_rho_vapour, x_of(data_, T)));
}

double Equation::coldest(double p) const {
  if (!data_.melting) return data_.T_triple;
  return std::max(data_.T_triple, melting_temperature(*data_.melting, p));
}

double Equation::highest_pressure(double T) const {
  if (!data_.melting) return data_.p_max;
  return std::min(data_.p_max, melting_pressure(*data_.melting, T));
}

Branch Equation::branch_at(double T, double p) const {
  if (T > T_two_phase_max_) return Branch::whole;
  return p > saturation_pressure(T) ? Branch::liquid : Branch::vapour;
}

double Equation::default_guess(double T, double p, Branch branch) const {
  const double gas = data_.R / data_.M * T;
  if (branch == Branch::liquid) return liquid_density(T);
  if (branch == Branch::vapour) {
    // Z falls about linearly with p, from 1 to its value on the saturation line.
    const double p_sat = saturation_pressure(T);
    const double z_sat = p_sat / (vapour_density(T) * gas);
    return p / (gas * (1.0 + (z_sat - 1.0) * std::min(1.0, p / p_sat)));
  }
  const bool dense = p > isotherm_point(data_, T, limits_.rho_crit).p;
  return dense ? 1.2 * limits_.rho_crit : p / gas;
}

double Equation::density(double T, double p, Branch branch, double guess) const {
  return density(Slice(data_, T), T, p, branch, guess);
}

double Equation::density(const Slice& slice, double T, double p, Branch branch, double guess) const {
  constexpr double slack = 1e-9;  // more than the fitted curves' error
  double low = 0, high = densest_;
  if (branch == Branch::liquid) low = liquid_density(T) * (1.0 - slack);
  if (branch == Branch::vapour) high = vapour_density(T) * (1.0 + slack);
  if (!(guess > low && guess < high)) guess = default_guess(T, p, branch);
  const auto excess = [&](double rho) {
    const auto at = slice.point(rho);
    return std::pair{at.p - p, at.dp_drho};
  };
  return increasing_root(excess, low, high, guess).x;
}

State Equation::at_Tp(double T, double p) const {
  const Slice slice(data_, T);
  const double rho = density(slice, T, p, branch_at(T, p));
  return single_phase(T, p, rho, slice.caloric(rho));
}

State Equation::single_phase(double T, double p, double rho) const {
  return single_phase(T, p, rho, caloric(data_, T, rho));
}

State Equation::single_phase(double T, double p, double rho, const Caloric& at) const {
  State out{T, p, rho, at.u, at.u + p / rho, at.s, Phase::vapour, std::nullopt, std::nullopt};
  if (T >= limits_.T_crit) {
    out.phase = p >= limits_.p_crit ? Phase::supercritical : Phase::vapour;
  } else {
    out.phase = rho > limits_.rho_crit ? Phase::liquid : Phase::vapour;
  }
  // At the critical point itself cp has no value; within rounding of it neither.
  const double flat = 1e-12 * data_.R / data_.M * T;
  if (at.dp_drho > flat) out.single = SinglePhase{at.cv, at.cp, at.sound_speed};
  return out;
}

Saturation Equation::saturation(double T, double p) const {
  Saturation out{T, p, single_phase(T, p, liquid_density(T)), single_phase(T, p, vapour_density(T))};
  out.liquid.phase = Phase::liquid;
  out.vapour.phase = Phase::vapour;
  return out;
}

State Equation::mixture(const Saturation& ends, double quality) {
  if (quality <= 0) return ends.liquid;
  if (quality >= 1) return ends.vapour;
  const auto blend = [quality](double liquid, double vapour) { return liquid + quality * (vapour - liquid); };
  const State &l = ends.liquid, &v = ends.vapour;
  return {ends.T,           ends.p,          1.0 / blend(1.0 / l.rho, 1.0 / v.rho),
          blend(l.u, v.u),  blend(l.h, v.h), blend(l.s, v.s),
          Phase::two_phase, quality,         std::nullopt};
}

}  // namespace coldwright::fluids

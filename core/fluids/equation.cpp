#include "fluids/equation.hpp"

#include <algorithm>
#include <cmath>

#include "base/root.hpp"
#include "fluids/blend_model.hpp"
#include "fluids/expansion.hpp"

namespace coldwright::fluids {
namespace {

constexpr double phases_told_apart = 1e-9;  // relative to T_crit; closer, rounding swamps their difference
constexpr double most_compressed = 1.5;     // densest state over the triple point liquid; 1.2 at 100 MPa

double x_of(const FluidData& data, double T) {
  return std::sqrt(std::max(0.0, 1.0 - T / data.saturation.T_crit));
}

/// A density above every one inside the limits: along the coldest isotherm until past the highest pressure.
/// Not farther, since beyond it the pressure of some equations falls again and a search would end there.
double densest_inside(const Formula& formula, double T_min, double liquid, double p_max) {
  const Isotherm<double> isotherm(formula, T_min);
  double rho = liquid;
  while (rho < most_compressed * liquid) {
    const double next = 1.004 * rho;
    const IsothermPoint<double> at = isotherm.at(next);
    if (!(at.dp_drho > 0)) break;
    rho = next;
    if (at.p > 1.05 * p_max) break;
  }
  return rho;
}

double melting_pressure(const MeltingLine& line, double T) {
  return line.p0 + line.a * (std::pow(T / line.T0, line.c) - 1.0);
}

double melting_temperature(const MeltingLine& line, double p) {
  return line.T0 * std::pow(std::max(0.0, 1.0 + (p - line.p0) / line.a), 1.0 / line.c);
}

}  // namespace

Equation::Equation(FluidData data) : data_(std::move(data)) {
  if (data_.blend) {
    const BlendCurves& curves = data_.blend->curves;
    limits_ = {data_.T_triple, data_.T_max,     data_.p_max, curves.T_crit,
               curves.p_crit,  curves.rho_crit, data_.M};
    T_two_phase_max_ = curves.T_high;
    p_two_phase_min_ = bubble_pressure(curves.T_low);
    p_two_phase_max_ = dew_pressure(curves.T_high);
  } else {
    const SaturationCurves& curves = data_.saturation;
    limits_ = {data_.T_triple, data_.T_max,     data_.p_max, curves.T_crit,
               curves.p_crit,  curves.rho_crit, data_.M};
    T_two_phase_max_ = curves.T_crit * (1.0 - phases_told_apart);
    p_two_phase_min_ = bubble_pressure(data_.T_triple);
    p_two_phase_max_ = bubble_pressure(T_two_phase_max_);
  }
  densest_ = densest_inside(data_, data_.T_triple, bubble_density(data_.T_triple), data_.p_max);
  fill_quick_curves();
}

double Equation::T_curve_max() const { return data_.blend ? T_two_phase_max_ : limits_.T_crit; }
double Equation::p_curve_max() const { return data_.blend ? p_two_phase_max_ : limits_.p_crit; }

double Equation::exact_bubble_pressure(double T) const {
  if (data_.blend) return data_.blend->bubble_pressure(T);
  return std::exp(evaluate(data_.saturation.ln_p, x_of(data_, T)));
}

double Equation::exact_dew_pressure(double T) const {
  return data_.blend ? data_.blend->dew_pressure(T) : exact_bubble_pressure(T);
}

double Equation::exact_bubble_temperature(double p) const {
  if (data_.blend) return data_.blend->bubble_temperature(p);
  return evaluate(data_.saturation.T_of_z, std::sqrt(std::max(0.0, std::log(data_.saturation.p_crit / p))));
}

double Equation::exact_dew_temperature(double p) const {
  return data_.blend ? data_.blend->dew_temperature(p) : exact_bubble_temperature(p);
}

double Equation::exact_bubble_density(double T) const {
  if (data_.blend) return data_.blend->bubble_density(T);
  return evaluate(data_.saturation.rho_liquid, x_of(data_, T));
}

double Equation::exact_dew_density(double T) const {
  if (data_.blend) return data_.blend->dew_density(T);
  return std::exp(evaluate(data_.saturation.ln_rho_vapour, x_of(data_, T)));
}

void Equation::fill_quick_curves() {
  constexpr double far_from_critical = 0.95;
  constexpr int pieces = 160;
  const double T_low = data_.T_triple, T_high = far_from_critical * limits_.T_crit;
  if (!(T_high > T_low)) return;
  const auto of_T = [&](double (Equation::*exact)(double) const) {
    return QuickCurve(T_low, T_high, pieces, [&](double T) { return (this->*exact)(T); });
  };
  quick_.p_bubble = of_T(&Equation::exact_bubble_pressure);
  quick_.rho_bubble = of_T(&Equation::exact_bubble_density);
  quick_.rho_dew = of_T(&Equation::exact_dew_density);
  const auto of_ln_p = [&](double (Equation::*exact)(double) const) {
    return QuickCurve(std::log(exact_bubble_pressure(T_low)), std::log(exact_dew_pressure(T_high)), pieces,
                      [&](double ln_p) { return (this->*exact)(std::exp(ln_p)); });
  };
  quick_.T_bubble = of_ln_p(&Equation::exact_bubble_temperature);
  if (!data_.blend) return;
  quick_.p_dew = of_T(&Equation::exact_dew_pressure);
  quick_.T_dew = of_ln_p(&Equation::exact_dew_temperature);
}

double Equation::bubble_pressure(double T) const {
  return quick_.p_bubble.covers(T) ? quick_.p_bubble.at(T) : exact_bubble_pressure(T);
}

double Equation::dew_pressure(double T) const {
  if (!data_.blend) return bubble_pressure(T);
  return quick_.p_dew.covers(T) ? quick_.p_dew.at(T) : exact_dew_pressure(T);
}

double Equation::bubble_temperature(double p) const {
  const double ln_p = std::log(p);
  return quick_.T_bubble.covers(ln_p) ? quick_.T_bubble.at(ln_p) : exact_bubble_temperature(p);
}

double Equation::dew_temperature(double p) const {
  if (!data_.blend) return bubble_temperature(p);
  const double ln_p = std::log(p);
  return quick_.T_dew.covers(ln_p) ? quick_.T_dew.at(ln_p) : exact_dew_temperature(p);
}

double Equation::bubble_density(double T) const {
  return quick_.rho_bubble.covers(T) ? quick_.rho_bubble.at(T) : exact_bubble_density(T);
}

double Equation::dew_density(double T) const {
  return quick_.rho_dew.covers(T) ? quick_.rho_dew.at(T) : exact_dew_density(T);
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
  if (T <= T_two_phase_max_) {
    if (p > bubble_pressure(T)) return Branch::liquid;
    return !data_.blend || p <= dew_pressure(T) ? Branch::vapour : Branch::two_phase;
  }
  if (!data_.blend || T >= data_.blend->curves.T_clear) return Branch::whole;
  // The end of the lens, where its lines are not followed.
  if (p <= p_two_phase_max_) return Branch::vapour;
  return p >= data_.blend->curves.p_clear ? Branch::liquid : Branch::unclear;
}

double Equation::default_guess(double T, double p, Branch branch) const {
  const double gas = data_.R / data_.M * T;
  if (T > T_two_phase_max_) {
    if (branch == Branch::vapour) return p / gas;
    const bool dense = branch == Branch::liquid || p > isotherm_point(data_, T, limits_.rho_crit).p;
    return dense ? 1.2 * limits_.rho_crit : p / gas;
  }
  if (branch == Branch::liquid) return bubble_density(T);
  // Z falls about linearly with p, from 1 to its value on the dew line.
  const double p_dew = dew_pressure(T);
  const double z_dew = p_dew / (dew_density(T) * gas);
  return p / (gas * (1.0 + (z_dew - 1.0) * std::min(1.0, p / p_dew)));
}

double Equation::density(double T, double p, Branch branch, double guess) const {
  return density(Slice(data_, T), T, p, branch, guess);
}

double Equation::density(const Slice& slice, double T, double p, Branch branch, double guess) const {
  constexpr double slack = 1e-6;  // more than the fitted curves' error
  const double T_line = std::min(T, T_two_phase_max_);
  double low = 0, high = densest_;
  if (branch == Branch::liquid) low = (T_line < T ? limits_.rho_crit : bubble_density(T)) * (1.0 - slack);
  if (branch == Branch::vapour) high = dew_density(T_line) * (1.0 + slack);
  if (!(guess > low && guess < high)) guess = default_guess(T, p, branch);
  const auto excess = [&](double rho) {
    const auto at = slice.point(rho);
    return std::pair{at.p - p, at.dp_drho};
  };
  // Newton's next step after one of a part in 1e10 is below rounding.
  return increasing_root(excess, low, high, guess, {1e-10, 200}).x;
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

State Equation::end_state(double T, double p, bool liquid) const {
  State out = single_phase(T, p, liquid ? bubble_density(T) : dew_density(T));
  out.phase = liquid ? Phase::liquid : Phase::vapour;
  return out;
}

Saturation Equation::saturation_at_T(double T) const {
  return {end_state(T, bubble_pressure(T), true), end_state(T, dew_pressure(T), false)};
}

Saturation Equation::saturation_at_p(double p) const {
  return {end_state(bubble_temperature(p), p, true), end_state(dew_temperature(p), p, false)};
}

namespace {

/// A pure fluid between its phases.
State lever(const Saturation& ends, double quality) {
  const auto part = [quality](double liquid, double vapour) { return liquid + quality * (vapour - liquid); };
  const State &l = ends.liquid, &v = ends.vapour;
  return {l.T,
          l.p,
          1.0 / part(1.0 / l.rho, 1.0 / v.rho),
          part(l.u, v.u),
          part(l.h, v.h),
          part(l.s, v.s),
          Phase::two_phase,
          quality,
          std::nullopt};
}

}  // namespace

State Equation::mixed(const PhaseSplit& split, double quality) const {
  const BlendModel& blend = *data_.blend;
  double v = 0, h = blend.shift_h, s = blend.shift_s;
  for (const auto& [rho, part] : {std::pair{&split.liquid, 1 - quality}, std::pair{&split.vapour, quality}}) {
    const double M = blend.mixture.molar_mass(fractions(*rho));
    const MolarCaloric at = blend.mixture.caloric(split.T, *rho);
    v += part / (rho->sum() * M);
    h += part * at.h / M;
    s += part * at.s / M;
  }
  return {split.T, split.p, 1 / v, h - split.p * v, h, s, Phase::two_phase, quality, std::nullopt};
}

std::optional<State> Equation::two_phase_at_T(double T, double quality) const {
  if (quality <= 0) return end_state(T, bubble_pressure(T), true);
  if (quality >= 1) return end_state(T, dew_pressure(T), false);
  if (!data_.blend) return lever(saturation_at_T(T), quality);
  const PhaseSplit split = data_.blend->split_at_T(T, quality);
  if (!split.converged) return std::nullopt;
  return mixed(split, quality);
}

std::optional<State> Equation::two_phase_at_p(double p, double quality) const {
  if (quality <= 0) return end_state(bubble_temperature(p), p, true);
  if (quality >= 1) return end_state(dew_temperature(p), p, false);
  if (!data_.blend) return lever(saturation_at_p(p), quality);
  const PhaseSplit split = data_.blend->split_at_p(p, quality);
  if (!split.converged) return std::nullopt;
  return mixed(split, quality);
}

std::optional<State> Equation::two_phase_at_Tp(double T, double p) const {
  // p falls from bubble to dew as the vapour grows.
  const double p_bubble = bubble_pressure(T), p_dew = dew_pressure(T);
  std::optional<State> found;
  const auto excess = [&](double quality) {
    found = two_phase_at_T(T, quality);
    return found ? p - found->p : 0;  // increases with quality; no state ends the search
  };
  secant_root(excess, 0, 1, p - p_bubble, p - p_dew, 1e-12 * p);
  return found;
}

}  // namespace coldwright::fluids

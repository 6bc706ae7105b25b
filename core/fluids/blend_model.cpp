#include "fluids/blend_model.hpp"

#include <algorithm>
#include <cmath>

#include "fluids/expansion.hpp"

namespace coldwright::fluids {
namespace {

double x_of(const BlendCurves& curves, double T) { return std::sqrt(std::max(0.0, 1 - T / curves.T_crit)); }
double y_of(const BlendCurves& curves, double p) {
  return std::sqrt(std::max(0.0, std::log(curves.p_scale / p)));
}

Amounts start_densities(const std::vector<PiecewiseChebyshev>& of, double x) {
  Amounts out(static_cast<Eigen::Index>(of.size()));
  for (std::size_t k = 0; k < of.size(); ++k)
    out(static_cast<Eigen::Index>(k)) = std::exp(evaluate(of[k], x));
  return out;
}

/// Between the two ends of the lens, each amount along its logarithm.
Amounts between(const Amounts& a, const Amounts& b, double part) {
  return (a.array().log() * (1 - part) + b.array().log() * part).exp().matrix();
}

struct Ends {
  Amounts liquid, vapour;
};

Ends at_bubble(const BlendModel& blend, double T) {
  return {blend.mole_fractions * (blend.bubble_density(T) / blend.mixture.molar_mass(blend.mole_fractions)),
          start_densities(blend.curves.vapour_at_bubble, x_of(blend.curves, T))};
}

Ends at_dew(const BlendModel& blend, double T) {
  return {start_densities(blend.curves.liquid_at_dew, x_of(blend.curves, T)),
          blend.mole_fractions * (blend.dew_density(T) / blend.mixture.molar_mass(blend.mole_fractions))};
}

PhaseSplit start(const BlendModel& blend, double T_bubble, double T_dew, double quality) {
  PhaseSplit out;
  out.T = T_bubble * (1 - quality) + T_dew * quality;
  if (quality <= 0 || quality >= 1) {
    const Ends end = quality <= 0 ? at_bubble(blend, T_bubble) : at_dew(blend, T_dew);
    out.liquid = end.liquid;
    out.vapour = end.vapour;
    return out;
  }
  const Ends low = at_bubble(blend, T_bubble), high = at_dew(blend, T_dew);
  out.liquid = between(low.liquid, high.liquid, quality);
  out.vapour = between(low.vapour, high.vapour, quality);
  return out;
}

}  // namespace

double BlendModel::bubble_pressure(double T) const {
  return std::exp(evaluate(curves.ln_p_bubble, x_of(curves, T)));
}
double BlendModel::dew_pressure(double T) const {
  return std::exp(evaluate(curves.ln_p_dew, x_of(curves, T)));
}
double BlendModel::bubble_temperature(double p) const { return evaluate(curves.T_bubble, y_of(curves, p)); }
double BlendModel::dew_temperature(double p) const { return evaluate(curves.T_dew, y_of(curves, p)); }
double BlendModel::bubble_density(double T) const { return evaluate(curves.rho_bubble, x_of(curves, T)); }
double BlendModel::dew_density(double T) const {
  return std::exp(evaluate(curves.ln_rho_dew, x_of(curves, T)));
}

PhaseSplit BlendModel::split_at_T(double T, double quality) const {
  return split_from(mixture, {mass_fractions, quality, false, T}, start(*this, T, T, quality));
}

PhaseSplit BlendModel::split_at_p(double p, double quality) const {
  return split_from(mixture, {mass_fractions, quality, true, p},
                    start(*this, bubble_temperature(p), dew_temperature(p), quality));
}

}  // namespace coldwright::fluids

// Refuses coefficients that cannot belong together before anything is computed from them.
#include <algorithm>
#include <cmath>

#include "fluids/blend_model.hpp"
#include "fluids/equation.hpp"
#include "fluids/expansion.hpp"

namespace coldwright::fluids {
namespace {

Problem bad(const FluidData& data, const char* field, const char* given, const char* allowed,
            const char* why) {
  return {data.designation + ": " + field, given, allowed, why};
}

bool positive(double value) { return std::isfinite(value) && value > 0; }

bool usable(const PiecewiseChebyshev& curve) {
  if (curve.terms < 2 || !(curve.high > curve.low) || curve.coefficients.empty()) return false;
  if (curve.coefficients.size() % static_cast<std::size_t>(curve.terms) != 0) return false;
  for (const double c : curve.coefficients)
    if (!std::isfinite(c)) return false;
  return true;
}

bool usable(const ResidualPart& part) {
  if (part.power.size() > most_power_terms || part.gaussian.size() + part.gao.size() > most_gaussians)
    return false;
  std::size_t decays = 0;
  for (std::size_t i = 0; i < part.power.size(); ++i) {
    const PowerTerm& term = part.power[i];
    if (!std::isfinite(term.n + term.t + term.g + term.m) || term.d < 0 || term.d > highest_d || term.l < 0 ||
        term.l > highest_l)
      return false;
    const bool fresh = i == 0 || part.power[i - 1].l != term.l || part.power[i - 1].g != term.g;
    if (fresh && ++decays > most_decays) return false;
  }
  for (const GaussianTerm& term : part.gaussian)
    if (!std::isfinite(term.n + term.t + term.eta + term.epsilon + term.beta + term.gamma) || term.d < 0)
      return false;
  for (const GaoTerm& term : part.gao)
    if (!std::isfinite(term.n + term.t + term.eta + term.epsilon + term.beta + term.gamma + term.b) ||
        term.d < 0)
      return false;
  return !part.power.empty();
}

/// The curves belong to this equation: equal pressure and Gibbs energy on them.
bool curves_fit(const FluidData& data) {
  for (const double part : {0.1, 0.4, 0.8}) {
    const double x = part * data.saturation.ln_p.high;
    const double T = data.saturation.T_crit * (1 - x * x);
    const auto liquid = isotherm_point(data, T, evaluate(data.saturation.rho_liquid, x));
    const auto vapour = isotherm_point(data, T, std::exp(evaluate(data.saturation.ln_rho_vapour, x)));
    const double p = std::exp(evaluate(data.saturation.ln_p, x));
    if (!(std::abs(liquid.gibbs - vapour.gibbs) < 1e-7) || !(std::abs(vapour.p / p - 1) < 1e-7)) return false;
  }
  return true;
}

}  // namespace

namespace {

std::optional<Problem> check_lines(const FluidData& data, const BlendCurves& curves) {
  const std::size_t components = data.blend->mixture.size();
  bool whole = curves.vapour_at_bubble.size() == components && curves.liquid_at_dew.size() == components &&
               curves.T_high > curves.T_low && curves.T_crit > curves.T_high && positive(curves.p_scale);
  for (const auto* curve : {&curves.ln_p_bubble, &curves.ln_p_dew, &curves.rho_bubble, &curves.ln_rho_dew,
                            &curves.T_bubble, &curves.T_dew})
    whole = whole && usable(*curve);
  for (const auto& curve : curves.vapour_at_bubble) whole = whole && usable(curve);
  for (const auto& curve : curves.liquid_at_dew) whole = whole && usable(curve);
  if (!whole)
    return bad(data, "bubble and dew lines", "missing or out of form", "the output of tools/fit_blends.cpp",
               "the data are incomplete");
  const double T = 0.5 * (curves.T_low + curves.T_high);
  const double p = isotherm_point(data, T, data.blend->dew_density(T)).p;
  if (!(std::abs(p / data.blend->dew_pressure(T) - 1) < 1e-5))
    return bad(data, "bubble and dew lines", "not those of this mixture",
               "the mixture's own pressure on its dew line",
               "components, pairs and lines don't belong together; run tools/fit_blends.cpp again");
  return std::nullopt;
}

}  // namespace

void ResidualPart::arrange() {
  std::stable_sort(power.begin(), power.end(),
                   [](const PowerTerm& a, const PowerTerm& b) { return a.l != b.l ? a.l < b.l : a.g < b.g; });
}

std::optional<Problem> Equation::check(const FluidData& data) {
  const char* incomplete = "the data are incomplete";
  if (!positive(data.M) || !positive(data.R) || !positive(data.T_reducing) || !positive(data.rho_reducing))
    return bad(data, "molar mass, gas constant or reducing point", "not above zero", "finite and above zero",
               incomplete);
  if (!positive(data.T_triple) || !(data.T_max > data.T_triple) || !positive(data.p_max))
    return bad(data, "range", "empty", "T_triple < T_max and p_max above zero", incomplete);
  if (!usable(data.residual))
    return bad(data, "residual terms", "none, or out of form",
               "finite, d from 0 to 15, l from 0 to 8, not more than residual.hpp has room for",
               "the equation is a sum of such terms");
  if (data.blend) return check_lines(data, data.blend->curves);
  const SaturationCurves& curves = data.saturation;
  if (!usable(curves.ln_p) || !usable(curves.rho_liquid) || !usable(curves.ln_rho_vapour) ||
      !usable(curves.T_of_z))
    return bad(data, "saturation curves", "missing or out of form", "the output of tools/fit_saturation.cpp",
               incomplete);
  if (!(curves.T_crit > data.T_triple) || !(curves.T_crit < data.T_max) || !positive(curves.p_crit) ||
      !positive(curves.rho_crit))
    return bad(data, "critical point", "outside the range", "between T_triple and T_max", incomplete);
  if (!curves_fit(data))
    return bad(data, "saturation curves", "not those of this equation",
               "equal pressure and Gibbs energy in both phases",
               "the two files of the refrigerant don't belong together; run tools/fit_saturation.cpp again");
  return std::nullopt;
}

}  // namespace coldwright::fluids

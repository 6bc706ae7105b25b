#include "fluids/blend_lines.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "fluids/expansion.hpp"
#include "fluids/expansion_fit.hpp"
#include "fluids/mixture_critical.hpp"

namespace coldwright::fluids {
namespace {

constexpr double cold_starts[] = {190, 205, 225, 245};  // K
constexpr double cold_part = 0.62, hot_part = 0.99;     // of T_crit
constexpr ExpansionShape start_shape{2, 9};
constexpr int line_terms = 12, fewest_pieces = 7, most_pieces = 56;
constexpr double fits_well = 2e-8;
constexpr int guide_points = 70;

/// One line, bubble or dew, followed in x = sqrt(1 - T/T_crit) from cold to hot.
class Line {
 public:
  Line(const Mixture& mixture, const Amounts& mass_fractions, double quality, double T_crit)
      : mixture_(mixture), mass_fractions_(mass_fractions), quality_(quality), T_crit_(T_crit) {}

  /// Guide points from T_low on; returns the hottest temperature reached.
  double follow(double T_low, double T_high) {
    guide_.push_back(split_at_temperature(mixture_, mass_fractions_, quality_, T_low));
    if (!guide_.back().converged) return 0;
    const double x_low = x_of(T_low), x_high = x_of(T_high);
    for (int i = 1; i <= guide_points; ++i) {
      const double x = x_low + (x_high - x_low) * i / guide_points;
      const PhaseSplit next = solve(T_crit_ * (1 - x * x));
      // A fall of the pressure with temperature is the line bending back.
      if (!next.converged || next.p < guide_.back().p) break;
      guide_.push_back(next);
    }
    return guide_.back().T;
  }

  PhaseSplit solve(double T) const {
    const auto after = std::lower_bound(guide_.begin(), guide_.end(), T,
                                        [](const PhaseSplit& a, double at) { return a.T < at; });
    const auto i = static_cast<std::size_t>(after - guide_.begin());
    const std::size_t upper = std::clamp<std::size_t>(i, guide_.size() > 1 ? 1 : 0, guide_.size() - 1);
    PhaseSplit start = guide_[upper];
    if (upper > 0) {
      const PhaseSplit& before = guide_[upper - 1];
      const double part = (x_of(T) - x_of(before.T)) / (x_of(start.T) - x_of(before.T));
      const auto along = [part](const Amounts& a, const Amounts& b) {
        return Amounts((a.array().log() * (1 - part) + b.array().log() * part).exp().matrix());
      };
      start.liquid = along(before.liquid, guide_[upper].liquid);
      start.vapour = along(before.vapour, guide_[upper].vapour);
    }
    return split_from(mixture_, {mass_fractions_, quality_, false, T}, start);
  }

 private:
  double x_of(double T) const { return std::sqrt(std::max(0.0, 1 - T / T_crit_)); }

  const Mixture& mixture_;
  const Amounts& mass_fractions_;
  double quality_, T_crit_;
  std::vector<PhaseSplit> guide_;
};

/// Whether this liquid stays in one: its Helmholtz energy is convex in the partial densities.
bool holds_together(const Mixture& mixture, double T, const Amounts& liquid) {
  Pairs curvature = mixture.at(T, liquid).ln_f_k;
  curvature.diagonal() += liquid.cwiseInverse();
  return Eigen::LLT<Pairs>(curvature).info() == Eigen::Success;
}

/// Whether another liquid, richer in one of the components, would condense first: the dew point found is then
/// not where the vapour begins to condense. So it is where a cold liquid parts in two.
bool another_liquid(const Mixture& mixture, const Amounts& mass_fractions, const PhaseSplit& dew) {
  constexpr double pure = 0.9, apart = 1e-6;
  for (std::size_t k = 0; k < mixture.size(); ++k) {
    PhaseSplit start = dew;
    start.liquid *= 1 - pure;
    start.liquid(static_cast<Eigen::Index>(k)) += pure * dew.liquid.sum();
    const PhaseSplit other = split_from(mixture, {mass_fractions, 1, false, dew.T}, start);
    if (other.converged && other.p < (1 - apart) * dew.p) return true;
  }
  return false;
}

/// A bubble or dew line as expansions of x: ln p, the density of the whole blend, the start of the other
/// phase.
struct Fitted {
  PiecewiseChebyshev ln_p, rho;
  std::vector<PiecewiseChebyshev> other;
  bool complete = true;
};

Fitted fit(const Line& line, const Mixture& mixture, bool bubble, double T_crit, double x_near, double x_far,
           ExpansionShape line_shape) {
  const auto n = mixture.size();
  Fitted out;
  const auto solve = [&](double x) {
    const PhaseSplit split = line.solve(T_crit * (1 - x * x));
    out.complete = out.complete && split.converged;
    return split;
  };
  std::vector<double> ln_p, rho;
  for (const double x : expansion_points(x_near, x_far, line_shape, std::numbers::pi)) {
    const PhaseSplit split = solve(x);
    const Amounts& own = bubble ? split.liquid : split.vapour;
    const double density = own.sum() * mixture.molar_mass(fractions(own));
    ln_p.push_back(std::log(split.p));
    rho.push_back(bubble ? density : std::log(density));
  }
  std::vector<std::vector<double>> other(n);
  for (const double x : expansion_points(x_near, x_far, start_shape, std::numbers::pi)) {
    const PhaseSplit split = solve(x);
    for (std::size_t k = 0; k < n; ++k)
      other[k].push_back(std::log((bubble ? split.vapour : split.liquid)(static_cast<Eigen::Index>(k))));
  }
  out.ln_p = expansion_through(x_near, x_far, line_shape, ln_p, std::numbers::pi);
  out.rho = expansion_through(x_near, x_far, line_shape, rho, std::numbers::pi);
  for (const auto& values : other)
    out.other.push_back(expansion_through(x_near, x_far, start_shape, values, std::numbers::pi));
  return out;
}

/// T of y = sqrt(ln(p_scale/p)), from the fitted ln p of x by bisection.
PiecewiseChebyshev inverse(const PiecewiseChebyshev& ln_p, double T_crit, double p_scale) {
  const ExpansionShape line_shape{ln_p.pieces(), ln_p.terms};
  const auto y_of = [&](double x) { return std::sqrt(std::log(p_scale) - evaluate(ln_p, x)); };
  const double y_near = y_of(ln_p.low), y_far = y_of(ln_p.high);
  std::vector<double> values;
  for (const double y : expansion_points(y_near, y_far, line_shape, std::numbers::pi)) {
    double low = ln_p.low, high = ln_p.high;
    while (high - low > 1e-15) {
      const double middle = 0.5 * (low + high);
      if (middle == low || middle == high) break;
      (y_of(middle) < y ? low : high) = middle;
    }
    const double x = 0.5 * (low + high);
    values.push_back(T_crit * (1 - x * x));
  }
  return expansion_through(y_near, y_far, line_shape, values, std::numbers::pi);
}

/// Largest deviation of the expansions from the model, at points between those fitted.
double deviation(const BlendCurves& curves, const Line& bubble, const Line& dew, const Mixture& mixture) {
  double worst = 0;
  constexpr int points = 37;
  for (int i = 0; i < points; ++i) {
    const double x =
        curves.ln_p_bubble.low + (curves.ln_p_bubble.high - curves.ln_p_bubble.low) * (i + 0.37) / points;
    const double T = curves.T_crit * (1 - x * x);
    for (const bool liquid : {true, false}) {
      const PhaseSplit split = (liquid ? bubble : dew).solve(T);
      if (!split.converged) return 1;
      const Amounts& own = liquid ? split.liquid : split.vapour;
      const double rho = own.sum() * mixture.molar_mass(fractions(own));
      const double p_seen = std::exp(evaluate(liquid ? curves.ln_p_bubble : curves.ln_p_dew, x));
      const double rho_seen =
          liquid ? evaluate(curves.rho_bubble, x) : std::exp(evaluate(curves.ln_rho_dew, x));
      const double y = std::sqrt(std::log(curves.p_scale / split.p));
      const double T_seen = evaluate(liquid ? curves.T_bubble : curves.T_dew, y);
      for (const double ratio : {p_seen / split.p, rho_seen / rho, T_seen / T})
        worst = std::max(worst, std::abs(ratio - 1));
    }
  }
  return worst;
}

/// Beyond the end of the lines: where the dew line turns back, and the highest pressure at which two phases
/// are.
void find_clear_of_lines(BlendCurves& curves, const Mixture& mixture, const Amounts& mass_fractions,
                         const Line& dew, const Line& bubble) {
  double T = curves.T_high, p = curves.p_crit;
  for (const double quality : {0.0, 1.0}) {
    PhaseSplit at = (quality == 0 ? bubble : dew).solve(curves.T_high);
    for (int i = 0; i < 60 && at.converged; ++i) {
      p = std::max(p, at.p);
      T = std::max(T, at.T);
      at = split_from(mixture, {mass_fractions, quality, false, at.T + 0.001 * curves.T_crit}, at);
    }
  }
  curves.T_clear = std::max(T + 0.004 * curves.T_crit, 1.004 * curves.T_crit);
  curves.p_clear = 1.05 * p;
}

/// Both lines as expansions of this shape; false where an equilibrium was missed.
bool fit_curves(BlendCurves& out, const Line& bubble, const Line& dew, const Mixture& mixture,
                ExpansionShape shape) {
  const double x_near = std::sqrt(1 - out.T_high / out.T_crit), x_far = std::sqrt(1 - out.T_low / out.T_crit);
  const Fitted low = fit(bubble, mixture, true, out.T_crit, x_near, x_far, shape);
  const Fitted high = fit(dew, mixture, false, out.T_crit, x_near, x_far, shape);
  if (!low.complete || !high.complete) return false;
  out.ln_p_bubble = low.ln_p;
  out.rho_bubble = low.rho;
  out.vapour_at_bubble = low.other;
  out.ln_p_dew = high.ln_p;
  out.ln_rho_dew = high.rho;
  out.liquid_at_dew = high.other;
  out.p_scale = 1.02 * std::exp(std::max(evaluate(out.ln_p_bubble, x_near), evaluate(out.ln_p_dew, x_near)));
  out.T_bubble = inverse(out.ln_p_bubble, out.T_crit, out.p_scale);
  out.T_dew = inverse(out.ln_p_dew, out.T_crit, out.p_scale);
  return true;
}

}  // namespace

Result<BlendCurves> fit_lines(const std::string& designation, const Mixture& mixture,
                              const Amounts& mass_fractions) {
  const Amounts z = by_moles(mixture, mass_fractions);
  const MixtureCriticalPoint critical = critical_point(mixture, z);
  const Problem failed{"refrigerant", designation, "a blend whose phases this model can follow",
                       "its critical point or its bubble and dew lines were not found"};
  if (!critical.converged) return failed;
  BlendCurves out;
  out.T_crit = critical.T;
  out.p_crit = critical.p;
  out.rho_crit = critical.rho * mixture.molar_mass(z);
  for (const double T_low : cold_starts) {
    out.T_low = std::min(T_low, cold_part * critical.T);
    Line bubble(mixture, mass_fractions, 0, out.T_crit), dew(mixture, mass_fractions, 1, out.T_crit);
    const double hottest = hot_part * critical.T;
    out.T_high = std::min(bubble.follow(out.T_low, hottest), dew.follow(out.T_low, hottest));
    if (!(out.T_high > 0.9 * critical.T)) continue;
    if (!holds_together(mixture, out.T_low, bubble.solve(out.T_low).liquid)) continue;
    if (another_liquid(mixture, mass_fractions, dew.solve(out.T_low))) continue;
    // A blend whose cold liquid nearly parts in two has a bend in its dew line and needs shorter pieces.
    for (int pieces = fewest_pieces; pieces <= most_pieces; pieces *= 2) {
      if (!fit_curves(out, bubble, dew, mixture, {pieces, line_terms})) return failed;
      out.stated_error = deviation(out, bubble, dew, mixture);
      if (out.stated_error <= fits_well) break;
    }
    find_clear_of_lines(out, mixture, mass_fractions, dew, bubble);
    return out;
  }
  return failed;
}

}  // namespace coldwright::fluids

#include "fluids/phase_split.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "fluids/expansion.hpp"

namespace coldwright::fluids {
namespace {

constexpr int most_unknowns = 2 * most_components + 1;
using Unknowns = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most_unknowns, 1>;
using System = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, most_unknowns, most_unknowns>;

constexpr int most_iterations = 60;
constexpr double longest_step = 0.7;   // in the logarithm of a density
constexpr double close_enough = 1e-7;  // the step after it is below 1e-13
constexpr double same_phase = 1e-5;    // relative difference of the densities at the trivial answer

/// Mass fractions of one phase and their derivatives in the logarithms of its partial densities.
struct MassShares {
  Amounts w;
  explicit MassShares(const Mixture& mixture, const Amounts& rho) : w(by_mass(mixture, rho)) {}
  double slope(Eigen::Index k, Eigen::Index j) const { return w(k) * ((k == j ? 1.0 : 0.0) - w(j)); }
};

struct NewtonStep {
  Unknowns change;
  bool stable = false;  // the pressure of either phase grows with its density
};

/// One Newton step: unknowns ln rho'_k, ln rho''_k and, at a pressure, ln T. Equations:
///   ln f'_k = ln f''_k,   p' = p'',   (1 - q) w'_k + q w''_k = W_k for all k but one,   p'' = p at a
///   pressure
NewtonStep newton_step(const Mixture& mixture, const SplitQuestion& question, PhaseSplit& at) {
  const auto n = static_cast<Eigen::Index>(mixture.size());
  const Eigen::Index size = 2 * n + (question.at_pressure ? 1 : 0);
  const MixturePoint liquid = mixture.at(at.T, at.liquid), vapour = mixture.at(at.T, at.vapour);
  at.p = vapour.p;
  System a = System::Zero(size, size);
  Unknowns f = Unknowns::Zero(size);
  for (Eigen::Index k = 0; k < n; ++k) {
    f(k) = liquid.ln_f(k) - vapour.ln_f(k);
    for (Eigen::Index j = 0; j < n; ++j) {
      a(k, j) = liquid.ln_f_k(k, j) * at.liquid(j) + (k == j ? 1.0 : 0.0);
      a(k, n + j) = -vapour.ln_f_k(k, j) * at.vapour(j) - (k == j ? 1.0 : 0.0);
    }
  }
  const double scale = 1 / (vapour.rho * mixture_gas_constant * at.T);
  f(n) = scale * (liquid.p - vapour.p);
  for (Eigen::Index j = 0; j < n; ++j) {
    a(n, j) = scale * liquid.p_k(j) * at.liquid(j);
    a(n, n + j) = -scale * vapour.p_k(j) * at.vapour(j);
  }
  const MassShares below(mixture, at.liquid), above(mixture, at.vapour);
  for (Eigen::Index k = 0; k + 1 < n; ++k) {
    const Eigen::Index row = n + 1 + k;
    f(row) = (1 - question.quality) * below.w(k) + question.quality * above.w(k) - question.mass_fractions(k);
    for (Eigen::Index j = 0; j < n; ++j) {
      a(row, j) = (1 - question.quality) * below.slope(k, j);
      a(row, n + j) = question.quality * above.slope(k, j);
    }
  }
  if (question.at_pressure) {
    f(2 * n) = scale * (vapour.p - question.value);
    for (Eigen::Index j = 0; j < n; ++j) a(2 * n, n + j) = scale * vapour.p_k(j) * at.vapour(j);
    for (Eigen::Index k = 0; k < n; ++k) a(k, 2 * n) = at.T * (liquid.ln_f_T(k) - vapour.ln_f_T(k));
    a(n, 2 * n) = scale * at.T * (liquid.p_T - vapour.p_T);
    a(2 * n, 2 * n) = scale * at.T * vapour.p_T;
  }
  return {a.partialPivLu().solve(-f), at.liquid.dot(liquid.p_k) > 0 && at.vapour.dot(vapour.p_k) > 0};
}

/// ln p_sat of a pure component, continued beyond its ends along 1/T.
double ln_pressure(const FluidData& fluid, double T) {
  const SaturationCurves& curves = fluid.saturation;
  const auto inside = [&](double at) { return evaluate(curves.ln_p, std::sqrt(1 - at / curves.T_crit)); };
  const double low = fluid.T_triple * 1.001, high = curves.T_crit * 0.999;
  if (T >= low && T <= high) return inside(T);
  const double end = T < low ? low : high, other = T < low ? 1.05 * low : 0.9 * high;
  const double slope = (inside(other) - inside(end)) / (1 / other - 1 / end);
  return inside(end) + slope * (1 / T - 1 / end);
}

/// Molar volume of the saturated liquid, of the liquid at 0.9 T_crit where it is warmer.
double liquid_volume(const FluidData& fluid, double T) {
  const SaturationCurves& curves = fluid.saturation;
  const double inside = std::clamp(T, fluid.T_triple * 1.001, 0.9 * curves.T_crit);
  return fluid.M / evaluate(curves.rho_liquid, std::sqrt(1 - inside / curves.T_crit));
}

/// Raoult's law between the two phases, each phase ideal.
PhaseSplit ideal_start(const Mixture& mixture, const SplitQuestion& question, double T) {
  const Amounts z = by_moles(mixture, question.mass_fractions);
  const auto n = z.size();
  Amounts p_pure(n);
  for (Eigen::Index k = 0; k < n; ++k)
    p_pure(k) = std::exp(ln_pressure(mixture.components()[static_cast<std::size_t>(k)], T));
  // Between p of dew and p of bubble by the quality; K = p_k/p, and Rachford-Rice replaced by one pass.
  const double p_bubble = z.dot(p_pure), p_dew = 1 / (z.array() / p_pure.array()).sum();
  const double q = question.quality, p = p_bubble * (1 - q) + p_dew * q;
  Amounts x = (z.array() / (1 + q * (p_pure.array() / p - 1))).matrix();
  x /= x.sum();
  Amounts y = (x.array() * p_pure.array()).matrix();
  y /= y.sum();
  double volume = 0;
  for (Eigen::Index k = 0; k < n; ++k)
    volume += x(k) * liquid_volume(mixture.components()[static_cast<std::size_t>(k)], T);
  PhaseSplit out;
  out.T = T;
  out.p = p;
  out.liquid = x / volume;
  // A real vapour is denser than an ideal one; the second virial coefficient roughly from corresponding
  // states.
  const Mixture::Reducing reduced = mixture.reducing(y);
  const double ideal = p / (mixture_gas_constant * T);
  const double crowding = std::min(0.5, 1.3 * ideal / reduced.rho * std::pow(reduced.T / T, 1.5));
  out.vapour = y * ideal / (1 - crowding);
  return out;
}

PhaseSplit from_ideal(const Mixture& mixture, const SplitQuestion& question, double T) {
  return split_from(mixture, question, ideal_start(mixture, question, T));
}

}  // namespace

Amounts fractions(const Amounts& amounts) { return amounts / amounts.sum(); }

Amounts by_mass(const Mixture& mixture, const Amounts& moles) {
  Amounts out(moles.size());
  for (Eigen::Index k = 0; k < moles.size(); ++k)
    out(k) = moles(k) * mixture.molar_mass(static_cast<std::size_t>(k));
  return out / out.sum();
}

Amounts by_moles(const Mixture& mixture, const Amounts& masses) {
  Amounts out(masses.size());
  for (Eigen::Index k = 0; k < masses.size(); ++k)
    out(k) = masses(k) / mixture.molar_mass(static_cast<std::size_t>(k));
  return out / out.sum();
}

PhaseSplit split_from(const Mixture& mixture, const SplitQuestion& question, PhaseSplit at) {
  const auto n = static_cast<Eigen::Index>(mixture.size());
  if (!question.at_pressure) at.T = question.value;
  at.converged = false;
  for (at.iterations = 1; at.iterations <= most_iterations; ++at.iterations) {
    const auto [step, stable] = newton_step(mixture, question, at);
    const double largest = step.cwiseAbs().maxCoeff();
    if (!std::isfinite(largest)) return at;
    const double damping = largest > longest_step ? longest_step / largest : 1;
    for (Eigen::Index k = 0; k < n; ++k) {
      at.liquid(k) *= std::exp(damping * step(k));
      at.vapour(k) *= std::exp(damping * step(n + k));
    }
    if (question.at_pressure) at.T *= std::exp(damping * step(2 * n));
    if (largest < close_enough) {
      const double rho_liquid = at.liquid.sum(), rho_vapour = at.vapour.sum();
      // p follows the last step to first order; its own error is of second.
      at.p = question.at_pressure ? question.value : mixture.at(at.T, at.vapour).p;
      // A liquid thinner than any that holds together can have a vapour's fugacities as well.
      at.converged = stable && rho_liquid > rho_vapour * (1 + same_phase) && at.p > 0;
      return at;
    }
  }
  return at;
}

PhaseSplit split_at_temperature(const Mixture& mixture, const Amounts& mass_fractions, double quality,
                                double T) {
  const SplitQuestion question{mass_fractions, quality, false, T};
  const double T_reducing = mixture.reducing(by_moles(mixture, mass_fractions)).T;
  if (T < 0.85 * T_reducing) {
    const PhaseSplit direct = from_ideal(mixture, question, T);
    if (direct.converged) return direct;
  }
  // Up or down from a temperature where an ideal start serves, each step from the line through the last two.
  PhaseSplit here;
  for (const double cold : {0.7, 0.6, 0.5, 0.8}) {
    SplitQuestion start = question;
    start.value = cold * T_reducing;
    here = from_ideal(mixture, start, start.value);
    if (here.converged) break;
  }
  if (!here.converged) return here;
  PhaseSplit before = here;
  double step = 0.02 * T_reducing;
  while (here.T != T && step > 1e-5 * T_reducing) {
    SplitQuestion next = question;
    next.value = here.T < T ? std::min(T, here.T + step) : std::max(T, here.T - step);
    PhaseSplit guess = here;
    if (before.T != here.T) {
      const double along = (next.value - here.T) / (here.T - before.T);
      guess.liquid =
          (here.liquid.array() * (here.liquid.array() / before.liquid.array()).pow(along)).matrix();
      guess.vapour =
          (here.vapour.array() * (here.vapour.array() / before.vapour.array()).pow(along)).matrix();
    }
    const PhaseSplit found = split_from(mixture, next, guess);
    const bool steady = found.converged && found.liquid.sum() > 0.6 * here.liquid.sum();
    if (!steady) {
      step *= 0.5;
      continue;
    }
    before = here;
    here = found;
    step = std::min(0.02 * T_reducing, 1.5 * step);
  }
  here.converged = here.T == T;
  return here;
}

PhaseSplit split_at_pressure(const Mixture& mixture, const Amounts& mass_fractions, double quality,
                             double p) {
  const double T_reducing = mixture.reducing(by_moles(mixture, mass_fractions)).T;
  // ln p against 1/T is nearly a line: some secant steps in temperature, then Newton at the pressure itself.
  PhaseSplit a = split_at_temperature(mixture, mass_fractions, quality, 0.6 * T_reducing);
  PhaseSplit b = split_at_temperature(mixture, mass_fractions, quality, 0.75 * T_reducing);
  if (!a.converged || !b.converged) return a;
  for (int i = 0; i < 4; ++i) {
    const double slope = (std::log(b.p) - std::log(a.p)) / (1 / b.T - 1 / a.T);
    const double T = std::min(1 / (1 / b.T + (std::log(p) - std::log(b.p)) / slope), 0.985 * T_reducing);
    const PhaseSplit next = split_at_temperature(mixture, mass_fractions, quality, T);
    if (!next.converged || next.T == b.T) break;
    a = b;
    b = next;
    if (std::abs(std::log(b.p / p)) < 0.02) break;
  }
  return split_from(mixture, {mass_fractions, quality, true, p}, b);
}

}  // namespace coldwright::fluids

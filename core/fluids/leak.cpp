#include "fluids/leak.hpp"

#include <algorithm>
#include <cmath>

#include "fluids/blend_model.hpp"
#include "fluids/problems.hpp"

namespace coldwright::fluids {
namespace {

constexpr int shown_steps = 20, substeps = 4;

/// Mass of each component left, in a volume; the first total mass is 1.
struct Contents {
  const Mixture& mixture;
  double T, volume;  // K, m3 for that mass
  Amounts mass;
};

double mass_density(const Mixture& mixture, const Amounts& rho) {
  return rho.sum() * mixture.molar_mass(fractions(rho));
}

/// The phases that fill the volume: the quality is found from the specific volume, each time from the last
/// one's.
struct Equilibrium {
  PhaseSplit split;
  double quality = 0;
  bool two_phases = false;
};

Equilibrium settle(const Contents& contents, Equilibrium at) {
  const double v = contents.volume / contents.mass.sum();
  const Amounts masses = contents.mass / contents.mass.sum();
  for (int i = 0; i < 40; ++i) {
    at.split = split_from(contents.mixture, {masses, at.quality, false, contents.T}, at.split);
    if (!at.split.converged) return at;
    const double v_liquid = 1 / mass_density(contents.mixture, at.split.liquid);
    const double v_vapour = 1 / mass_density(contents.mixture, at.split.vapour);
    const double here = v_liquid + at.quality * (v_vapour - v_liquid);
    const double next = at.quality + (v - here) / (v_vapour - v_liquid);
    if (next >= 1 && at.quality >= 1) {  // all vapour: nothing is left to part
      at.two_phases = false;
      return at;
    }
    const double step = std::clamp(next, 0.0, 1.0) - at.quality;
    at.quality += step;
    if (std::abs(step) < 1e-10) break;
  }
  at.two_phases = true;
  return at;
}

Amounts leaving(const Contents& contents, const Equilibrium& at, LeakFrom from) {
  if (!at.two_phases) return contents.mass / contents.mass.sum();
  return by_mass(contents.mixture, from == LeakFrom::vapour ? at.split.vapour : at.split.liquid);
}

std::vector<double> listed(const Amounts& of) { return {of.data(), of.data() + of.size()}; }

/// The vapour's share of the mass that leaves this share of the volume to the liquid.
double quality_for(double liquid_share, double rho_liquid, double rho_vapour) {
  const double vapour = (1 - liquid_share) * rho_vapour, liquid = liquid_share * rho_liquid;
  return vapour / (vapour + liquid);
}

std::optional<Problem> check(const FluidData& blend, const LeakQuestion& question) {
  if (!blend.blend)
    return Problem{"refrigerant", blend.designation, "a blend", "a pure refrigerant leaks as what it is"};
  const BlendCurves& curves = blend.blend->curves;
  if (auto problem = outside("temperature", question.T, curves.T_low, curves.T_high, in_kelvin,
                             "between them " + blend.designation + " has a liquid and a vapour"))
    return problem;
  if (auto problem = outside("lost", question.lost, 0, most_lost, as_fraction, "it is a share of the charge"))
    return problem;
  return outside("liquid", question.liquid_share, 0, 1, as_fraction,
                 "it is the liquid's share of the volume");
}

}  // namespace

Result<LeakCourse> leak(const FluidData& blend, const LeakQuestion& question) {
  if (auto problem = check(blend, question)) return *problem;
  const BlendModel& model = *blend.blend;
  const Problem failed{"temperature", in_kelvin(question.T), "a temperature away from the critical point",
                       "the equilibrium of " + blend.designation + " was not found on the way"};
  Equilibrium at;
  at.quality =
      quality_for(question.liquid_share, model.bubble_density(question.T), model.dew_density(question.T));
  double v = 0;
  for (int i = 0; i < 4; ++i) {  // the shares are of the phases as they are at this quality
    at.split = model.split_at_T(question.T, at.quality);
    if (!at.split.converged) return failed;
    const double rho_liquid = mass_density(model.mixture, at.split.liquid);
    const double rho_vapour = mass_density(model.mixture, at.split.vapour);
    at.quality = quality_for(question.liquid_share, rho_liquid, rho_vapour);
    v = (1 - at.quality) / rho_liquid + at.quality / rho_vapour;
  }
  Contents contents{model.mixture, question.T, v, model.mass_fractions};
  LeakCourse out;
  const double step = question.lost / (shown_steps * substeps);
  for (int i = 0; i <= shown_steps; ++i) {
    at = settle(contents, at);
    if (!at.split.converged) return failed;
    out.steps.push_back({question.lost * i / shown_steps, at.split.p,
                         listed(contents.mass / contents.mass.sum()),
                         listed(leaving(contents, at, question.from)), at.two_phases && at.quality < 1});
    for (int k = 0; k < substeps && i < shown_steps; ++k) {  // the midpoint rule
      const Equilibrium before = settle(contents, at);
      Contents half = contents;
      half.mass -= 0.5 * step * leaving(contents, before, question.from);
      at = settle(half, before);
      if (!at.split.converged) return failed;
      contents.mass -= step * leaving(half, at, question.from);
    }
  }
  out.topped_up = listed(contents.mass + question.lost * model.mass_fractions);
  return out;
}

Result<LensPressures> lens_pressures(const FluidData& blend, const std::vector<double>& mass_fractions,
                                     double T) {
  const Amounts masses = Eigen::Map<const Eigen::VectorXd>(mass_fractions.data(),
                                                           static_cast<Eigen::Index>(mass_fractions.size()));
  const PhaseSplit bubble = split_at_temperature(blend.blend->mixture, masses, 0, T);
  const PhaseSplit dew = split_at_temperature(blend.blend->mixture, masses, 1, T);
  if (!bubble.converged || !dew.converged)
    return Problem{"temperature", in_kelvin(T), "a temperature away from the critical point",
                   "the equilibrium of this composition was not found here"};
  return LensPressures{bubble.p, dew.p};
}

}  // namespace coldwright::fluids

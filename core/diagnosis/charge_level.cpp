#include "diagnosis/charge_level.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include "base/normal.hpp"
#include "diagnosis/findings.hpp"
#include "diagnosis/investigation.hpp"

namespace coldwright::diagnosis {
namespace {

constexpr double kClose = 0.05;  // of its own charge: what counts as right, common practice

// Everything is known but the charge.
Knowledge of_charge_alone(const Knowledge& all, double low, double high) {
  Knowledge k;
  k.archetypes = all.archetypes;
  k.no_flame = all.no_flame;
  k.causes = {{"overcharge", 1, low, high, "none"}};
  k.pair_weight = 0;
  return k;
}

// The latent at which severity_of() gives this share of the charge.
double latent_of(double share, double low, double high) {
  return normal_quantile(std::clamp((share - 1 - low) / (high - low), 1e-9, 1 - 1e-9));
}

const Hypothesis& only() {
  static const Hypothesis h{{0}, "overcharge", 0};
  return h;
}

Latents drawn(const RandomStream& random, int i) {
  RandomStream one = random.fork(static_cast<std::uint64_t>(i));
  Latents z{};
  for (double& x : z) x = one.normal();
  return z;
}

Case readings_alone(const Case& c) {
  Case bare = c;
  bare.observations.clear();
  return bare;
}

const Problem kNoReading{"readings", "nothing",
                         "a reading of the running machine, such as its suction pressure",
                         "without one there is nothing to judge the charge by"};
const Problem kCancelled{"charge", "cancelled", "let it run", "it was stopped from outside"};
const Problem kNoMachine{"readings", "what no machine of this kind shows at any charge",
                         "readings of a running machine that is sound but for its charge",
                         "another cause is at work, or a reading or its unit is mistaken"};

struct Column {
  Interval ChargeLevel::*to;
  double (*of)(const Simulated&);
};
constexpr Column kColumns[] = {
    {&ChargeLevel::charge, [](const Simulated& s) { return s.charge; }},
    {&ChargeLevel::suction_pressure, [](const Simulated& s) { return s.point.p_suction; }},
    {&ChargeLevel::superheat, [](const Simulated& s) { return s.point.superheat; }},
    {&ChargeLevel::current, [](const Simulated& s) { return s.point.current; }},
    {&ChargeLevel::condenser_outlet, [](const Simulated& s) { return s.point.T_liquid; }},
    {&ChargeLevel::capacity, [](const Simulated& s) { return s.point.capacity; }},
};

}  // namespace

Result<std::vector<ChargeLevel>> charge_levels(const Case& c, const circuit::WorkingFluid& fluid,
                                               const Knowledge& all, const std::vector<double>& shares,
                                               const Options& options) {
  const double low = kLeastShare - 1, high = kMostShare - 1;
  const Knowledge k = of_charge_alone(all, low, high);
  const auto setting = set_scene(c, fluid, k);
  if (!setting) return setting.problem();
  Scene scene = setting->scene;
  scene.kind = &setting->kind;
  scene.not_cooling = scene.no_complaint = false;
  const RandomStream random(options.seed);
  std::vector<ChargeLevel> out;
  for (double share : shares) {
    std::vector<Simulated> machines;
    int tripped = 0;
    for (int i = 0; i < options.population; ++i) {
      Latents z = drawn(random, i);
      z[index(Extra::severity)] = latent_of(share, low, high);
      Simulated s = simulate(scene, only(), z);
      if (!s.ok) continue;
      tripped += s.mode == Mode::tripped;
      machines.push_back(std::move(s));
    }
    if (5 * static_cast<int>(machines.size()) < options.population)
      return Problem{"charge", "a plate that fits few machines of this kind",
                     "the plate's charge and current", "too few machines could be computed"};
    ChargeLevel level{};
    level.share = share;
    level.tripped = static_cast<double>(tripped) / static_cast<double>(machines.size());
    for (const Column& column : kColumns) {
      std::vector<Weighted> v;
      for (const Simulated& s : machines) v.push_back({column.of(s), 1});
      level.*column.to = interval_of(std::move(v));
    }
    out.push_back(level);
    if (options.progress &&
        !options.progress(static_cast<double>(out.size()) / static_cast<double>(shares.size())))
      return kCancelled;
  }
  return out;
}

Result<ChargeEstimate> estimate_charge(const Case& the_case, const circuit::WorkingFluid& fluid,
                                       const Knowledge& all, const Options& options) {
  if (the_case.readings.empty()) return kNoReading;
  const Knowledge k = of_charge_alone(all, kLeastShare - 1, kMostShare - 1);
  const Case c = readings_alone(the_case);
  const auto investigation = Investigation::open(c, std::make_shared<const circuit::WorkingFluid>(fluid), k);
  if (!investigation) return investigation.problem();
  const auto share =
      (*investigation)->draw({options.population, false, RandomStream(options.seed)}, options.progress);
  if (!share) return share.problem();
  const HypothesisPosterior& p = share->posterior.items.front();
  std::vector<Weighted> shares, charges, missing;
  double sum = 0, squares = 0;
  ChargeEstimate out{};
  for (const Particle& q : p.particles) {
    if (!q.sim.ok || !(q.weight > 0)) continue;
    const double own = q.sim.charge / (1 + q.sim.severity);
    shares.push_back({1 + q.sim.severity, q.weight});
    charges.push_back({q.sim.charge, q.weight});
    missing.push_back({own - q.sim.charge, q.weight});
    sum += q.weight;
    squares += q.weight * q.weight;
    if (q.sim.severity < -kClose) out.below += q.weight;
    if (q.sim.severity > kClose) out.above += q.weight;
  }
  if (!(sum > 0)) return kNoMachine;
  out.share = interval_of(std::move(shares));
  out.charge = interval_of(std::move(charges));
  out.missing = interval_of(std::move(missing));
  out.below /= sum;
  out.above /= sum;
  out.effective_size = sum * sum / squares;
  return out;
}

Interval usual_charge(const circuit::Archetype& kind) {
  const auto at = [&](double z) { return kind.charge.median * std::exp(std::log(kind.charge.ratio) * z); };
  return {at(-1.645), at(0), at(1.645)};
}

Result<ChargeSearch> search_charge(const Case& the_case, const circuit::WorkingFluid& fluid,
                                   const Knowledge& all, double held, double held_sigma,
                                   const Options& options) {
  // Beyond these shares a machine is as starved or as flooded as at them, and hard to solve.
  constexpr double kStarved = 0.3, kFlooded = 2.2, kLow = -0.95, kHigh = 3;
  const Knowledge k = of_charge_alone(all, kLow, kHigh);
  Case c = readings_alone(the_case);
  c.nameplate.charge.reset();
  const auto setting = set_scene(c, fluid, k);
  if (!setting) return setting.problem();
  const auto evidence = prepare(c, k);
  if (!evidence) return evidence.problem();
  Scene scene = setting->scene;
  scene.kind = &setting->kind;
  scene.not_cooling = scene.no_complaint = false;
  const RandomStream random(options.seed);
  const int count = 10 * options.population;
  struct Draw {
    double own, held, log_weight;
  };
  std::vector<Draw> draws;
  double top = -1e300;
  for (int i = 0; i < count; ++i) {
    Latents z = drawn(random, i);
    const auto latent = [&](circuit::Latent l) { return z[static_cast<std::size_t>(l)]; };
    const double in_it = std::max(
        held + held_sigma * random.fork(1u << 20).fork(static_cast<std::uint64_t>(i)).normal(), 1e-3 * held);
    const double built = setting->kind.charge.median * std::exp(std::log(setting->kind.charge.ratio) *
                                                                latent(circuit::Latent::charge_unknown));
    Draw d{built, in_it, 0};
    if (!c.readings.empty()) {
      const double spread = 1 + 0.02 * std::clamp(latent(circuit::Latent::charge_spread), -3.0, 3.0);
      z[index(Extra::severity)] =
          latent_of(std::clamp(in_it / (built * spread), kStarved, kFlooded), kLow, kHigh);
      const Simulated s = simulate(scene, only(), z);
      if (!s.ok) continue;
      d.log_weight = log_readings(*evidence, s);
    }
    top = std::max(top, d.log_weight);
    draws.push_back(d);
    if (options.progress && i % 50 == 0 && !options.progress(static_cast<double>(i) / count))
      return kCancelled;
  }
  std::vector<Weighted> own, missing;
  double sum = 0, squares = 0;
  ChargeSearch out{};
  for (const Draw& d : draws) {
    const double w = std::exp(d.log_weight - top);
    own.push_back({d.own, w});
    missing.push_back({d.own - d.held, w});
    sum += w;
    squares += w * w;
    if (d.held >= d.own) out.enough += w;
  }
  if (!(sum > 0)) return kNoMachine;
  out.own = interval_of(std::move(own));
  out.missing = interval_of(std::move(missing));
  out.enough /= sum;
  out.effective_size = sum * sum / squares;
  return out;
}

}  // namespace coldwright::diagnosis

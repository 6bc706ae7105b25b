// Intervals, predictives and the ranked list.
#include <algorithm>
#include <cmath>

#include "diagnosis/findings.hpp"

namespace coldwright::diagnosis {

Interval interval_of(std::vector<Weighted> v) {
  double total = 0;
  for (const Weighted& w : v) total += w.weight;
  if (!(total > 0)) return {0, 0, 0};
  std::sort(v.begin(), v.end(), [](const Weighted& a, const Weighted& b) { return a.value < b.value; });
  const auto quantile = [&](double p) {
    double sum = 0;
    for (const Weighted& w : v) {
      sum += w.weight;
      if (sum >= p * total) return w.value;
    }
    return v.back().value;
  };
  return {quantile(0.05), quantile(0.5), quantile(0.95)};
}

Predictive predictive(const Inquiry& q, const HypothesisPosterior& h, circuit::ReadingKind kind) {
  double sum = 0, mean = 0, square = 0;
  for (const Particle& p : h.particles) {
    if (!(p.weight > 0)) continue;
    const double y = scale(kind, p.sim.readings[static_cast<std::size_t>(kind)]);
    sum += p.weight;
    mean += p.weight * y;
    square += p.weight * y * y;
  }
  if (!(sum > 0)) return {0, 1};
  mean /= sum;
  const double variance = std::max(square / sum - mean * mean, 0.0);
  const bool ohms = circuit::info(kind).quantity == circuit::QuantityKind::resistance;
  const Reading would_be{kind, ohms ? std::exp(mean) : mean, std::nullopt, std::nullopt, ""};
  const double noise = uncertainty(would_be, q.the_case.site_pressure).total;
  return {mean, std::sqrt(variance + noise * noise)};
}

Interval sound_reading(const Inquiry& q, circuit::ReadingKind kind) {
  std::vector<Weighted> v;
  for (const Particle& p : q.sound)
    if (p.sim.ok) v.push_back({p.sim.readings[static_cast<std::size_t>(kind)], 1});
  return interval_of(std::move(v));
}

// A probability is a ratio of evidences, each known from so many effective draws to 1 / sqrt(draws)
// of itself and counted as far as it is trusted; by the delta method the errors of all add up.
double drawing_error(const Posterior& all, const HypothesisPosterior& of) {
  double sum = 0;
  for (const HypothesisPosterior& h : all.items) {
    const double share = h.hypothesis.trust * (&h == &of ? 1 - h.probability : h.probability);
    sum += share * share / std::max(h.effective_size, 1.0);
  }
  return of.probability * std::sqrt(sum);
}

std::vector<RankedCause> rank_causes(const Inquiry& q) {
  std::vector<RankedCause> ranked;
  for (const HypothesisPosterior& h : q.posterior.items) {
    RankedCause r;
    r.cause = h.hypothesis.id;
    r.probability = h.probability;
    const CauseInfo& first = q.scene.knowledge->causes[static_cast<std::size_t>(h.hypothesis.causes.front())];
    r.severity_measure = first.measure;
    const auto severity = [&](double Simulated::*of) {
      std::vector<Weighted> v;
      for (const Particle& p : h.particles) v.push_back({p.sim.*of, p.weight});
      return interval_of(std::move(v));
    };
    if (first.measure != "none" && h.rounds > 0) r.severity = severity(&Simulated::severity);
    if (h.hypothesis.causes.size() == 2) {
      r.severity_measure_2 =
          q.scene.knowledge->causes[static_cast<std::size_t>(h.hypothesis.causes[1])].measure;
      if (r.severity_measure_2 != "none" && h.rounds > 0) r.severity_2 = severity(&Simulated::severity_2);
    }
    r.error = drawing_error(q.posterior, h);
    ranked.push_back(std::move(r));
  }
  std::stable_sort(ranked.begin(), ranked.end(),
                   [](const auto& a, const auto& b) { return a.probability > b.probability; });
  return ranked;
}

std::vector<Unseen> quantities(const std::vector<std::pair<const Simulated*, double>>& machines,
                               bool running_only) {
  struct Row {
    const char* name;
    Unit unit;
    double (*of)(const Simulated&);
    bool of_flow = false;  // nothing of the kind where nothing is pumped
  };
  static constexpr Row rows[] = {
      {"suction_pressure", Unit::pressure, [](const Simulated& s) { return s.point.p_suction; }},
      {"discharge_pressure", Unit::pressure, [](const Simulated& s) { return s.point.p_discharge; }},
      {"evaporating_temperature", Unit::temperature,
       [](const Simulated& s) { return s.point.T_evaporating; }},
      {"condensing_temperature", Unit::temperature, [](const Simulated& s) { return s.point.T_condensing; }},
      {"superheat", Unit::temperature_difference, [](const Simulated& s) { return s.point.superheat; }, true},
      {"subcooling", Unit::temperature_difference, [](const Simulated& s) { return s.point.subcooling; },
       true},
      {"evaporator_td", Unit::temperature_difference,
       [](const Simulated& s) { return s.true_box - s.point.T_evaporating; }},
      {"condenser_split", Unit::temperature_difference,
       [](const Simulated& s) { return s.point.T_condensing - s.true_ambient; }, true},
      {"discharge_temperature", Unit::temperature, [](const Simulated& s) { return s.point.T_discharge; }},
      {"charge", Unit::mass, [](const Simulated& s) { return s.charge; }},
      {"capacity", Unit::power, [](const Simulated& s) { return s.point.capacity; }},
      {"compressor_power", Unit::power, [](const Simulated& s) { return s.point.power; }},
      {"unloaded_current", Unit::current, [](const Simulated& s) { return s.unloaded_current; }},
  };
  std::vector<Unseen> out;
  for (const Row& row : rows) {
    std::vector<Weighted> v;
    double all = 0, told = 0;
    for (const auto& [sim, weight] : machines) {
      if (!sim->ok || (running_only && sim->mode != Mode::running && sim->mode != Mode::tripped)) continue;
      all += weight;
      if (row.of_flow && sim->point.summary.status == circuit::Status::equalised) continue;
      told += weight;
      v.push_back({row.of(*sim), weight});
    }
    if (told > 0.5 * all) out.push_back({row.name, row.unit, interval_of(std::move(v)), std::nullopt});
  }
  return out;
}

std::vector<Unseen> unseen_side(const Inquiry& q) {
  std::vector<std::pair<const Simulated*, double>> now, sound;
  for (const HypothesisPosterior& h : q.posterior.items)
    for (const Particle& p : h.particles)
      if (h.probability * p.weight > 1e-9) now.emplace_back(&p.sim, h.probability * p.weight);
  for (const Particle& p : q.sound) sound.emplace_back(&p.sim, 1.0);
  std::vector<Unseen> out = quantities(now, false);
  for (const Unseen& usual : quantities(sound, true))
    for (Unseen& u : out)
      if (u.quantity == usual.quantity) u.sound = usual.interval;
  std::erase_if(out, [&](const Unseen& u) {
    return std::any_of(q.evidence.readings.begin(), q.evidence.readings.end(),
                       [&](const Reading& r) { return circuit::info(r.kind).id == u.quantity; });
  });
  return out;
}

}  // namespace coldwright::diagnosis

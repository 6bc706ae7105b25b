#include "procedures/proof.hpp"

#include <algorithm>
#include <cmath>

#include "base/normal.hpp"
#include "diagnosis/findings.hpp"

namespace coldwright::procedures {
namespace {

using diagnosis::HypothesisPosterior;
using diagnosis::Interval;
using diagnosis::Particle;
using diagnosis::Weighted;

constexpr int kLoads = 7, kMasses = 61, kBandPoints = 24;
constexpr double kWidestMass = 3;           // standard deviations
constexpr double kNegligible = 1e-5;        // of the largest weight
constexpr double kLongestWait = 24 * 3600;  // s: what isn't there by then isn't called reached
constexpr double kReadingScatter = 0.8;     // K: wandering and probe of pull_down.cpp together
constexpr double kSoundAfterRepair = 0.8, kOldCause = 1.0 / 3;
constexpr double kWorthACourse = 0.02;
constexpr std::size_t kLoadLatent = static_cast<std::size_t>(circuit::Latent::load);

double load_node(int i) { return normal_quantile((i + 0.5) / kLoads); }
double mass_node(int i) { return kWidestMass * (2.0 * i / (kMasses - 1) - 1); }

/// One way the box may go, with its weight.
struct Run {
  std::size_t course;  // index into Runs::courses
  double mass, weight;
};
struct Runs {
  std::vector<Course> courses;
  std::vector<bool> overload;  // per course
  std::vector<Run> all;
};

class Prover {
 public:
  Prover(const ProofQuestion& q, const diagnosis::Scene& scene, double set_point)
      : q_(q), scene_(scene), set_point_(set_point), start_(q.readings.front().box) {}

  double set_point() const { return set_point_; }

  /// Every load and mass of a drawn machine, weighed by the course when there is one. Gives ln of the mean
  /// likelihood; empty when the machine can't be computed.
  std::optional<double> weigh(const diagnosis::Hypothesis& h, const Particle& p, bool by_course, Runs& runs,
                              double weight) const;
  PullDown summary(const Runs& runs, double until) const;
  double until(const Runs& runs) const;

 private:
  double likelihood(const Course& course, double mass) const;

  const ProofQuestion& q_;
  const diagnosis::Scene& scene_;
  double set_point_, start_;
};

double Prover::likelihood(const Course& course, double mass) const {
  std::vector<double> predicted;
  std::vector<bool> settled;
  for (const BoxReading& r : q_.readings) {
    const double box = course.at(r.seconds / mass);
    settled.push_back(box < set_point_ + 0.5);
    predicted.push_back(std::max(box, set_point_));
  }
  return log_likelihood(q_.readings, predicted, settled);
}

std::optional<double> Prover::weigh(const diagnosis::Hypothesis& h, const Particle& p, bool by_course,
                                    Runs& runs, double weight) const {
  std::optional<Cooling> cooling;
  std::vector<double> logs;
  std::vector<Run> here;
  const double high = std::max(start_, set_point_ + 2) + 1;
  for (int i = 0; i < kLoads; ++i) {
    diagnosis::Latents z = p.z;
    z[kLoadLatent] = load_node(i);
    const auto built = diagnosis::build(scene_, h, z);
    if (!built) return std::nullopt;
    if (!cooling) cooling = cooling_of(*built, *scene_.fluid, set_point_ - 1, high);
    if (!cooling) return std::nullopt;
    const Course course(*cooling, built->machine.load_per_kelvin * built->effects.load_factor,
                        built->conditions.ambient, start_);
    const ThermalMass mass = thermal_mass(built->machine.design_capacity, q_.product);
    for (int j = 0; j < kMasses; ++j) {
      const double z_mass = mass_node(j);
      const double C = mass.of(z_mass);
      logs.push_back(normal_log_density(z_mass) + (by_course ? likelihood(course, C) : 0));
      here.push_back({runs.courses.size(), C, 0});
    }
    runs.courses.push_back(course);
    runs.overload.push_back(std::find(cooling->tripped.begin(), cooling->tripped.end(), true) !=
                            cooling->tripped.end());
  }
  const double top = *std::max_element(logs.begin(), logs.end());
  double sum = 0, prior = 0;
  for (int j = 0; j < kMasses; ++j) prior += kLoads * std::exp(normal_log_density(mass_node(j)));
  for (double log : logs) sum += std::exp(log - top);
  const double log_mean = top + std::log(sum / prior);
  for (std::size_t i = 0; i < logs.size(); ++i) {
    here[i].weight = std::exp(logs[i] - top) / sum;
    if (here[i].weight < kNegligible) continue;
    here[i].weight *= weight;
    runs.all.push_back(here[i]);
  }
  return log_mean;
}

double Prover::until(const Runs& runs) const {
  std::vector<Weighted> times;
  for (const Run& r : runs.all)
    if (const auto when = runs.courses[r.course].when(set_point_))
      times.push_back({*when * r.mass, r.weight});
  const double reached = times.empty() ? 6 * 3600 : diagnosis::interval_of(std::move(times)).high;
  return std::max(q_.readings.back().seconds, std::min(1.1 * reached, 12.0 * 3600));
}

PullDown Prover::summary(const Runs& runs, double until) const {
  PullDown out;
  double total = 0, reaching = 0, overload = 0;
  std::vector<Weighted> times, rest;
  for (const Run& r : runs.all) {
    total += r.weight;
    overload += runs.overload[r.course] ? r.weight : 0;
    const Course& course = runs.courses[r.course];
    const auto when = course.when(set_point_);
    const bool there = when && *when * r.mass <= kLongestWait;
    rest.push_back({std::max(course.at(kLongestWait / r.mass), set_point_), r.weight});
    if (!there) continue;
    reaching += r.weight;
    times.push_back({*when * r.mass, r.weight});
  }
  if (!(total > 0)) return out;
  out.reaches = reaching / total;
  out.overload = overload / total;
  out.rest = diagnosis::interval_of(std::move(rest));
  if (!times.empty()) out.seconds_to_set_point = diagnosis::interval_of(std::move(times));
  for (int i = 0; i < kBandPoints; ++i) {
    const double t = until * i / (kBandPoints - 1);
    std::vector<Weighted> at;
    at.reserve(runs.all.size());
    double turn = 0;  // golden steps spread the readings' scatter evenly over the runs
    for (const Run& r : runs.all) {
      turn += 0.6180339887498949;
      turn -= std::floor(turn);
      const double scatter = kReadingScatter * normal_quantile(0.005 + 0.99 * turn);
      at.push_back({std::max(runs.courses[r.course].at(t / r.mass), set_point_) + scatter, r.weight});
    }
    out.band.push_back({t, diagnosis::interval_of(std::move(at))});
  }
  return out;
}

// What this machine has otherwise than others of its kind while it is sound: known to two thirds of their
// spread, and off their middle by half of it.
std::vector<OwnValue> own_values(const std::vector<std::pair<const diagnosis::Simulated*, double>>& here,
                                 const std::vector<Particle>& population) {
  std::vector<std::pair<const diagnosis::Simulated*, double>> usual;
  for (const Particle& p : population)
    if (p.sim.ok) usual.emplace_back(&p.sim, 1.0);
  std::vector<OwnValue> own;
  for (const diagnosis::Unseen& u : diagnosis::quantities(here, true))
    for (const diagnosis::Unseen& v : diagnosis::quantities(usual, true)) {
      if (u.quantity != v.quantity || (u.quantity != "evaporator_td" && u.quantity != "condenser_split"))
        continue;
      const double width = v.interval.high - v.interval.low;
      if (u.interval.high - u.interval.low < 0.67 * width &&
          std::abs(u.interval.mid - v.interval.mid) > 0.25 * width)
        own.push_back({u.quantity, u.interval, v.interval});
    }
  return own;
}

}  // namespace

diagnosis::Knowledge after_repair(const diagnosis::Knowledge& before, const std::string& repaired) {
  diagnosis::Knowledge k = before;
  double others = 0;
  for (const auto& c : k.causes) others += c.id == "sound" ? 0 : c.weight;
  for (auto& c : k.causes)
    if (c.id == repaired && c.id != "sound") {
      const double rest = others - c.weight;
      c.weight = std::max(c.weight, kOldCause / (1 - kOldCause) * rest);
      others = rest + c.weight;
    }
  for (auto& c : k.causes)
    if (c.id == "sound") c.weight = kSoundAfterRepair / (1 - kSoundAfterRepair) * others;
  return k;
}

namespace {

double probability_of_sound(const diagnosis::Posterior& posterior) {
  for (const HypothesisPosterior& p : posterior.items)
    if (p.hypothesis.id == "sound") return p.probability;
  return 0;
}

/// What a hypothesis' machines do with the course: weights them by it, within the hypothesis and its
/// evidence.
struct Followed {
  Runs runs;
  std::vector<std::pair<const diagnosis::Simulated*, double>> machines;
  int unsolved = 0;
};
Followed follow(const Prover& prover, HypothesisPosterior& h) {
  Followed out;
  double largest = 0, top = -1e300;
  for (const Particle& p : h.particles) largest = std::max(largest, p.weight);
  std::vector<std::pair<Particle*, double>> logs;
  for (Particle& p : h.particles) {
    if (!(p.weight > 1e-4 * largest)) continue;
    Runs own;
    const auto log = prover.weigh(h.hypothesis, p, true, own, 1);
    if (!log) {
      ++out.unsolved;
      continue;
    }
    logs.emplace_back(&p, std::log(p.weight) + *log);
    top = std::max(top, logs.back().second);
    for (Run r : own.all) {  // as logarithms until the largest is known
      r.course += out.runs.courses.size();
      r.weight = std::log(r.weight) + logs.back().second;
      out.runs.all.push_back(r);
    }
    out.runs.courses.insert(out.runs.courses.end(), own.courses.begin(), own.courses.end());
    out.runs.overload.insert(out.runs.overload.end(), own.overload.begin(), own.overload.end());
  }
  double sum = 0, squares = 0;
  for (Particle& p : h.particles) p.weight = 0;
  for (auto& [particle, log] : logs) {
    particle->weight = std::exp(log - top);
    sum += particle->weight;
    squares += particle->weight * particle->weight;
  }
  for (auto& [particle, log] : logs) {
    particle->weight /= sum;
    out.machines.emplace_back(&particle->sim, particle->weight);
  }
  for (Run& r : out.runs.all) r.weight = std::exp(r.weight - top);
  std::erase_if(out.runs.all, [](const Run& r) { return r.weight < kNegligible; });
  h.log_evidence = sum > 0 ? h.log_evidence + top + std::log(sum) : -1e300;
  h.effective_size = squares > 0 ? sum * sum / squares : 0;
  return out;
}

/// What the weighted machines say, hypothesis by hypothesis.
void conclude(Proof& proof, const Prover& prover, const diagnosis::Posterior& posterior,
              const std::vector<Followed>& followed, const std::vector<Particle>& population, double until) {
  for (std::size_t i = 0; i < posterior.items.size(); ++i) {
    const HypothesisPosterior& h = posterior.items[i];
    const Runs& runs = followed[i].runs;
    if (h.hypothesis.id == "sound") {
      proof.updated = prover.summary(runs, until);
      std::vector<Weighted> mass;
      for (const Run& r : runs.all) mass.push_back({r.mass, r.weight});
      proof.mass = diagnosis::interval_of(std::move(mass));
      if (h.probability >= kProved) proof.own = own_values(followed[i].machines, population);
    } else if (h.probability > kWorthACourse) {
      proof.slower.push_back({h.hypothesis.id, h.probability, prover.summary(runs, until)});
    }
  }
  std::stable_sort(proof.slower.begin(), proof.slower.end(),
                   [](const auto& a, const auto& b) { return a.probability > b.probability; });
  if (proof.slower.size() > 3) proof.slower.resize(3);
}

}  // namespace

Result<Proof> prove(const ProofQuestion& q, std::shared_ptr<const circuit::WorkingFluid> fluid,
                    const diagnosis::Knowledge& knowledge, const diagnosis::Options& options) {
  const diagnosis::Knowledge known = after_repair(knowledge, q.repaired_cause);
  const auto investigation =
      diagnosis::Investigation::open(q.final_state, std::move(fluid), known, options.prior);
  if (!investigation) return investigation.problem();
  const auto tick = [&](double x) { return !options.progress || options.progress(x); };
  auto share = (*investigation)->draw({options.population, false, RandomStream(options.seed)}, [&](double x) {
    return tick(0.6 * x);
  });
  if (!share) return share.problem();
  const diagnosis::Scene& scene = (*investigation)->scene();
  const Prover prover(q, scene, q.final_state.nameplate.set_point.value_or(scene.kind->set_point_K));

  Proof proof;
  diagnosis::Posterior& posterior = share->posterior;
  proof.sound_by_readings = probability_of_sound(posterior);
  proof.quality.unsolved = posterior.unsolved;
  proof.quality.solves = posterior.solves;
  proof.quality.refined_rounds = posterior.remedies;
  const auto sound = std::find_if(posterior.items.begin(), posterior.items.end(),
                                  [](const auto& p) { return p.hypothesis.id == "sound"; });
  Runs usual;
  for (const Particle& p : share->sound)
    if (p.sim.ok && !prover.weigh(sound->hypothesis, p, false, usual, 1)) ++proof.quality.unsolved;
  const double until = prover.until(usual);
  proof.predicted = prover.summary(usual, until);
  const diagnosis::Inquiry inquiry{q.final_state, scene, (*investigation)->evidence(), posterior,
                                   share->sound};
  for (const diagnosis::Reading& r : q.final_state.readings)
    proof.final_state.push_back({r.kind, r.value, diagnosis::sound_reading(inquiry, r.kind)});
  if (q.readings.size() < 2 && q.final_state.readings.empty()) return proof;

  std::vector<Followed> followed;
  for (HypothesisPosterior& h : posterior.items) {
    followed.push_back(follow(prover, h));
    proof.quality.unsolved += followed.back().unsolved;
    if (!tick(0.6 + 0.4 * static_cast<double>(followed.size()) / static_cast<double>(posterior.items.size())))
      return Problem{"proof", "cancelled", "let it run", "it was stopped from outside"};
  }
  diagnosis::normalise(posterior);
  proof.causes = diagnosis::rank_causes(inquiry);
  proof.sound = probability_of_sound(posterior);
  proof.quality.effective_sample_size = posterior.effective_size;
  proof.quality.smallest_effective_size = posterior.smallest_effective_size;
  proof.quality.trustworthy = posterior.smallest_effective_size >= 12;
  conclude(proof, prover, posterior, followed, share->sound, until);
  return proof;
}

}  // namespace coldwright::procedures

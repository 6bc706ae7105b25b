#include "diagnosis/posterior.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::diagnosis {
namespace {

constexpr double kWorthSampling = 5;  // nats below the leader; less likely ones keep their Laplace evidence
constexpr double kEnough = 0.2;       // effective share of a round below which a hypothesis is sampled again
constexpr int kMaxRounds = 3;

struct Mixture {
  std::vector<Proposal> parts;
  std::vector<double> counts;  // draws from each part
  double prior_count = 0;

  // ln of the density the draws came from, all parts together
  double log_density(const Latents& z) const {
    double total = prior_count;
    for (double c : counts) total += c;
    double top = log_prior_density(z) + std::log(prior_count);
    std::vector<double> terms{top};
    for (std::size_t i = 0; i < parts.size(); ++i) {
      terms.push_back(parts[i].log_density(z) + std::log(counts[i]));
      top = std::max(top, terms.back());
    }
    double sum = 0;
    for (double t : terms) sum += std::exp(t - top);
    return top + std::log(sum / total);
  }
};

double log_likelihood_of(const Scene& scene, const Hypothesis& h, const Evidence& e, const Simulated& s) {
  return log_readings(e, s) + log_observations(e, h, *scene.knowledge, s) + std::log(s.complaint);
}

// Weights against the mixture; sets log_evidence and effective size.
void weigh(HypothesisPosterior& p, const Mixture& mix) {
  double top = -1e300;
  std::vector<double> logs(p.particles.size(), -1e300);
  for (std::size_t i = 0; i < p.particles.size(); ++i) {
    const Particle& q = p.particles[i];
    if (!q.sim.ok) continue;
    logs[i] = q.log_likelihood + log_prior_density(q.z) - mix.log_density(q.z);
    top = std::max(top, logs[i]);
  }
  double sum = 0, squares = 0;
  for (std::size_t i = 0; i < logs.size(); ++i) {
    p.particles[i].weight = logs[i] > -1e299 ? std::exp(logs[i] - top) : 0;
    sum += p.particles[i].weight;
    squares += p.particles[i].weight * p.particles[i].weight;
  }
  if (!(sum > 0)) {
    p.log_evidence = -1e300;
    return;
  }
  for (Particle& q : p.particles) q.weight /= sum;
  p.effective_size = sum * sum / squares;
  p.log_evidence = top + std::log(sum / static_cast<double>(logs.size())) - p.log_complaint;
}

const Particle* best_of(const HypothesisPosterior& p) {
  const Particle* best = nullptr;
  double value = -1e300;
  for (const Particle& q : p.particles) {
    const double v = q.log_likelihood + log_prior_density(q.z);
    if (q.sim.ok && v > value) {
      best = &q;
      value = v;
    }
  }
  return best;
}

void sample_round(const Scene& scene, const Evidence& e, HypothesisPosterior& p, Mixture& mix, int count,
                  RandomStream random, Posterior& all) {
  const int each = count / static_cast<int>(p.modes.size()), wide = each / 4;
  for (const Linear& mode : p.modes) {
    for (const auto& [width, n] : {std::pair{1.1, each - wide}, std::pair{1.9, wide}}) {
      mix.parts.emplace_back(mode, width);
      mix.counts.push_back(n);
      for (int i = 0; i < n; ++i) {
        Particle q;
        q.z = mix.parts.back().sample(random);
        q.sim = simulate(scene, p.hypothesis, q.z, mode.solution.tripped ? nullptr : &mode.solution);
        ++all.solves;
        if (q.sim.ok) {
          q.log_likelihood = log_likelihood_of(scene, p.hypothesis, e, q.sim);
        } else {
          ++all.unsolved;
        }
        p.particles.push_back(std::move(q));
      }
    }
  }
  ++p.rounds;
  weigh(p, mix);
}

// How well a draw explains the evidence when every reading is trusted four times less: rough enough to
// compare draws that all miss the readings.
constexpr double kHopeless = 14;
double rough_fit(const Scene& scene, const Hypothesis& h, const Evidence& e, const Simulated& s) {
  if (!s.ok) return -1e300;
  double sum = log_observations(e, h, *scene.knowledge, s) + std::log(s.complaint);
  for (std::size_t i = 0; i < e.readings.size(); ++i) {
    Uncertainty u = e.uncertainties[i];
    u.total *= 4;
    sum += log_likelihood(e.readings[i], u, s.readings[static_cast<std::size_t>(e.readings[i].kind)]);
  }
  return sum;
}

// The best draw of each branch (running, tripped, ...), best first.
std::vector<const Particle*> best_starts(const Scene& scene, const Hypothesis& h, const Evidence& e,
                                         const std::vector<Particle>& draws) {
  std::vector<std::pair<double, const Particle*>> best;
  for (const Particle& q : draws) {
    const double fit = rough_fit(scene, h, e, q.sim);
    if (fit < -1e299) continue;
    const auto same = std::find_if(best.begin(), best.end(),
                                   [&](const auto& b) { return b.second->sim.mode == q.sim.mode; });
    if (same == best.end()) {
      best.emplace_back(fit, &q);
    } else if (fit > same->first) {
      *same = {fit, &q};
    }
  }
  std::stable_sort(best.begin(), best.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<const Particle*> starts;
  for (const auto& [fit, q] : best)
    if (starts.size() < 2 && fit > best.front().first - 6) starts.push_back(q);
  return starts;
}

HypothesisPosterior first_look(const Scene& scene, const Evidence& e, const PriorDraws& draws, bool hopeless,
                               Posterior& all) {
  HypothesisPosterior p;
  p.hypothesis = draws.hypothesis;
  p.particles = draws.particles;
  double complaint = 0;
  int computed = 0;
  for (Particle& q : p.particles) {
    if (!q.sim.ok) {
      ++all.unsolved;
      continue;
    }
    complaint += q.sim.complaint;
    ++computed;
    q.log_likelihood = log_likelihood_of(scene, p.hypothesis, e, q.sim);
  }
  all.solves += draws.solves;
  p.log_complaint = draws.log_complaint;
  const bool rarely_called = computed > 0 && complaint / computed < 0.8;
  p.log_evidence = -1e300;
  if (hopeless) return p;
  Mixture prior_only;
  prior_only.prior_count = static_cast<double>(p.particles.size());
  weigh(p, prior_only);
  for (const Particle* start : best_starts(scene, p.hypothesis, e, p.particles)) {
    Linear mode = find_mode(scene, p.hypothesis, e, start->z, rarely_called, all.solves);
    if (mode.ok) p.modes.push_back(std::move(mode));
  }
  if (p.modes.empty()) return p;
  std::stable_sort(p.modes.begin(), p.modes.end(), [](const Linear& a, const Linear& b) {
    return laplace_evidence(a) > laplace_evidence(b);
  });
  if (p.modes.size() > 1 && laplace_evidence(p.modes[1]) < laplace_evidence(p.modes[0]) - 4)
    p.modes.pop_back();
  p.linear = p.modes.front();
  // The larger of the two guesses: a rough prior estimate can be poor, a Laplace value can miss a second
  // mode.
  if (!e.readings.empty())
    p.log_evidence = std::max(laplace_evidence(p.linear) - p.log_complaint, p.log_evidence);
  return p;
}

// One lucky draw makes an importance estimate with an effective size near one too large. There the Laplace
// value is the better half of the answer, as long as the two don't contradict each other outright.
void temper(HypothesisPosterior& p) {
  constexpr double kSpeak = 3, kContradict = 4;
  const double laplace = laplace_evidence(p.linear) - p.log_complaint;
  if (std::abs(laplace - p.log_evidence) > kContradict) return;
  const double trust = p.effective_size / (p.effective_size + kSpeak);
  p.log_evidence = trust * p.log_evidence + (1 - trust) * laplace;
}

// Before another round: first fresh slopes at the mode found (those there were corrected along the way), then
// a search from the best machine drawn so far, which may stand on another branch.
void recentre(const Scene& scene, const Evidence& e, HypothesisPosterior& p, int round, Posterior& all) {
  const Latents from = round == 0 ? p.linear.at : best_of(p)->z;
  const Linear found = find_mode(scene, p.hypothesis, e, from, p.log_complaint < -0.2, all.solves);
  if (!found.ok) return;
  p.modes = {found};
  if (laplace_evidence(found) > laplace_evidence(p.linear)) p.linear = found;
}

double standing(const HypothesisPosterior& p) { return p.hypothesis.standing(p.log_evidence); }
double by_physics(const HypothesisPosterior& p) { return p.hypothesis.by_physics(p.log_evidence); }

double leader(const Posterior& all, double (*of)(const HypothesisPosterior&)) {
  double top = -1e300;
  for (const auto& p : all.items) top = std::max(top, of(p));
  return top;
}

// The likeliest of items from `first` on that is within reach of the leader and not sampled yet; the number
// of items when there is none. Asked again after each: sampling lowers a leader whose first look was too
// kind, and then others come within reach.
std::size_t next_to_sample(const Posterior& all, std::size_t first) {
  const double reach = leader(all, standing) - kWorthSampling,
               physical = leader(all, by_physics) - kWorthSampling;
  std::size_t best = all.items.size();
  for (std::size_t i = first; i < all.items.size(); ++i) {
    const HypothesisPosterior& p = all.items[i];
    if (p.rounds > 0 || p.modes.empty() || (standing(p) < reach && by_physics(p) < physical)) continue;
    if (best == all.items.size() || standing(p) > standing(all.items[best])) best = i;
  }
  return best;
}

void sample(const Scene& scene, const Evidence& e, HypothesisPosterior& p, std::size_t prior_draws,
            int per_round, const RandomStream& own, Posterior& all) {
  Mixture mix;
  mix.prior_count = static_cast<double>(prior_draws);
  for (int round = 0; round < kMaxRounds; ++round) {
    sample_round(scene, e, p, mix, per_round, own.fork(static_cast<std::uint64_t>(round)), all);
    if (p.effective_size >= kEnough * per_round || round + 1 == kMaxRounds) break;
    ++all.remedies;
    recentre(scene, e, p, round, all);
  }
  if (!e.readings.empty()) temper(p);
}

void look_at(Posterior& all, const Scene& scene, const Evidence& e, const std::vector<PriorDraws>& prior,
             int per_round, const RandomStream& random, const std::function<bool(double)>& tick) {
  const std::size_t first = all.items.size();
  const auto done = [&](double x) { return !tick || tick(x); };
  const double n = static_cast<double>(prior.size());
  std::vector<double> fit;
  for (const PriorDraws& draws : prior) {
    fit.push_back(-1e300);
    for (const Particle& q : draws.particles)
      fit.back() =
          std::max(fit.back(), rough_fit(scene, draws.hypothesis, e, q.sim) + draws.hypothesis.log_prior);
  }
  all.best_rough_fit =
      std::max(all.best_rough_fit, fit.empty() ? -1e300 : *std::max_element(fit.begin(), fit.end()));
  for (std::size_t i = 0; i < prior.size(); ++i) {
    all.items.push_back(first_look(scene, e, prior[i], fit[i] < all.best_rough_fit - kHopeless, all));
    if (!done(0.6 * static_cast<double>(i + 1) / n)) return all.items.clear();
  }
  std::size_t sampled = 0;
  for (std::size_t i = next_to_sample(all, first); i < all.items.size(); i = next_to_sample(all, first)) {
    sample(scene, e, all.items[i], prior[i - first].particles.size(), per_round, random.fork(1000 + i), all);
    if (!done(0.6 + 0.4 * static_cast<double>(++sampled) / n)) return all.items.clear();
  }
}

}  // namespace

void normalise(Posterior& all) {
  const double impossible = leader(all, by_physics) - kRuledOut;
  for (auto& p : all.items) p.ruled_out = p.hypothesis.trust < 1 && by_physics(p) < impossible;
  double top = -1e300, sum = 0, squares = 0;
  for (const auto& p : all.items) top = p.ruled_out ? top : std::max(top, standing(p));
  for (auto& p : all.items) sum += p.probability = p.ruled_out ? 0 : std::exp(standing(p) - top);
  all.smallest_effective_size = 1e9;
  for (auto& p : all.items) {
    p.probability /= sum;
    if (p.effective_size > 0) squares += p.probability * p.probability / p.effective_size;
    if (p.probability > 0.02)
      all.smallest_effective_size = std::min(all.smallest_effective_size, p.effective_size);
  }
  all.effective_size = squares > 0 ? 1 / squares : 0;
}

PriorDraws draw_prior(const Scene& scene, const Hypothesis& h, int count, const RandomStream& random) {
  PriorDraws draws;
  draws.hypothesis = h;
  for (int i = 0; i < count; ++i) {
    RandomStream one =
        random.fork(static_cast<std::uint64_t>(i));  // the same machines under every hypothesis
    Particle q;
    for (double& z : q.z) z = one.normal();
    q.sim = simulate(scene, h, q.z);
    ++draws.solves;
    draws.particles.push_back(std::move(q));
  }
  return draws;
}

double usual_complaint(const Scene& scene, const Hypothesis& h, int count, const RandomStream& random) {
  const double set_point = scene.plate->set_point.value_or(scene.kind->set_point_K);
  Scene any_day = scene;
  double sum = 0;
  int computed = 0;
  for (int i = 0; i < count; ++i) {
    RandomStream one = random.fork(static_cast<std::uint64_t>(i));
    Latents z{};
    for (double& x : z) x = one.normal();
    any_day.ambient = 273.15 + 18 + 22 * one.uniform();
    any_day.box = set_point + 5 + 12 * one.uniform();
    const Simulated s = simulate(any_day, h, z);
    if (!s.ok) continue;
    sum += s.complaint;
    ++computed;
  }
  return computed > 0 ? std::log(sum / computed) : 0;
}

Posterior infer(const Scene& scene, const Evidence& e, const std::vector<PriorDraws>& prior, int per_round,
                const RandomStream& random, const std::function<bool(double)>& tick) {
  Posterior all;
  look_at(all, scene, e, prior, per_round, random, tick);
  if (!all.items.empty()) normalise(all);
  return all;
}

void add_pairs(Posterior& all, const Scene& scene, const Evidence& e, const std::vector<PriorDraws>& pairs,
               int per_round, const RandomStream& random, const std::function<bool(double)>& tick) {
  if (pairs.empty()) return;
  look_at(all, scene, e, pairs, per_round, random, tick);
  if (!all.items.empty()) normalise(all);
}

}  // namespace coldwright::diagnosis

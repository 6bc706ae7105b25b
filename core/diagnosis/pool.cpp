#include "diagnosis/pool.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::diagnosis {
namespace {

// ln of the mean of two values given as logarithms.
double log_mean(double a, double weight_a, double b, double weight_b) {
  const double top = std::max(a, b), total = weight_a + weight_b;
  if (!(top > -1e299)) return top;
  return top + std::log((weight_a * std::exp(a - top) + weight_b * std::exp(b - top)) / total);
}

// The evidence before it is divided by how often such machines are called for.
double undivided(const HypothesisPosterior& p) { return p.log_evidence + p.log_complaint; }

void scale_weights(HypothesisPosterior& p, double factor) {
  for (Particle& q : p.particles) q.weight *= factor;
}

// Both come from as many machines as they count for.
void join(HypothesisPosterior& pool, HypothesisPosterior more) {
  const int a = pool.counts_for, b = more.counts_for;
  const double log_complaint = log_mean(pool.log_complaint, a, more.log_complaint, b);
  if ((pool.rounds > 0) != (more.rounds > 0)) {
    // One was only looked at, and a first look is a guess: what was sampled stands.
    if (more.rounds > 0) std::swap(pool, more);
    pool.log_evidence += pool.log_complaint - log_complaint;
    pool.log_complaint = log_complaint;
    if (!pool.linear.ok) pool.linear = std::move(more.linear);
    return;
  }
  const double top = std::max(undivided(pool), undivided(more));
  const double mass_a = a * std::exp(undivided(pool) - top), mass_b = b * std::exp(undivided(more) - top);
  const double evidence = log_mean(undivided(pool), a, undivided(more), b);
  const bool weightless = !(top > -1e299);
  scale_weights(pool, weightless ? 0 : mass_a / (mass_a + mass_b));
  scale_weights(more, weightless ? 0 : mass_b / (mass_a + mass_b));
  std::move(more.particles.begin(), more.particles.end(), std::back_inserter(pool.particles));
  double squares = 0;
  for (const Particle& q : pool.particles) squares += q.weight * q.weight;
  pool.effective_size = squares > 0 ? 1 / squares : 0;
  pool.log_complaint = log_complaint;
  pool.log_evidence = evidence - log_complaint;
  pool.counts_for = a + b;
  pool.rounds = std::max(pool.rounds, more.rounds);
  if (more.linear.ok && (!pool.linear.ok || laplace_evidence(more.linear) > laplace_evidence(pool.linear)))
    pool.linear = std::move(more.linear);
}

}  // namespace

void take_in(Share& pool, Share more) {
  if (pool.population == 0) {
    pool = std::move(more);
    return;
  }
  pool.population += more.population;
  pool.population_paired += more.population_paired;
  std::move(more.sound.begin(), more.sound.end(), std::back_inserter(pool.sound));
  Posterior& all = pool.posterior;
  all.solves += more.posterior.solves;
  all.unsolved += more.posterior.unsolved;
  all.remedies += more.posterior.remedies;
  for (HypothesisPosterior& p : more.posterior.items) {
    const auto same = std::find_if(all.items.begin(), all.items.end(), [&](const HypothesisPosterior& q) {
      return q.hypothesis.causes == p.hypothesis.causes;
    });
    if (same == all.items.end()) {
      all.items.push_back(std::move(p));
    } else {
      join(*same, std::move(p));
    }
  }
  normalise(all);
}

}  // namespace coldwright::diagnosis

// The posterior over causes and machines.
//
// Every hypothesis is a population of drawn machines (round 0, from the prior). For each, the most probable
// machine is found and the readings linearised there (laplace.hpp). Hypotheses whose approximate evidence
// matters are then sampled from that approximation, and all draws are weighted against the mixture they came
// from (balance heuristic [veach1995]), which makes the evidence and every interval an unbiased importance
// estimate whatever the approximation missed. Where the effective sample size stays small the hypothesis is
// recentred on its best machine and sampled again.
#pragma once

#include <functional>
#include <vector>

#include "diagnosis/laplace.hpp"

namespace coldwright::diagnosis {

struct Particle {
  Latents z;
  Simulated sim;
  double log_likelihood = 0;  // readings, observations, complaint
  double weight = 0;          // within its hypothesis, sums to 1
};

struct HypothesisPosterior {
  Hypothesis hypothesis;
  std::vector<Particle> particles;
  Linear linear;              // at its most probable machine
  std::vector<Linear> modes;  // that one first; a second where another branch (tripped or not) may matter
  double log_evidence = 0;    // corrected where sampled, Laplace otherwise
  double log_complaint = 0;   // ln mean chance of the complaint over its prior machines
  double probability = 0;
  bool ruled_out = false;  // by physics, whatever was learned
  double effective_size = 0;
  int rounds = 0;      // of sampling from the approximation
  int counts_for = 0;  // machines drawn per cause in the drawings that the evidence comes from, see pool.hpp
};

struct Posterior {
  std::vector<HypothesisPosterior> items;  // in the order of hypotheses()
  int solves = 0, unsolved = 0, remedies = 0;
  double effective_size = 0, smallest_effective_size = 0;
  double best_rough_fit = -1e300;  // of any hypothesis looked at, for ruling out the hopeless early
};

/// Round 0 of one hypothesis, reusable for several sets of readings of the same scene.
struct PriorDraws {
  Hypothesis hypothesis;
  std::vector<Particle> particles;  // no likelihood yet
  double log_complaint = 0;         // see usual_complaint()
  int solves = 0;
};
PriorDraws draw_prior(const Scene& scene, const Hypothesis& h, int count, const RandomStream& random);

/// ln of the mean chance that machines of this hypothesis lead to the complaint, over the calls of a year
/// (ambient evenly between 18 and 40 C, box 5 to 17 K above its set point, our estimate). The prior weights
/// say how often a call has which cause; dividing by this tells how the cause and the weather of this call go
/// together: an overcharge, say, is called for on hot days. Depends on the cabinet alone, not on the
/// readings.
double usual_complaint(const Scene& scene, const Hypothesis& h, int count, const RandomStream& random);

/// `tick` is asked now and then with 0..1 and may return false to cancel; then `items` is empty.
Posterior infer(const Scene& scene, const Evidence& evidence, const std::vector<PriorDraws>& prior,
                int per_round, const RandomStream& random, const std::function<bool(double)>& tick);

/// Nats by which a hypothesis may stand below the leader by physics alone; what is lower is ruled out,
/// however little the evidence is trusted. One in 100 000: judged answers that a correction is fitted to end
/// there.
inline constexpr double kRuledOut = 11.5;
/// Probabilities and effective sizes from the evidences.
void normalise(Posterior& posterior);

/// Looks at further hypotheses (pairs) and renormalises all probabilities.
void add_pairs(Posterior& posterior, const Scene& scene, const Evidence& evidence,
               const std::vector<PriorDraws>& pairs, int per_round, const RandomStream& random,
               const std::function<bool(double)>& tick);

}  // namespace coldwright::diagnosis

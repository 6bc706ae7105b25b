// The parts of an answer, each computed from the posterior. For this room, and for the proof of a repair.
#pragma once

#include "diagnosis/answer.hpp"
#include "diagnosis/posterior.hpp"

namespace coldwright::diagnosis {

/// What the parts share: the case, the evidence, the posterior, and what a sound machine would show here.
struct Inquiry {
  const Case& the_case;
  const Scene& scene;
  const Evidence& evidence;
  const Posterior& posterior;
  const std::vector<Particle>& sound;  // prior draws of a sound machine in these conditions
};

/// A number with a weight.
struct Weighted {
  double value, weight;
};
Interval interval_of(std::vector<Weighted> values);  // 5, 50, 95 %; zeros when empty

/// Mean and standard deviation of what a reading would show under one hypothesis, instrument included, in
/// scale() of the reading.
struct Predictive {
  double mean, sigma;
};
Predictive predictive(const Inquiry& q, const HypothesisPosterior& h, circuit::ReadingKind kind);

Interval sound_reading(const Inquiry& q, circuit::ReadingKind kind);

/// One standard deviation of a hypothesis' probability over other drawings of machines.
double drawing_error(const Posterior& all, const HypothesisPosterior& of);

std::vector<RankedCause> rank_causes(const Inquiry& q);
std::vector<Unseen> unseen_side(const Inquiry& q);
std::vector<Unseen> quantities(const std::vector<std::pair<const Simulated*, double>>& machines,
                               bool running_only);
/// The cause that contributions speak for or against, alone or in a pair; index into Knowledge::causes.
int leading_cause(const Posterior& posterior);
std::vector<Contribution> contributions(const Inquiry& q);
std::vector<Suspect> suspects(const Inquiry& q);
/// Everything that would tell a hundredth of a bit, the best for its cost first; an opening only where it
/// pays by itself.
std::vector<NextStep> next_steps(const Inquiry& q);
/// Those of them that are worth their minutes.
std::vector<NextStep> worth_taking(std::vector<NextStep> steps);
std::vector<Turning> turnings(const Inquiry& q, const std::vector<NextStep>& next);
/// Readings under suspicion argue for nothing.
std::vector<Statement> reasons(const Inquiry& q, const std::vector<Contribution>& contributions,
                               const std::vector<Suspect>& suspects);
std::vector<Statement> cautions(const Inquiry& q, const Answer& answer);

/// Scene and knowledge look-ups shared by diagnose() and expect().
struct Setting {
  Scene scene;
  circuit::Archetype kind;
  std::vector<Statement> remarks;
};
Result<Setting> set_scene(const Case& the_case, const circuit::WorkingFluid& fluid,
                          const Knowledge& knowledge);

}  // namespace coldwright::diagnosis

// The learned correction: where the diagnosis, asked about machines whose fault was known, leaned too far one
// way. Fitted on visits of the virtual cabinet (bench/judge, `judge learn`), which has other equations than
// circuit/; docs/decisions/0019. How far the physics is trusted against it is fitted as well.
//
//   ln p(hypothesis | evidence) = trust * ln evidence + ln prior + learned + constant
//   learned = sum over its causes of weights . columns
//
// It holds for a machine that is said not to cool, since it learned from no other; elsewhere it is silent.
#pragma once

#include <string>
#include <vector>

#include "diagnosis/case.hpp"

namespace coldwright::diagnosis {

struct Evidence;
struct Hypothesis;
struct Knowledge;
struct Scene;

/// Plain values, as loaded from data/correction.json.
struct Correction {
  struct Scale {
    std::string trait;  // of trait_ids()
    double middle, spread;
  };
  struct Look {
    std::string subject, value;  // of data/observations.json
  };
  struct Of {
    std::string cause;
    std::vector<double> weights;  // nats a column
  };
  double trust = 1;  // 0..1, in the evidence
  double two = 0;    // nats, for any two causes
  std::vector<Scale> scales;
  std::vector<Look> looks;
  std::vector<Of> causes;
};

/// A trait enters by its distance from its middle in spreads, at most kFarthest, and by how far it is past
/// each of these, so that a weight each makes a line with bends.
inline constexpr double kBends[] = {-1.5, -0.75, 0, 0.75, 1.5};
inline constexpr double kFarthest = 3;
/// 1, then the traits scale by scale, then the looks with their confidence; zeros for what isn't known.
std::size_t columns_of(const Correction& correction);
std::vector<double> columns(const Correction& correction, const std::vector<double>& traits,
                            const Evidence& evidence);

/// Nats by place in Knowledge::causes; empty where the correction has nothing to say.
std::vector<double> learned(const Scene& scene, const Case& the_case, const Evidence& evidence);
/// The same with reading `place` left out, or another reading added: what each of them does to it.
std::vector<double> learned_without(const Scene& scene, Case the_case, const Evidence& evidence,
                                    std::size_t place);
std::vector<double> learned_with(const Scene& scene, Case the_case, const Evidence& evidence,
                                 const Reading& reading);
double learned_of(const Hypothesis& hypothesis, const std::vector<double>& by_cause);

/// Sets what the hypotheses of this case are corrected by.
void correct(std::vector<Hypothesis>& hypotheses, const Scene& scene, const Case& the_case,
             const Evidence& evidence);

}  // namespace coldwright::diagnosis

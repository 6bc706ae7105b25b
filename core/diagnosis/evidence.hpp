// The likelihood of everything read and seen, given one simulated machine.
#pragma once

#include <vector>

#include "diagnosis/instruments.hpp"
#include "diagnosis/simulate.hpp"

namespace coldwright::diagnosis {

/// An observation looked up in the vocabulary: which model, which value.
struct Seen {
  const ObservationModel* model;
  std::size_t value;
  double confidence = 1;
};

/// The evidence of a case, prepared once: uncertainties computed, observations resolved.
struct Evidence {
  std::vector<Reading> readings;
  std::vector<Uncertainty> uncertainties;
  std::vector<Seen> seen;
};

/// False for what a machine of this kind, or with this plate, doesn't have.
bool can_be_seen(std::string_view subject, const Case& the_case, const Knowledge& knowledge);

/// What is said of a part that isn't there stands among the rest and tells nothing.
/// Problem for an observation whose subject or value isn't in the vocabulary.
Result<Evidence> prepare(const Case& the_case, const Knowledge& knowledge, double discrepancy_share = 1);

/// Share of what is said and seen that tells nothing: people, and tables of what people say, are wrong in
/// ways that no row foresees. Our estimate; it stands beside the rows as the model's part beside an
/// instrument's.
inline constexpr double kSaidAnyhow = 0.05;

/// Probability of value `value` of an observation model under a simulated machine of this hypothesis.
double observation_probability(const ObservationModel& model, std::size_t value, const Hypothesis& h,
                               const Knowledge& k, const Simulated& s);

/// The same of something seen, with what is left of its confidence spread over the other values alike.
double seen_probability(const Seen& seen, const Hypothesis& h, const Knowledge& k, const Simulated& s);

/// ln probability of all observations; the readings' part is separate because the posterior linearises it.
double log_observations(const Evidence& evidence, const Hypothesis& h, const Knowledge& k,
                        const Simulated& s);
double log_readings(const Evidence& evidence, const Simulated& s);

}  // namespace coldwright::diagnosis

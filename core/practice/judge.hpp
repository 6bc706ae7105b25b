// The decision against the truth, and what this machine itself teaches: the sign that would have told the
// two apart, and how its cause moves it away from a sound one. All out of the circuit model on this very
// machine with another cause in it; nothing is written per cause.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "practice/walk.hpp"

namespace coldwright::practice {

enum class Grade { right, nearly, wrong };
std::string_view to_word(Grade grade);  // "right", "nearly", "wrong"

/// Nearly: one of two causes, or another of the same family (air over the condenser, air over the evaporator,
/// charge, capillary, compressor, electrical, load).
Grade grade_of(std::string_view truth, std::string_view decision);

/// The hypothesis of this id ("low_charge", "a+b" in either order). Problem when there is none for this kind.
Result<diagnosis::Hypothesis> decision_named(std::string_view id, const Visit& visit);

/// The look or reading that parts two causes for the least cost on this machine.
struct Sign {
  Action action;
  bool taken = false;                               // the apprentice had it
  Cost cost;                                        // as if taken first
  std::optional<double> with_truth, with_decision;  // of a reading, SI
  std::string seen_with_truth, seen_with_decision;  // of a look: the state most often reported
  double nats = 0;                                  // how much it tells, in expectation under the truth
};
std::optional<Sign> sign_between(const Visit& visit, const diagnosis::Hypothesis& decision, const Walk& walk);

/// One quantity of this machine, with its fault and without.
struct Change {
  std::string quantity;  // "superheat", "condenser_split", ...
  diagnosis::Unit unit;
  double sound, now;
  double spreads;  // how far apart, in what machines of one kind differ by; signed
};
/// The largest changes first, at most `most`. Empty where the fault leaves the circuit as it is.
struct Lesson {
  diagnosis::Mode mode = diagnosis::Mode::running;
  std::optional<double> capacity_share;  // of the sound machine's, 0..; none where neither runs
  std::vector<Change> changes;
};
Lesson lesson_of(const Visit& visit, double box, std::size_t most = 3);

}  // namespace coldwright::practice

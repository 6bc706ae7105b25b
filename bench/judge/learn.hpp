// Fits the learned correction (core/diagnosis/correction.hpp) to judged visits: a multinomial logistic
// regression over causes and pairs, with the physics' evidence as an offset whose weight is fitted too, and
// ridge penalties [hastie2009]. Convex; minimised by the L-BFGS of NLopt [liu1989].
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "judge/opinion.hpp"
#include "judge/row.hpp"

namespace coldwright::judge {

/// One answer to learn from.
struct Lesson {
  struct Candidate {
    int first, second;    // places in Knowledge::causes; second below zero: one cause
    double log_evidence;  // of the physics, nats
    double log_prior;
  };
  std::vector<double> columns;  // of the correction; filled by learn() and foretell()
  std::vector<Candidate> candidates;
  std::size_t truth = 0;  // place among candidates
  diagnosis::Case told;
};

/// Empty for a row whose truth isn't among its answers, and for a machine that nobody complains of.
std::optional<Lesson> lesson_of(const Row& row, diagnosis::Case told, const diagnosis::Knowledge& knowledge);

/// Of squared distances, half of each: from nothing, and of the trust from one, or from the weights of the
/// correction that is learned on from. What any two causes get is held only then, like a cause's constant.
struct Penalties {
  double weight = 1;    // of a trait's or a look's weight
  double always = 0.1;  // of a cause's constant
  double trust = 10;
};

/// Learns from the beginning, or `onward` from an earlier correction: its traits and looks stay, and the
/// penalties are on the distance from its weights, which stand for the visits that it was learned from.
/// Problem when there is nothing to learn from.
Result<diagnosis::Correction> learn(std::vector<Lesson> lessons, Opinion& opinion,
                                    const diagnosis::Knowledge& knowledge, const Penalties& penalties,
                                    const std::optional<diagnosis::Correction>& onward = std::nullopt);

/// How a correction does on lessons that it may never have seen: the mean -ln p of the truth, and the share
/// in which the truth is the likeliest, or one of the two likeliest, of causes and pairs.
struct Foretold {
  std::size_t lessons = 0;
  double surprise = 0, first = 0, first_two = 0;
};
/// Problem for a lesson that no scene can be set for.
Result<Foretold> foretell(const diagnosis::Correction& correction, std::vector<Lesson> lessons,
                          Opinion& opinion, const diagnosis::Knowledge& knowledge);

/// The text of data/correction.json.
std::string to_json(const diagnosis::Correction& correction, const std::string& learned_from);

}  // namespace coldwright::judge

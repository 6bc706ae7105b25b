// What the diagnosis of a real call believes after every step, along the apprentice's way and along its own:
// from the same start it always takes the look or reading that tells most for its cost.
#pragma once

#include <functional>
#include <memory>

#include "diagnosis/investigation.hpp"
#include "practice/walk.hpp"

namespace coldwright::practice {

/// What is believed at one point of a way.
struct Believed {
  std::vector<diagnosis::RankedCause> causes;  // descending
  std::vector<diagnosis::NextStep> next;       // worth taking, best first
  std::vector<diagnosis::NextStep> telling;    // everything that would tell something
  std::vector<diagnosis::Statement> reasons;
  double probability_of(std::string_view cause) const;  // of exactly this cause or pair
  /// What taking this was expected to tell, bits; nothing for what tells nothing.
  double expected_bits(std::string_view action) const;
};

struct Told {
  Step step;
  Believed after;
  double bits = 0;           // what it told: the shift of the belief about the cause
  double expected_bits = 0;  // what it was expected to tell
  /// The step the diagnosis would have taken here, where it was another and worth much more for its cost.
  std::optional<diagnosis::NextStep> better;
};

struct Path {
  Believed start;
  std::vector<Told> steps;
  Walk end;
};

/// How the diagnosis draws. Pairs of causes are looked at where there can be one: on the hard level, and
/// where a recorded machine has two. On the others each answer comes three times as fast without them.
struct Drawing {
  std::uint64_t seed = 1;
  int population = 24;
  std::function<bool(double)> progress;  // 0..1; false stops
};

/// The apprentice's way.
Result<Path> path_of(const Visit& visit, const std::vector<Action>& actions, const Drawing& drawing);

/// The best way: until one cause stands at 90 %, or nothing is left that is worth taking and tells a
/// twentieth of a bit. `start` is what path_of() believed at the door.
Result<Path> best_path(const Visit& visit, const Believed& start, const Drawing& drawing);

/// The step after which one cause stands at 90 %; none when that never comes.
std::optional<std::size_t> enough_after(const Path& path);

/// Step (counted from 0) where the apprentice first did something worth less than half of the best; nothing
/// counts that came after there was enough to decide.
std::optional<std::size_t> parting(const Path& yours);

/// Bits by which the belief about the cause moved, the Kullback-Leibler divergence of `after` from `before`
/// [mackay2003, Chapter 2].
double bits_between(const Believed& before, const Believed& after);

}  // namespace coldwright::practice

// The cabinet behind a practice call: a machine with a hidden fault, and what it shows at each moment of the
// visit. Two sources, one shape: drawn from the population of its kind and operated by the circuit model when
// asked (below), or a course that the full virtual cabinet recorded (recorded.hpp). SI, absolute pressure.
//
// A drawn one moves on with the minutes: the box as one thermal mass (procedures/pull_down.hpp), and after a
// start every reading from its standing value towards its settled one,
//   y(t) = y_settled + (y_standing - y_settled) exp(-t / tau),
// tau 1.5 min for pressures and current, 3 min for temperatures (our estimate). What is let out is missing
// from then on.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "diagnosis/simulate.hpp"

namespace coldwright::practice {

/// First: one plain, severe cause and good instruments. Working day: as they come. Hard: mild causes and
/// pairs, a machine that has just started, clamps that hold badly.
enum class Level { first, working_day, hard };
std::string_view to_word(Level level);  // "first", "working_day", "hard"
std::optional<Level> level_from(std::string_view word);

/// What the person has done to the machine so far.
struct History {
  double minutes = 0;                          // since arrival
  std::vector<std::pair<double, double>> off;  // minutes between which it was switched off, oldest first
  double let_out = 0;                          // kg
};

/// One moment of the machine, as instruments without an error show it (the clamps' pull is theirs).
struct Moment {
  diagnosis::Simulated sim;
  std::optional<double> minutes_running;  // none when it doesn't stay on, or has run for hours
  /// What can be seen for certain, where the source knows it: subject and value of data/observations.json.
  std::vector<std::pair<std::string, std::string>> seen;
};

struct Fault {
  std::string cause;
  double severity;  // in its own measure
  double share;     // 0 mild .. 1 severe
};

struct Visit {
  std::uint64_t seed = 0;
  Level level = Level::first;
  circuit::Archetype kind;
  circuit::Nameplate plate;
  std::string refrigerant;
  double ambient = 0, box = 0;  // K, true ones, on arrival
  double site_pressure = 101325;
  diagnosis::Hypothesis truth;
  std::vector<Fault> faults;  // one or two; the cause "sound" has one of no severity
  /// The machine itself, or one from the middle of its kind where a recorded one has no latents.
  diagnosis::Latents machine{};
  bool of_its_kind = false;  // `machine` is that one from the middle
  std::shared_ptr<const circuit::WorkingFluid> fluid;
  const diagnosis::Knowledge* knowledge = nullptr;  // outlives the visit
  std::function<Moment(const History&)> at;
};

/// The kind of cabinet that this seed draws: an id out of the knowledge.
std::string kind_drawn(std::uint64_t seed, Level level, const diagnosis::Knowledge& knowledge);

/// The cabinet of this seed and level. The same arguments give the same cabinet, bit for bit. Problem when
/// the kind isn't known, or no machine of it computes with this refrigerant.
Result<Visit> draw_visit(std::uint64_t seed, Level level, const std::string& kind,
                         std::shared_ptr<const circuit::WorkingFluid> fluid,
                         const diagnosis::Knowledge& knowledge);

/// The scene that a visit's machine stands in: nothing unknown about its surroundings.
diagnosis::Scene scene_of(const Visit& visit);
/// How strongly a clamp of this level is drawn to the air around it, 0..1.
double clamp_pull(Level level);

}  // namespace coldwright::practice

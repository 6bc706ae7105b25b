// The model behind the phases: its states, how long each lasts, how likely a level is under each. Within this
// room only.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <vector>

#include "traces/levels.hpp"
#include "traces/segment.hpp"

namespace coldwright::traces {

inline constexpr double kNever = -1e18;
// The model's own states: an overload's cycle has two.
enum Model { m_off, m_start, m_running, m_not_pumping, m_try, m_rest, m_defrost, m_states };

/// Durations of a sealed cabinet's states before its own are known: a quarter of an hour on and off, give or
/// take a factor of four; a heater for twenty minutes (common practice; spreads our estimate).
Chain chain_for(double interval, bool not_pumping, bool overload, bool defrost);

/// ln density of a level on the root axis under each state.
class Emission {
 public:
  explicit Emission(const Levels& levels);

  std::array<double, m_states> of(double y) const;

  /// A motor that turns without gas to move draws a third to two thirds of what it draws pumping; of power,
  /// somewhat less (our estimate, from the circuit's own model).
  bool between(const Level& level) const;
  bool any_between() const {
    return std::any_of(levels_.all.begin(), levels_.all.end(), [&](const Level& l) { return between(l); });
  }

 private:
  const Levels& levels_;
  double span_ = 1, rest_ = 0, run_ = 0, heat_ = 0, top_ = 0, run_y_ = 0, foreign_ = 1e300;
};

/// How many independent looks a run is: neighbours in time repeat each other, so a minute counts once.
double looks(const Run& run);

struct Stretch {
  Blocks blocks;
  std::vector<std::uint32_t> first_run;  // of each block, and one past the last
};

/// Runs with the same best state are one block: within it the state wouldn't change.
std::vector<Stretch> stretches_of(const std::vector<Run>& runs, double gap, const Emission& emission,
                                  const std::vector<bool>& allowed,
                                  const std::vector<std::array<double, m_states>>& more);

}  // namespace coldwright::traces

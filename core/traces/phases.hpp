// What the machine did and when, out of one trace: off, starting, running, on a defrost heater, in an
// overload's cycle. From power or current where there is one, else from a pressure's levels, else from how a
// temperature swings; what the columns can't tell isn't said.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "traces/levels.hpp"
#include "traces/trace.hpp"

namespace coldwright::traces {

enum class State : std::uint8_t { off, start, running, not_pumping, overload, defrost };
std::string_view to_word(State state);
inline constexpr int kStates = 6;

struct Phase {
  State state{};
  double from = 0, to = 0;             // s since the trace's start
  double from_low = 0, from_high = 0;  // when it began, 90 %
  double probability = 0;              // that this was its state
  double level = 0;                    // mean of the signal, SI
  bool whole = true;                   // began and ended within what was logged
  int tries = 0;                       // starts within an overload's cycle
};

/// How the phases were found.
enum class Method : std::uint8_t { levels, swing };

struct Phases {
  std::vector<Phase> phases;
  int series = -1;  // of Trace::series, what they were found in
  Method method = Method::levels;
  Levels levels;
  Noise noise;
  std::uint64_t runs = 0, blocks = 0, stretches = 0;  // a stretch has no gap in it
  double log_likelihood = 0;                          // of the model
  double log_likelihood_flat = 0;                     // of one that never changes its state
  bool told_pumping = false;   // the columns could tell a motor that runs without pumping
  bool told_overload = false;  // sampled finely enough for an overload's cycle
};

/// None when no column speaks of running.
std::optional<Phases> phases_of(const Trace& trace);

/// Of a temperature that swings with the compressor: falls and rises between turning points. `falling` means
/// running.
std::optional<Phases> phases_of_swing(const Trace& trace, int series, bool falling);

/// The column that says most about running: what phases_of() takes.
std::optional<int> signal_of(const Trace& trace);
/// Whether any column is of a kind that tells running, however little is in it.
bool tells_running(const Trace& trace);

}  // namespace coldwright::traces

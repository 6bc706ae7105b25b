// The pressure's rise after a vacuum is shut off from the pump: tight, leaking, wet, or oil giving off what
// it holds. Each says how the pressure p runs with time t:
//   tight     p0 + b (1 - exp(-t/s)),  b small        leak    p0 + a t
//   moisture  p0 + b (1 - exp(-t/s)),  b up to what water's vapour pressure leaves
//   oil       the same, b smaller and s longer
// A leak at vacuum draws air at a constant rate: outside it is a hundred times denser, and the flow no longer
// depends on the pressure inside. A leaking circuit may give off gas besides, so that half of the leaks'
// courses carry such a rise: levelling for a while doesn't clear a circuit that goes on rising. Water can't
// level above its own vapour pressure, whatever the rest does. For each, p0 is integrated in closed form
// (normal errors, flat prior) and b, a and s over a grid; the evidences with the priors below give the
// probabilities [mackay2003, Chapter 28]. Priors and widths are our estimate and stand in decay.cpp.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "base/result.hpp"

namespace coldwright::procedures {

enum class DecayCause { tight, leak, moisture, oil };
inline constexpr int kDecayCauses = 4;

struct DecayReading {
  double time;      // s since the valve was shut
  double pressure;  // Pa
};

struct DecayGauge {
  double resolution = 0.133;      // Pa, one micron
  double relative_noise = 0.005;  // reading against reading; its common error cancels in a rise
};

struct DecayRange {
  double low, mid, high;  // 5, 50, 95 %
};

/// One course: p = start + size (1 - exp(-t/settling)) + leak t.
struct DecayFit {
  double start, size, settling, leak;  // Pa, Pa, s, Pa/s
  double at(double t) const;
};

struct DecayAnswer {
  std::array<double, kDecayCauses> probability;  // in the order of DecayCause
  DecayRange leak_rate;                          // Pa/s, if it is a leak
  std::optional<DecayRange> level;               // Pa where it would settle, if it isn't
  /// Minutes more of a reading each, after which one cause is expected to hold `decided`; none within 2 h
  /// when absent. 0 when it does already.
  std::optional<double> minutes_to_decide;
  double decided = 0.9;
  std::array<DecayFit, kDecayCauses> fit;  // the likeliest course of each cause
  /// Whether the course that fits best passes every reading within what gauge and model allow: if not, the
  /// probabilities compare four poor answers.
  bool explained;
  /// Readings that fell below the one before by more than the gauge's noise, which no cause does at a
  /// constant temperature: places in the readings. Nothing is dropped for it.
  std::vector<std::size_t> fell;
};

/// `water_pressure` (Pa): of water at the system's temperature. Problem when fewer than three readings are
/// given, times don't rise, or a pressure isn't positive; nothing is dropped or put in order.
Result<DecayAnswer> judge_decay(const std::vector<DecayReading>& readings, const DecayGauge& gauge,
                                double water_pressure, unsigned long long seed = 1);

}  // namespace coldwright::procedures

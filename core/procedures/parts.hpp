// What to bring: the sizes of parts that the plausible machines of a case have, as intervals out of them.
//
// Back-pressure class by the rating condition nearest to the evaporating temperature at the set point: low
// -23.3 C, medium -6.7 C, high 7.2 C (common practice). Motor by the shaft power: resistance start up to a
// third of a horsepower, capacitor start up to three quarters, start and run capacitor above (common
// practice).
#pragma once

#include <array>
#include <vector>

#include "procedures/believed.hpp"

namespace coldwright::procedures {

enum class BackPressure { low, medium, high };
enum class StartKind { resistance, capacitor_start, capacitor_start_run };

struct PartSizes {
  diagnosis::Interval capillary_bore, capillary_length;  // m
  diagnosis::Interval displacement;                      // m3 a revolution
  diagnosis::Interval evaporating;                       // K at the set point
  diagnosis::Interval cooling;                           // W at the set point
  diagnosis::Interval input, current;                    // W, A at the set point
  diagnosis::Interval charge;                            // kg
  diagnosis::Interval circuit_volume;                    // m3 inside coils, line and shell
  std::array<double, 3> back_pressure;                   // probabilities in the order of BackPressure
  std::array<double, 3> start;                           // and of StartKind
  int machines;
};

/// Each machine of the belief as it was built, at its set point in `ambient` (K). Problem when none of them
/// runs there.
Result<PartSizes> part_sizes(const Belief& belief, double ambient, double site_pressure);

BackPressure back_pressure_of(double evaporating);  // K
StartKind start_of(double shaft_power);             // W

/// What a machine of the belief takes in a year.
struct YearlyEnergy {
  diagnosis::Interval sound;                   // kWh as it was built
  diagnosis::Interval now;                     // kWh as it is; of those that run at all
  diagnosis::Interval share_sound, share_now;  // of the time
  double holds;                                // probability that it still carries its load as it is
  double runs;                                 // probability that it runs at all
  int machines;
};
/// Compressor alone, at its set point, the year at one ambient temperature (K); load as the population's.
Result<YearlyEnergy> yearly_energy_of(const Belief& belief, double ambient, double site_pressure);

}  // namespace coldwright::procedures

// Who stands before the machine: instruments with their class and zero, clamps with their contact, eyes that
// miss things, a clock that runs while they work. The numbers are the judge's own, drawn anew for every
// visit, and not those that the diagnosis believes in. our-estimate and common practice throughout; the
// classes of gauges are those of EN 837-1, from memory.
#pragma once

#include <cstdint>

#include "base/normal.hpp"

namespace coldwright::judge {

/// One technician's instruments and habits. Errors are what this instrument has today, not spreads.
struct Technician {
  double low_gauge_class, high_gauge_class;  // one standard deviation, share of full scale
  double low_gauge_zero, high_gauge_zero;    // Pa, shared by all readings of one gauge
  double clamp_offset[2];                    // K, of the two clamp thermometers, used in turn
  double clamp_pull;                         // share of the way to the surrounding air, usual placement
  double air_probe_offset;                   // K, of the probe that reads ambient, box and coil air
  double amps_gain, amps_offset;             // 1 and A
  double volts_gain, ohms_gain;              // 1
  double lead_ohms;                          // not subtracted
  double mistakes;                           // share of readings that are plain mistakes
  double misses;                             // share of looks in which the next state over is reported
  double dusty_from, blocked_from;           // share of air flow at which dirt is called so
  double light_from, iced_from;              // and frost
  bool asks;                                 // hears from the owner what the machine did before
};

Technician hire(RandomStream random);

inline constexpr double kLowFullScale = 1.0e6, kHighFullScale = 3.0e6;  // Pa

}  // namespace coldwright::judge

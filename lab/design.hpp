// A cabinet of a kind, as a maker might have built it: parts drawn and sized by hand rules, then the
// capillary and the charge found on a test bench, by running the virtual cabinet itself until superheat and
// subcooling are what was wanted.
#pragma once

#include <memory>
#include <string>

#include "lab/simulation.hpp"

namespace coldwright::lab {

/// What a kind of cabinet is like, from data/cabinets.json.
struct Kind {
  std::string id, refrigerant;
  double set_point = 276.15, ambient_low = 296.15, ambient_high = 305.15;  // K
  double td_low = 7, td_high = 13, split_low = 9, split_high = 18;         // K
  double current_median = 2.6, current_ratio = 1.35, voltage = 115;
  double share_low = 0.45, share_high = 0.75;
  bool still_air = false;
};

struct Designed {
  Cabinet cabinet;
  double plate_charge, plate_current, plate_voltage, set_point;
  double design_ambient, td, split, superheat, subcooling, capacity;  // as found on the bench
};

/// Problem when no plausible cabinet came of these draws: draw again. `cells` in each coil.
Result<Designed> design(const Kind& kind, std::shared_ptr<const Refrigerant> refrigerant,
                        const Correlations& correlations, int cells, RandomStream random);

}  // namespace coldwright::lab

// Repair against replacement in money over the years that are left: present value of either way, the price
// at which they are even, and how far the inputs' spreads move it.
//
// Repair    its cost now, then each year the energy of this machine while it lives; where it dies within the
//           time looked at, the new one is bought then.
// Replace   the new one's price now, then its energy each year.
// Energy once a year at the year's middle, discounted with rate r: 1/(1 + r)^t. Life left by Weibull, given
// that it has lived to its age: S(t) = exp((a/eta)^beta - ((a + t)/eta)^beta); shape and scale are our
// estimate and can be given. Spreads as standard deviations, the outcome by drawing.
#pragma once

#include <cstdint>
#include <optional>

#include "base/result.hpp"
#include "diagnosis/answer.hpp"

namespace coldwright::procedures {

struct Life {
  double scale = 13;  // years, eta
  double shape = 3;   // beta, wearing out
};
/// Probability to live another t years at age a.
double survival(const Life& life, double age, double t);

struct Estimate {
  double value;
  double spread = 0;  // one standard deviation, relative
};

struct WorthQuestion {
  Estimate repair;           // money now
  Estimate new_price;        // money, in place
  Estimate energy_price;     // money a kWh
  Estimate energy_repaired;  // kWh a year
  Estimate energy_new;       // kWh a year
  double years = 6;          // looked at
  double discount = 0.05;    // a year
  double age = 6;            // years
  Life life_after{};         // of the repaired machine, counted from its age
};

struct Worth {
  double repair, replace;                // present values, money
  diagnosis::Interval advantage;         // replace less repair: above zero speaks for the repair
  double probability_repair;             // that repairing is the cheaper way
  double break_even;                     // repair cost at which both are even
  double survives;                       // probability that the repaired one lives the years through
  double energy_repair, energy_replace;  // kWh over the years, expected
};

/// Problem when a price or energy is negative, the years or the discount out of range.
Result<Worth> worth_of(const WorthQuestion& question, int draws = 4000, std::uint64_t seed = 1);

/// kWh a year of a machine that draws `power` (W) for `share` of the time.
double yearly_energy(double power, double share);

}  // namespace coldwright::procedures

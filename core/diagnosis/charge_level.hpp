// How much is in it: what a sound machine of this plate shows at other charges than its own, the charge that
// its readings speak for, and, where the plate is gone, how much is still missing from a known mass.
//
// One hypothesis of the diagnosis alone, "as built, with a charge between 0.4 and 1.4 of its own", drawn,
// linearised and weighted as every cause is (posterior.hpp); so the instruments' errors, the model's own and
// the doubt about the population are those of the diagnosis. It holds as long as nothing else is wrong.
#pragma once

#include <vector>

#include "diagnosis/diagnose.hpp"

namespace coldwright::circuit {
class WorkingFluid;
}

namespace coldwright::diagnosis {

inline constexpr double kLeastShare = 0.4, kMostShare = 1.4;

/// What sound machines of this plate show with this share of their charge, 5, 50 and 95 % of them.
struct ChargeLevel {
  double share;
  Interval charge;            // kg
  Interval suction_pressure;  // Pa
  Interval superheat;         // K at the coil's outlet
  Interval current;           // A
  Interval condenser_outlet;  // K
  Interval capacity;          // W
  double tripped;             // share of them whose overload opens
};

/// `shares` between kLeastShare and kMostShare; the same machines at each. Costs options.population solves a
/// share. Problem as diagnose(), or when fewer than a fifth of the machines can be computed.
Result<std::vector<ChargeLevel>> charge_levels(const Case& the_case, const circuit::WorkingFluid& fluid,
                                               const Knowledge& knowledge, const std::vector<double>& shares,
                                               const Options& options);

struct ChargeEstimate {
  Interval share;       // of the machine's own charge
  Interval charge;      // kg in it
  Interval missing;     // kg to its own charge; below zero is too much
  double below, above;  // probability of less than 95 % and more than 105 % of its own
  double effective_size;
};

/// From the case's readings alone: observations are left out. Problem when there is no reading, or as
/// diagnose().
Result<ChargeEstimate> estimate_charge(const Case& the_case, const circuit::WorkingFluid& fluid,
                                       const Knowledge& knowledge, const Options& options);

/// The plate's charge is gone; `held` (kg, with `held_sigma`) is in the machine by the scale.
struct ChargeSearch {
  Interval own;      // kg, the charge it was built for
  Interval missing;  // kg
  double enough;     // probability that what it holds is its own charge or more
  double effective_size;
};

/// What kinds of cabinet like this one hold: the population's own spread, or the plate's charge.
Interval usual_charge(const circuit::Archetype& kind);

/// Weights ten times options.population machines of every plausible charge by the readings taken with `held`
/// in them; without readings the population's own spread. Problem as above.
Result<ChargeSearch> search_charge(const Case& the_case, const circuit::WorkingFluid& fluid,
                                   const Knowledge& knowledge, double held, double held_sigma,
                                   const Options& options);

}  // namespace coldwright::diagnosis

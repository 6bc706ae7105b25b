// Charging by mass: what to draw from the cylinder, what the scale's steps mean for a small charge, what is
// in the machine afterwards, and doses towards a charge nobody knows.
//
//   drawn = plate - stays + hose        in the machine = before - after - hose + stays
// Each weight is off by up to half a step of the scale, evenly (variance a^2/12 of a step a); what a hose
// holds is off by its own spread.
#pragma once

#include "base/result.hpp"
#include "diagnosis/answer.hpp"

namespace coldwright::procedures {

/// Deviation from the plate that custom allows a critical charge (common practice, from memory): 5 %, and not
/// less than a gram.
double customary_tolerance(double plate);

/// One standard deviation of what a hose is reckoned to hold, as a share of it: bore, temperature and how
/// much of it is liquid (our estimate).
inline constexpr double kHoseSpread = 0.3;

struct ChargeTask {
  double plate;       // kg
  double stays = 0;   // kg that were never taken out
  double hose = 0;    // kg that stay in the hoses when their valves are shut
  double resolution;  // kg, one step of the scale
};

struct ChargeTarget {
  double wanted;            // kg to get into the machine
  double drawn;             // kg to see leave the scale
  double resolution_share;  // one step of the scale over the plate's charge
  double sigma;             // kg, one standard deviation of what then is in the machine
};

/// Problem when the plate or the resolution isn't above zero, or more stays than the plate says.
Result<ChargeTarget> charge_target(const ChargeTask& task);

enum class ChargeVerdict { within, below, above, open };

struct ChargeMoved {
  double drawn;                    // kg off the scale
  diagnosis::Interval in_machine;  // kg
  double within;                   // probability that it lies within the customary tolerance
  ChargeVerdict verdict;           // open when neither inside nor outside holds 90 %
};

/// Scale before and after, kg. Problem when the scale rose, or the hoses hold more than left it.
Result<ChargeMoved> charge_moved(const ChargeTask& task, double before, double after);

// --- towards a charge nobody knows ---

/// Share of the least plausible charge given at first, size of a step, and the wait after it: our estimate.
/// The wait is two of the eight minutes in which a small circuit settles.
inline constexpr double kFirstShare = 0.9, kStepShare = 0.04, kWaitSeconds = 16 * 60;

struct DosePlan {
  double first;  // kg
  double step;   // kg
};
/// `usual`: what machines of this kind hold. Steps are whole steps of the scale, two at least.
DosePlan dose_plan(const diagnosis::Interval& usual, double resolution);

/// kg to give next: nothing when less than half a step is likely missing; the 5 % point of what is missing
/// when that is more than a step, else a step.
double next_dose(const diagnosis::Interval& missing, const DosePlan& plan);

}  // namespace coldwright::procedures

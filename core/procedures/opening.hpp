// What connecting a hose takes out of a circuit. A hose on a running machine is a dead end at the room's
// temperature: where its pressure's saturation lies above that, vapour condenses in it until it is full of
// liquid; where it lies below, it holds vapour. All that it holds is missing from the machine; what of it
// goes to the air depends on the fitting and on whether it was pulled back through the suction first.
#pragma once

#include <vector>

#include "diagnosis/answer.hpp"
#include "procedures/hose.hpp"

namespace coldwright::procedures {

struct HoseUse {
  double bore, length;       // m
  double p, T;               // Pa absolute, K of the hose
  bool low_loss = false;     // its fitting shuts before it lets go
  bool pulled_back = false;  // opened to the suction while the machine runs, before it is taken off
  double p_suction = 0;      // Pa absolute, then
};

struct HoseCost {
  HoseContents contents;
  bool condenses;                // liquid gathers in it
  diagnosis::Interval missing;   // kg, from the machine once it is off
  diagnosis::Interval released;  // kg, to the air
};

/// What a self-shutting fitting lets go: 0.2 to 1 mL of what stands in it (our estimate).
inline constexpr double kFittingLow = 0.2e-6, kFittingMid = 0.5e-6, kFittingHigh = 1.0e-6;  // m3

Result<HoseCost> hose_cost(const fluids::Fluid& fluid, const HoseUse& use);

/// Several hoses; ends are added, as if all came out high together.
diagnosis::Interval sum_of(const std::vector<diagnosis::Interval>& parts);

/// A place to search: how often leaks are found there (relative) and the minutes to search it.
struct Joint {
  double weight, minutes;
};
/// Order with the shortest expected time to the leak: by weight over minutes, descending; equal ones as
/// given.
std::vector<std::size_t> search_order(const std::vector<Joint>& joints);

}  // namespace coldwright::procedures

// How far the lab's readings lie from what the diagnosis expects of them under the true cause, given all the
// other readings of the visit: what the discrepancies of core/diagnosis/instruments.cpp are set by.
#pragma once

#include <string>
#include <vector>

#include "judge/opinion.hpp"
#include "judge/site.hpp"

namespace coldwright::judge {

/// One reading of one visit against its leave-one-out expectation, in the reading's scale (ln of ohms).
struct Residual {
  circuit::ReadingKind kind;
  std::string cause, cabinet;
  bool steady = true;
  double minutes_running = -1;  // unknown below zero
  double value = 0, expected = 0, sigma = 0;
};

/// Every reading that `set` takes; empty for a visit with two causes or where the true cause finds no
/// machine.
Result<std::vector<Residual>> residuals(const lab::Visit& visit, long number, char set,
                                        const diagnosis::Knowledge& knowledge, Opinion& opinion,
                                        const RandomStream& technicians);

/// Per reading: median, robust spread, and the spread in sigmas.
std::string tally(const std::vector<Residual>& residuals);

}  // namespace coldwright::judge

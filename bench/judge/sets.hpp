// The sets of readings that the benches ask about, from amps alone to everything.
#pragma once

#include <vector>

#include "circuit/readings.hpp"

namespace coldwright::judge {

struct ReadingSet {
  char name;
  const char* what;
  bool eyes;                                   // the five things that are looked at, see kLookedAt
  std::vector<circuit::ReadingKind> readings;  // in the order they are taken
  bool asks = false;                           // every other observation as well
};

std::vector<ReadingSet> reading_sets();

/// What a set with eyes looks at: subjects of data/observations.json.
inline constexpr const char* kLookedAt[] = {"compressor", "condenser_fan", "evaporator_fan", "condenser_face",
                                            "evaporator_coil"};

}  // namespace coldwright::judge

// The sets of readings that the benches ask about, from amps alone to everything.
#pragma once

#include <string>
#include <vector>

#include "base/normal.hpp"
#include "circuit/readings.hpp"
#include "diagnosis/diagnose.hpp"

namespace coldwright::judge {

struct ReadingSet {
  char name;
  const char* what;
  bool eyes;                                   // the five things that are looked at, see kLookedAt
  std::vector<circuit::ReadingKind> readings;  // in the order they are taken
  bool asks = false;                           // every other observation as well
  bool in_part = false;                        // each technician takes a part of it, see part_of()
  std::vector<std::string> left_out = {};      // observations that aren't looked at or asked
};

std::vector<ReadingSet> reading_sets();

/// What one technician takes of a set that is taken in part: most looks, few questions, a share of the
/// readings that differs from one to the next, and seldom what opens the circuit. Other sets as they are.
ReadingSet part_of(ReadingSet set, const diagnosis::Knowledge& knowledge, RandomStream random);

/// What a set with eyes looks at: subjects of data/observations.json.
inline constexpr const char* kLookedAt[] = {"compressor", "condenser_fan", "evaporator_fan", "condenser_face",
                                            "evaporator_coil"};

}  // namespace coldwright::judge

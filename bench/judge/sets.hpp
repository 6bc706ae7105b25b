// The sets of readings that the benches ask about, from amps alone to everything.
#pragma once

#include <string>
#include <vector>

#include "base/normal.hpp"
#include "circuit/readings.hpp"
#include "diagnosis/diagnose.hpp"

namespace coldwright::judge {

/// How much of a set a technician takes. Much: most looks, few questions, a share of the clamps that differs
/// from one to the next, seldom what needs a meter or opens the circuit. Little: as they begin, any share of
/// looks and questions and at most half of the clamps.
enum class Part { all, much, little };

struct ReadingSet {
  char name;
  const char* what;
  bool eyes;                                   // the five things that are looked at, see kLookedAt
  std::vector<circuit::ReadingKind> readings;  // in the order they are taken
  bool asks = false;                           // every other observation as well
  Part part = Part::all;                       // that each technician takes of it, see part_of()
  std::vector<std::string> left_out = {};      // observations that aren't looked at or asked
};

std::vector<ReadingSet> reading_sets();

/// What one technician takes of a set.
ReadingSet part_of(ReadingSet set, const diagnosis::Knowledge& knowledge, RandomStream random);

/// What a set with eyes looks at: subjects of data/observations.json.
inline constexpr const char* kLookedAt[] = {"compressor", "condenser_fan", "evaporator_fan", "condenser_face",
                                            "evaporator_coil"};

}  // namespace coldwright::judge

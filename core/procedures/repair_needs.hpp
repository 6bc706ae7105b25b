// What the repair of a cause asks for: parts, whether the sealed circuit is opened, and the hours of one
// person with the parts at hand (our estimate; pumping down and proving included where the circuit is
// opened).
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace coldwright::procedures {

struct RepairNeeds {
  std::set<std::string> parts;  // keys such as "part_compressor"
  bool opens = false;
  double hours = 0;
};

/// Of a cause or a pair "a+b"; nothing for what isn't known. What opens the circuit asks for drier, access,
/// nitrogen and refrigerant too. Two causes are repaired in one visit: hours add up, the circuit's opening
/// counts once.
RepairNeeds repair_needs(std::string_view causes);

/// "low_charge", or both of a pair, in the order given.
std::vector<std::string> causes_in(std::string_view id);

}  // namespace coldwright::procedures

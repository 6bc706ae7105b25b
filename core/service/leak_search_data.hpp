// What data/leak_search.json holds for a leak search with a trace: when a gas can't burn, and where leaks
// are found.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace coldwright::service {

struct FuelLimits {
  std::string gas;                   // designation, or "hydrogen"
  double lower_limit, oxygen_limit;  // mole fractions
  std::string source;
};
struct JointKind {
  std::string key;         // wording: sections "joints" and "joint_reasons"
  double weight, minutes;  // relative; to search it
  std::string source;
};
struct LeakSearchData {
  std::vector<FuelLimits> fuels;
  std::vector<JointKind> joints;
  const FuelLimits* fuel(std::string_view gas) const;
};

/// From the file inside the program.
Result<LeakSearchData> load_leak_search();

}  // namespace coldwright::service

// What a technician reckons from readings: splits, differences along the tubes, current over the plate's.
// Input of the learned correction (correction.hpp).
#pragma once

#include <string>
#include <vector>

#include "diagnosis/case.hpp"
#include "diagnosis/simulate.hpp"

namespace coldwright::diagnosis {

/// Ids of the traits in the order of traits(): differences in K, minutes, or a ratio.
const std::vector<std::string>& trait_ids();

/// The traits of a case; NaN for what wasn't read, or can't be reckoned without a plate.
std::vector<double> traits(const Scene& scene, const Case& the_case);

}  // namespace coldwright::diagnosis

// A blend's components and pairs from data/refrigerants and data/blends/pairs.json, joined to one
// refrigerant.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "fluids/designation.hpp"
#include "fluids/fluid_data.hpp"

namespace coldwright::service {

/// A blend of the catalogue or a free composition, with its bubble and dew lines fitted: some 5-40 ms. A pair
/// that data/blends doesn't have is estimated and says so.
Result<fluids::FluidData> load_blend(const std::string& designation,
                                     const std::vector<fluids::Share>& shares);

}  // namespace coldwright::service

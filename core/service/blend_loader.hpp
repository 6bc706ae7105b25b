// From a blend's components to the model of its mixture and its properties: data/refrigerants and
// data/blends/pairs.json.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "fluids/designation.hpp"
#include "fluids/mixture.hpp"

namespace coldwright::service {

/// A blend of the catalogue or a free composition, with its bubble and dew lines fitted: some 5-40 ms.
Result<fluids::FluidData> load_blend(const std::string& designation,
                                     const std::vector<fluids::Share>& shares);

/// Components by designation, in this order. A pair that data/blends doesn't have is estimated.
Result<fluids::Mixture> load_mixture(const std::vector<std::string>& designations);

}  // namespace coldwright::service

// From a blend's components to the model of its mixture: data/refrigerants and data/blends/pairs.json.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "fluids/mixture.hpp"

namespace coldwright::service {

/// Components by designation, in this order. A pair that data/blends doesn't have is estimated.
Result<fluids::Mixture> load_mixture(const std::vector<std::string>& designations);

}  // namespace coldwright::service

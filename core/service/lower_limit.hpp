// The lower flammability limit of a refrigerant by the catalogue: the designation standard's where known.
#pragma once

#include <string>

#include "base/result.hpp"

namespace coldwright::service {

struct LowerLimit {
  double density;  // kg/m3 at 25 C and 101.325 kPa
  std::string source, edition;
};
/// Problem for a refrigerant without one.
Result<LowerLimit> lower_limit_of(const std::string& designation);

}  // namespace coldwright::service

// Water's vapour pressure over liquid and over ice: what a vacuum boils away, and at which temperature.
#pragma once

#include "base/result.hpp"

namespace coldwright::procedures {

inline constexpr double kTriplePoint = 273.16;                      // K
inline constexpr double kTriplePressure = 611.657;                  // Pa [wagner2011sublimation]
inline constexpr double kColdestIce = 150, kHottestWater = 473.15;  // K, what is offered here

/// Pa over liquid (above the triple point) by [wagner1993] or over ice (below) by [wagner2011sublimation].
/// T from kColdestIce to kHottestWater.
Result<double> water_pressure(double T);

/// K at which water or ice is in equilibrium with p (Pa).
Result<double> water_temperature(double p);

}  // namespace coldwright::procedures

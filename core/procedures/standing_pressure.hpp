// The pressure of a machine that has stood until all of it is at one temperature, and what a reading beside
// it says. With liquid left anywhere it is the saturation pressure of the coldest place where liquid lies;
// above that something else presses too (air, nitrogen) or parts are warmer than thought; below it no liquid
// is left. Oil takes refrigerant up and lowers it a little; that is left out.
#pragma once

#include "base/result.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::procedures {

struct StandingPressure {
  double low, high;  // Pa: dew point at the coldest, bubble point at the warmest that it may be
  double expected;   // Pa at the temperature itself, midway between its dew and bubble point
};

/// All parts at T (K) give or take `spread`.
Result<StandingPressure> standing_pressure(const fluids::Fluid& fluid, double T, double spread);

/// Pa after everything went from T1 to T2: with liquid present, and of gas alone, which keeps its density
/// until it begins to condense. At or above the dew point at T1 the gas is taken as saturated.
struct Moved {
  double liquid, gas;
};
Result<Moved> standing_pressure_moved(const fluids::Fluid& fluid, double p, double T1, double T2);

}  // namespace coldwright::procedures

// What a closed test volume is filled with: nitrogen, and maybe a trace of refrigerant to search by. Each
// presses as if it were alone (Dalton): nitrogen by its equation of state at its density [span2000nitrogen],
// the refrigerant's vapour by its own, and never above its saturation pressure at the coldest wall, where the
// rest of it condenses. The liquid's volume is left out, and so is what the two gases do to each other: for
// 10 % of R290 in nitrogen at 20 bar the mixed second virial coefficient would take some 1 % off the pressure
// [our-estimate], and of a change by 10 K under 0.1 %.
#pragma once

#include "base/result.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::procedures {

struct TestGas {
  const fluids::Fluid* nitrogen = nullptr;
  const fluids::Fluid* trace = nullptr;  // none when null
  double trace_density = 0;              // kg of refrigerant in each m3 of the volume, condensed or not
};

/// T of the gas, and of the coldest wall that it touches; K.
struct WallTemperatures {
  double gas, coldest;
};

/// Pa that refrigerant of this density in the volume (kg/m3) adds. Problem outside the equation's
/// temperatures.
Result<double> trace_pressure(const fluids::Fluid& trace, double density, const WallTemperatures& T);
/// kg/m3 that a partial pressure (Pa) of vapour means at T (K); saturated vapour when it is no less than the
/// dew pressure.
Result<double> trace_density(const fluids::Fluid& trace, double partial_pressure, double T);
/// The share by volume above which the trace condenses at the coldest wall, of a total pressure p (Pa).
Result<double> trace_condenses_above(const fluids::Fluid& trace, double p, double T_coldest);

/// Pa absolute that a reading of p1 at T1 would be at T2, nothing having left. Problem when the trace alone
/// would press more than p1.
Result<double> brought_to(const TestGas& gas, double p1, const WallTemperatures& T1,
                          const WallTemperatures& T2);

}  // namespace coldwright::procedures

#include "procedures/standing_pressure.hpp"

namespace coldwright::procedures {

Result<StandingPressure> standing_pressure(const fluids::Fluid& fluid, double T, double spread) {
  const auto low = fluid.dew_pressure(T - spread), high = fluid.bubble_pressure(T + spread);
  if (!low) return low.problem();
  if (!high) return high.problem();
  const auto dew = fluid.dew_pressure(T), bubble = fluid.bubble_pressure(T);
  if (!dew) return dew.problem();
  if (!bubble) return bubble.problem();
  return StandingPressure{*low, *high, 0.5 * (*dew + *bubble)};
}

Result<Moved> standing_pressure_moved(const fluids::Fluid& fluid, double p, double T1, double T2) {
  const auto there = standing_pressure(fluid, T2, 0);
  if (!there) return there.problem();
  const auto dew = fluid.dew_pressure(T1);
  if (!dew) return dew.problem();
  const auto gas = p < *dew * (1 - 1e-6) ? fluid.at_Tp(T1, p) : fluid.at_Tx(T1, 1);
  if (!gas) return gas.problem();
  const auto moved = fluid.at_Trho(T2, gas->rho);
  if (!moved) return moved.problem();
  return Moved{there->expected, moved->p};
}

}  // namespace coldwright::procedures

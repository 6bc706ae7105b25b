#include "procedures/test_gas.hpp"

#include <algorithm>
#include <string>

#include "procedures/pressure_test.hpp"

namespace coldwright::procedures {

Result<double> trace_pressure(const fluids::Fluid& trace, double density, const WallTemperatures& T) {
  if (!(density > 0)) return 0.0;
  const auto dew = trace.dew_pressure(std::min(T.coldest, T.gas));
  if (!dew) return dew.problem();
  const auto saturated = trace.at_Tx(T.gas, 1);
  if (!saturated) return saturated.problem();
  if (density >= saturated->rho) return std::min(*dew, saturated->p);
  const auto vapour = trace.at_Trho(T.gas, density);
  if (!vapour) return vapour.problem();
  return std::min(*dew, vapour->p);
}

Result<double> trace_density(const fluids::Fluid& trace, double partial_pressure, double T) {
  if (!(partial_pressure > 0)) return 0.0;
  const auto dew = trace.dew_pressure(T);
  if (!dew) return dew.problem();
  const auto vapour =
      partial_pressure < *dew * (1 - 1e-6) ? trace.at_Tp(T, partial_pressure) : trace.at_Tx(T, 1);
  if (!vapour) return vapour.problem();
  return vapour->rho;
}

Result<double> trace_condenses_above(const fluids::Fluid& trace, double p, double T_coldest) {
  const auto dew = trace.dew_pressure(T_coldest);
  if (!dew) return dew.problem();
  return *dew / p;
}

Result<double> brought_to(const TestGas& gas, double p1, const WallTemperatures& T1,
                          const WallTemperatures& T2) {
  double from = 0, to = 0;
  if (gas.trace != nullptr) {
    const auto before = trace_pressure(*gas.trace, gas.trace_density, T1);
    const auto after = trace_pressure(*gas.trace, gas.trace_density, T2);
    if (!before) return before.problem();
    if (!after) return after.problem();
    from = *before;
    to = *after;
  }
  if (!(p1 > from))
    return Problem{"trace", std::to_string(from) + " Pa of refrigerant",
                   "less than the pressure that was read", "the rest is nitrogen, and there has to be some"};
  const auto nitrogen = pressure_at(*gas.nitrogen, p1 - from, T1.gas, T2.gas);
  if (!nitrogen) return nitrogen.problem();
  return *nitrogen + to;
}

}  // namespace coldwright::procedures

#include "procedures/hose.hpp"

namespace coldwright::procedures {

double hose_volume(double bore, double length) {
  return 0.25 * 3.14159265358979323846 * bore * bore * length;
}

Result<HoseContents> hose_contents(const fluids::Fluid& fluid, double volume, double p, double T) {
  const auto dew = fluid.dew_temperature(p);
  if (!dew) return dew.problem();
  const bool superheated = T > *dew + 1e-6;
  const auto vapour = superheated ? fluid.at_Tp(T, p) : fluid.at_px(p, 1);
  if (!vapour) return vapour.problem();
  const auto liquid = fluid.at_Tx(T, 0);
  if (!liquid) return liquid.problem();
  return HoseContents{volume, volume * vapour->rho, volume * liquid->rho, superheated};
}

}  // namespace coldwright::procedures

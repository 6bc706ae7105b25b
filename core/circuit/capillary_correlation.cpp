#include "circuit/capillary_correlation.hpp"

#include <cmath>
#include <string>

namespace coldwright::circuit {

Result<double> correlated_flow(const fluids::Fluid& fluid, double d, double L, double p_in, double subcooling,
                               double quality) {
  if (!(d >= 0.3e-3 && d <= 2.5e-3))
    return Problem{"capillary bore", std::to_string(d * 1e3) + " mm", "0.3 to 2.5 mm",
                   "the correlation was fitted there"};
  if (!(L >= 0.5 && L <= 10))
    return Problem{"capillary length", std::to_string(L) + " m", "0.5 to 10 m",
                   "the correlation was fitted there"};
  const auto T_sat = fluid.saturation_temperature(p_in);
  if (!T_sat) return T_sat.problem();
  const auto sat = fluid.saturation_at_T(*T_sat - subcooling);  // properties at the inlet temperature
  if (!sat) return sat.problem();
  const auto liquid = fluid.transport(sat->liquid);
  const auto vapour = fluid.transport(sat->vapour);
  if (!liquid) return liquid.problem();
  if (!vapour) return vapour.problem();
  const double v_f = 1 / sat->liquid.rho, v_g = 1 / sat->vapour.rho, mu_f = liquid->viscosity;
  const double nu2 = v_f * v_f * mu_f * mu_f;
  const double pi1 = L / d;
  const double pi2 = d * d * (sat->vapour.h - sat->liquid.h) / nu2;
  const double pi4 = d * d * p_in / (v_f * mu_f * mu_f);
  const double pi6 = v_g / v_f;
  const double pi7 = (mu_f - vapour->viscosity) / vapour->viscosity;
  double pi8 = 0;
  if (quality > 0) {
    pi8 = 187.27 * std::pow(pi1, -0.635) * std::pow(pi2, -0.189) * std::pow(pi4, 0.645) *
          std::pow(quality, -0.163) * std::pow(pi6, -0.213) * std::pow(pi7, -0.483);
  } else {
    const double pi5 = d * d * sat->liquid.single->cp * subcooling / nu2;
    pi8 = 1.8925 * std::pow(pi1, -0.484) * std::pow(pi2, -0.824) * std::pow(pi4, 1.369) *
          std::pow(pi5, 0.0187) * std::pow(pi6, 0.773) * std::pow(pi7, 0.265);
  }
  return pi8 * d * mu_f;
}

}  // namespace coldwright::circuit

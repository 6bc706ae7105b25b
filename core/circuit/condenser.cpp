#include "circuit/condenser.hpp"

#include <algorithm>
#include <cmath>

#include "circuit/charge.hpp"

namespace coldwright::circuit {

CondenserPoint condense(const Condenser& coil, const Isobar& at, double K, double T_air, double flow,
                        double h_in, double T_in) {
  const SatPoint& sat = at.sat;
  const double dT_c = std::max(sat.T - T_air, 0.05);
  CondenserPoint c{};

  // Vapour zone: m cp dT = -K r_v (T - T_air) da
  const VapourPoint mean = at.vapour(0.5 * (std::max(h_in, sat.h_v) + sat.h_v));
  const double cp_v = h_in > sat.h_v + 1 && T_in > sat.T + 0.01 ? (h_in - sat.h_v) / (T_in - sat.T) : mean.cp;
  const double rate_v = K * coil.vapour_ratio / (flow * cp_v);
  const double dT_in = std::max(T_in - T_air, dT_c);
  const double need_v = h_in > sat.h_v ? std::log(dT_in / dT_c) / rate_v : 0;
  c.share_vapour = std::min(need_v, 1.0);

  const double h_start = std::min(h_in, sat.h_v);  // entering the condensing zone
  const double need_2 = flow * (h_start - sat.h_l) / (K * dT_c);
  const double left = 1 - c.share_vapour;
  c.share_two_phase = std::min(need_2, left);
  c.share_liquid = left - c.share_two_phase;

  double x_in = std::clamp((h_start - sat.h_l) / (sat.h_v - sat.h_l), 0.0, 1.0);
  if (c.share_vapour >= 1) {  // nothing condenses
    c.T_out = T_air + dT_in * std::exp(-rate_v);
    c.h_out = sat.h_v + cp_v * (c.T_out - sat.T);
    c.x_out = 1;
  } else if (c.share_liquid <= 0) {  // incomplete condensation
    c.h_out = h_start - K * dT_c * c.share_two_phase / flow;
    c.T_out = sat.T;
    c.x_out = std::clamp((c.h_out - sat.h_l) / (sat.h_v - sat.h_l), 0.0, 1.0);
  } else {
    const double rate_l = K * coil.liquid_ratio / (flow * sat.cp_l);
    c.T_out = T_air + dT_c * std::exp(-rate_l * c.share_liquid);
    c.h_out = sat.h_l - sat.cp_l * (sat.T - c.T_out);
    c.x_out = 0;
  }
  c.heat = flow * (h_in - c.h_out);

  const double liquid_rho =
      c.share_liquid > 0 ? at.fluid->at_temperature(0.5 * (sat.T + c.T_out)).rho_l : sat.rho_l;
  c.mass = coil.volume *
           (c.share_vapour * mean.rho +
            c.share_two_phase * two_phase_mean_density(x_in, c.x_out, sat.rho_l, sat.rho_v, coil.hold_up) +
            c.share_liquid * liquid_rho);

  const double middle = 0.5;
  if (middle < c.share_vapour) {
    c.T_middle = T_air + dT_in * std::exp(-rate_v * middle);
  } else if (middle <= c.share_vapour + c.share_two_phase) {
    c.T_middle = sat.T;
  } else {
    const double into = middle - c.share_vapour - c.share_two_phase;
    c.T_middle = T_air + dT_c * std::exp(-K * coil.liquid_ratio / (flow * sat.cp_l) * into);
  }
  return c;
}

}  // namespace coldwright::circuit

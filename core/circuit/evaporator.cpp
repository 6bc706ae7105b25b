#include "circuit/evaporator.hpp"

#include <algorithm>
#include <cmath>

#include "circuit/charge.hpp"

namespace coldwright::circuit {

EvaporatorPoint evaporate(const Evaporator& coil, const Isobar& at, double K, double T_air, double flow,
                          double h_in) {
  const SatPoint& sat = at.sat;
  // A coil warmer than its air can't boil; keep a little difference so that the solver sees a slope.
  const double gap = T_air - sat.T;
  const double dT = gap > 1 ? gap : std::exp(gap - 1);
  EvaporatorPoint e{};
  const double x_in = (h_in - sat.h_l) / (sat.h_v - sat.h_l);
  e.x_in = std::clamp(x_in, 0.0, 1.0);
  const double need = flow * (sat.h_v - h_in) / (K * dT);
  if (need >= 1) {
    e.share_two_phase = 1;
    e.h_out = h_in + K * dT / flow;
    e.T_out = sat.T;
    e.x_out = std::clamp((e.h_out - sat.h_l) / (sat.h_v - sat.h_l), 0.0, 1.0);
  } else {
    e.share_two_phase = std::max(need, 0.0);
    const VapourPoint gas = at.vapour(sat.h_v);
    const double rate = K * coil.vapour_ratio / (flow * gas.cp);
    const double start = std::max(h_in, sat.h_v);
    const double T_start = start > sat.h_v ? at.vapour(start).T : sat.T;
    e.T_out = T_air - (T_air - T_start) * std::exp(-rate * (1 - e.share_two_phase));
    e.h_out = e.T_out > sat.T ? at.vapour_enthalpy(e.T_out) : sat.h_v;
    e.x_out = 1;
  }
  e.heat = flow * (e.h_out - h_in);
  const double hold_up = coil.hold_up * std::clamp(coil.design_flow / flow, 1.0, 4.0);
  e.mass = coil.volume *
           (e.share_two_phase * two_phase_mean_density(e.x_in, e.x_out, sat.rho_l, sat.rho_v, hold_up) +
            (1 - e.share_two_phase) * sat.rho_v);
  return e;
}

}  // namespace coldwright::circuit

#include "circuit/suction_exchanger.hpp"

#include <algorithm>

namespace coldwright::circuit {

SuctionPoint exchange(const SuctionExchanger& x, const WorkingFluid& f, double lnp, double h_in, double T_hot,
                      double T_ambient) {
  const SatPoint sat = f.saturation(lnp);
  const VapourPoint gas = f.vapour(lnp, h_in);
  const double span = std::max(T_hot - gas.T, 0.0);
  SuctionPoint s{};
  s.heat = x.effectiveness * gas.cp * span;
  if (h_in < sat.h_v) {
    // Wet suction boils dry first; the liquid side then limits what the tube can give.
    const double most = x.effectiveness * sat.cp_l * span;
    s.heat = std::min(s.heat + (sat.h_v - h_in), std::max(most, s.heat));
  }
  s.h_out = h_in + s.heat;
  const VapourPoint out = f.vapour(lnp, s.h_out);
  if (s.h_out >= sat.h_v) {
    s.h_out += x.pick_up * gas.cp * (T_ambient - out.T);
    s.T_out = f.vapour(lnp, s.h_out).T;
  } else {
    s.T_out = sat.T;
  }
  return s;
}

}  // namespace coldwright::circuit

#include "circuit/suction_exchanger.hpp"

#include <algorithm>

namespace coldwright::circuit {

SuctionPoint exchange(const SuctionExchanger& x, const Isobar& at, double h_in, double T_hot,
                      double T_ambient) {
  const SatPoint& sat = at.sat;
  const VapourPoint gas = at.vapour(h_in);
  const double span = std::max(T_hot - gas.T, 0.0);
  SuctionPoint s{};
  s.heat = x.effectiveness * gas.cp * span;
  if (h_in < sat.h_v) {
    // Wet suction boils dry first; the liquid side then limits what the tube can give.
    const double most = x.effectiveness * sat.cp_l * span;
    s.heat = std::min(s.heat + (sat.h_v - h_in), std::max(most, s.heat));
  }
  s.h_out = h_in + s.heat;
  // The bare line gains whether it carries gas or boils the last liquid: a jump between the two would leave a
  // band of machines without any operating point.
  s.h_out += x.pick_up * gas.cp * (T_ambient - at.vapour(s.h_out).T);
  s.T_out = s.h_out >= sat.h_v ? at.vapour(s.h_out).T : sat.T;
  return s;
}

}  // namespace coldwright::circuit

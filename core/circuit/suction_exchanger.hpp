// Capillary tube soldered to the suction line: what a kilogram of suction gas takes from the liquid.
#pragma once

#include "circuit/working_fluid.hpp"

namespace coldwright::circuit {

struct SuctionExchanger {
  double effectiveness = 0;  // against the vapour's capacity, dry suction
  double pick_up = 0;        // share of the difference to ambient gained on the bare line behind it
};

struct SuctionPoint {
  double heat;   // J/kg from capillary to suction
  double h_out;  // at the compressor inlet, J/kg
  double T_out;  // K
};

/// h_in leaving the evaporator, T_hot at the condenser outlet.
SuctionPoint exchange(const SuctionExchanger& x, const Isobar& at, double h_in, double T_hot,
                      double T_ambient);

}  // namespace coldwright::circuit

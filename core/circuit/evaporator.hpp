// A fan-coil evaporator in two zones by area: boiling, then superheating; wet outlet when the area runs out.
#pragma once

#include "circuit/working_fluid.hpp"

namespace coldwright::circuit {

struct Evaporator {
  double volume = 0;        // m3 inside
  double vapour_ratio = 0;  // conductance of the superheating zone relative to the boiling one
  double hold_up = 1;       // liquid hold-up over Zivi's at the design flow
  double design_flow = 0;   // kg/s; at lower flow liquid stays longer
};

struct EvaporatorPoint {
  double h_out, T_out;
  double share_two_phase;
  double x_in, x_out;
  double heat;  // W
  double mass;  // kg
};

/// `at` the coil's isobar; T_air entering (box) air.
EvaporatorPoint evaporate(const Evaporator& coil, const Isobar& at, double K, double T_air, double flow,
                          double h_in);

}  // namespace coldwright::circuit

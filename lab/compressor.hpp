// Pump, motor and their losses at one moment.
#pragma once

#include "lab/cabinet.hpp"

namespace coldwright::lab {

/// What the compressor stands between.
struct Ports {
  const Refrigerant* refrigerant;
  double p_suction, T_suction, h_suction, rho_suction, k_suction;  // gas in the shell
  double p_head, rho_head;                                         // plenum
  double T_body;                                                   // K
  double volts;                                                    // at the terminals
};

struct Running {
  double flow = 0;     // kg/s delivered to the plenum
  double h_out = 0;    // J/kg of it
  double power = 0;    // W, electrical
  double current = 0;  // A
  double to_body = 0;  // W
  double to_gas = 0;   // W, into the shell's gas by what is pumped round
  double shaft = 0;    // W
};

/// The motor turns.
Running run(const Pump& pump, const Motor& motor, const Cabinet& of, const Condition& is, const Ports& at);
/// Powered and standing.
Running stand_locked(const Motor& motor, const Ports& at);
/// Ohms of a copper winding at T that has `at_25` at 25 C.
double warm_ohms(double at_25, double T);

}  // namespace coldwright::lab

// One particular machine, its surroundings, and what is wrong with it: the three inputs of an operating
// point.
#pragma once

#include "circuit/air_side.hpp"
#include "circuit/capillary.hpp"
#include "circuit/compressor.hpp"
#include "circuit/condenser.hpp"
#include "circuit/evaporator.hpp"
#include "circuit/nameplate.hpp"
#include "circuit/suction_exchanger.hpp"

namespace coldwright::circuit {

/// What else holds refrigerant.
struct Vessels {
  double liquid_line = 0;       // m3, with the drier
  double shell = 0;             // m3 of gas in the compressor
  double oil = 0;               // kg
  double oil_solubility = 0.2;  // a of dissolved_in_oil()
};

struct Machine {
  Compressor compressor;
  Condenser condenser;
  AirSide condenser_air;
  Evaporator evaporator;
  AirSide evaporator_air;
  Capillary capillary;
  SuctionExchanger suction;
  Vessels vessels;
  double charge = 0;           // kg
  double suction_drop = 0.02;  // share of p_e lost to the compressor inlet
  double T_trip = 0;  // K, condensing temperature beyond which the overload opens (a snapshot, our estimate)
  double current_trip = 0;                         // A, running current the overload doesn't hold
  double design_current = 0;                       // A at the design point
  double load_per_kelvin = 0;                      // W/K from ambient to box at rest, all loads in
  double design_capacity = 0, design_ambient = 0;  // W and K at the design point
  double set_point = 0;                            // K
  // where the design solved it: the start of every operating-point solve
  double lnp_e0 = 0, split0 = 0, h_eo0 = 0;
};

struct Conditions {
  double ambient = 0;      // K, air onto the condenser
  double box = 0;          // K, air onto the evaporator
  double voltage = 0;      // V at the compressor
  double air_density = 1;  // relative to sea level (altitude)
};

/// Departures from the machine as built. Defaults: none.
struct Departure {
  CompressorFault compressor;
  bool pumps = true;          // false: motor turns, nothing is moved
  double charge = 1;          // factor on the charge
  double capillary_open = 1;  // share of the flow area left
  double noncondensable = 0;  // Pa of foreign gas in the condenser
  AirFault condenser_air;
  AirFault evaporator_air;
};

}  // namespace coldwright::circuit

// One cabinet's parts by their numbers, and what may be wrong with it. SI, absolute pressure.
#pragma once

#include <string>
#include <vector>

#include "lab/capillary.hpp"

namespace coldwright::lab {

struct Coil {
  int cells = 8;
  double volume = 150e-6;                            // m3 of refrigerant
  double bore = 6.5e-3;                              // m
  double metal = 1200;                               // J/K, tube and fins
  double air_capacity = 80;                          // W/K of the air stream, clean, fan at speed
  double air_conductance = 70;                       // W/K between metal and air
  bool still_air = false;                            // no fan: conductance follows the temperature difference
  double design_difference = 12;                     // K, for still air
  double pressure_drop = 8e3;                        // Pa from end to end at the design flow
  double area() const { return 4 * volume / bore; }  // m2 inside
};

struct Pump {
  double displacement = 8e-6;  // m3
  double speed = 60;           // 1/s, synchronous
  double clearance = 0.03;
  double suction_heating = 0.3;                         // share of the way from shell gas to body temperature
  double valve_suction = 0.03, valve_discharge = 0.04;  // of the pressure there at the design flow
  double blow_by = 0.02;    // of the design flow past the piston at the design difference
  double indicated = 0.88;  // isentropic work over the work of the real cylinder
  double friction = 25;     // W
};

struct Motor {
  double voltage = 115;         // V rated
  double winding = 1.6;         // ohm at 25 C, run
  double start_winding = 6;     // ohm at 25 C
  double magnetising = 1.6;     // A at rated voltage
  double core = 18;             // W at rated voltage
  double slip = 0.04;           // at design load and voltage
  double design_shaft = 200;    // W
  double leakage = 0.18;        // reactive volts per volt at design current
  double locked = 5;            // times design current
  double starts_against = 9e5;  // Pa of difference
  double starts_at = 0.80;      // share of rated voltage
  double design_current = 2.6;  // A
  double overload_ratio = 1.9;  // times design current at which it ends up opening
  double overload_tau = 60;     // s
};

struct Shell {
  double gas = 1.3e-3;                                 // m3
  double oil = 0.22;                                   // kg
  double oil_tau = 900;                                // s to dissolve
  double heat = 5500;                                  // J/K of motor, oil and steel
  double to_room = 3.2;                                // W/K
  double to_gas = 1.5;                                 // W/K
  double plenum = 45e-6;                               // m3, muffler and discharge line
  double plenum_metal = 300;                           // J/K
  double plenum_to_body = 0.8, plenum_to_room = 0.35;  // W/K
};

struct Lines {
  double drier = 22e-6;  // m3, liquid line and drier
  double drier_metal = 60, drier_to_room = 0.12;
  double suction = 90e-6;  // m3
  double suction_bore = 7.5e-3;
  double suction_metal = 150, suction_to_room = 0.25;
  double exchange = 5;        // W/K between capillary and suction line
  double suction_drop = 3e3;  // Pa at the design flow
};

struct Box {
  double air = 12e3;                               // J/K of air and what follows it at once
  double volume = 0.5;                             // m3
  double wall = 20e3, wall_in = 14, wall_out = 6;  // J/K, W/K
  double product = 60e3, to_product = 10;          // J/K, W/K
  double leak_exchange = 0.2e-3;                   // m3/s of room air through seals
  double door_exchange = 0.05;                     // m3/s while open
  double doors_per_hour = 6, door_seconds = 12;
  double fan = 8, light = 10, heater = 350;  // W
  double frost_full = 0.9;                   // kg that leaves a third of the air flow
};

struct Control {
  double cut_out = 275.15, cut_in = 278.15;                    // K, of the sensor
  double sensor_tau = 120;                                     // s
  double shortest_off = 150;                                   // s
  double defrost_every = 6 * 3600.0, defrost_for = 20 * 60.0;  // s; none when `every` is zero
  bool electric_defrost = false;
  double defrost_ends_at = 283.15;  // K of the coil's metal, electric
};

struct Surroundings {
  double ambient = 298.15, swing = 0;  // K; a day's wave, warmest after 9 h
  double humidity = 0.5;
  double site_pressure = 101325;
  double voltage = 115;
};

/// What is wrong, as factors and amounts, at one moment.
struct Condition {
  double capillary_open = 1;
  double condenser_air = 1, condenser_surface = 1;
  double evaporator_air = 1;
  double suction_leak = 0;    // share of what is drawn in that goes back
  double discharge_leak = 0;  // of the design flow at the design difference
  bool pumps = true;
  double voltage = 1;
  bool control_open = false, winding_open = false, rotor_stuck = false;
  double load = 1;            // factor on doors and seals
  double leak = 0;            // kg/s to the room at the design pressures, choked
  double ice_plug = 0;        // share of the capillary that freezing water may close
  bool defrost_dead = false;  // nothing melts the coil any more
  bool operator==(const Condition&) const = default;
};

/// One thing wrong: an id and measure of data/causes.json, when it begins and how long it takes to come.
struct Fault {
  std::string id;
  double severity = 0;
  double variant = 0.5;  // 0..1, picks between forms of the same cause
  double begins = 0;     // s
  double ramp = 0;       // s
};

struct Cabinet {
  Coil condenser, evaporator;
  Pump pump;
  Motor motor;
  Shell shell;
  Lines lines;
  Tube tube;
  Box box;
  Control control;
  Correlations correlations;
  double charge = 0.12;                              // kg of refrigerant, everything included
  double foreign_gas = 0;                            // kg
  double design_flow = 1.5e-3;                       // kg/s
  double design_suction = 3e5, design_head = 1.4e6;  // Pa
};

}  // namespace coldwright::lab

// One service call as the virtual cabinet lives it: what the plate says, what is truly wrong, and what
// perfect instruments would show at each moment of the visit. The contract between the lab and whoever
// judges, trains or demonstrates with it. SI, absolute pressure.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace coldwright::lab {

/// What could be read or seen at one moment by someone who makes no mistake.
struct Readable {
  double time = 0;  // s since the technician arrived

  double suction_pressure = 0, discharge_pressure = 0;  // Pa
  // Of the tube's metal, K; what a clamp makes of it is the judge's business.
  double evaporator_inlet = 0, evaporator_outlet = 0, suction_line = 0, discharge_line = 0,
         condenser_middle = 0, liquid_line = 0, shell = 0;
  double box_air = 0, evaporator_air_out = 0, condenser_air_out = 0, ambient = 0, product = 0;  // K
  double current = 0, power = 0;                        // A of the compressor's lead, W of the compressor
  double supply_voltage = 0, terminal_voltage = 0;      // V
  double run_winding_ohms = 0, start_winding_ohms = 0;  // infinite when open

  bool motor_turns = false;                      // the compressor's motor, whether or not it pumps
  bool motor_hums = false;                       // powered and standing
  bool calls_for_cold = true;                    // the control
  double running_for = 0;                        // s since it last started; 0 when it stands
  double condenser_air = 1, evaporator_air = 1;  // air flow, share of a clean machine's with its fan turning
  double condenser_fan = 1, evaporator_fan = 1;  // speed, share of nominal
  double dirt = 0;                               // share of the condenser's air flow taken by dirt
  double frost = 0;                              // share of the evaporator's air flow taken by frost
};

/// An id of data/causes.json and a severity in its own measure there.
struct TrueCause {
  std::string id;
  double severity = 0;
};

struct Visit {
  std::uint64_t seed = 0;
  std::string archetype;         // id in data/cabinets.json
  std::string refrigerant;       // "R290"
  double plate_charge = 0;       // kg, as printed
  double plate_current = 0;      // A, as printed
  double plate_voltage = 0;      // V
  double set_point = 0;          // K
  double site_pressure = 0;      // Pa
  std::vector<TrueCause> truth;  // one or two
  bool box_holds = false;  // no complaint of the box being warm would have come (only kept when asked for)
  int starts_last_hour = 0, trips_last_hour = 0;  // what a listening person would have heard before
  double standing_pressure = 0;                   // Pa, once everything has equalised at ambient
  std::vector<Readable> course;                   // every 30 s over two hours from arrival, oldest first
};

}  // namespace coldwright::lab

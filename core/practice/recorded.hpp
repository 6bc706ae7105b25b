// A visit that the full virtual cabinet lived through, as data/practice keeps it (docs/formats/practice.md):
// the plate, what is truly wrong, and what perfect instruments would show over two hours. Its box doesn't
// answer to what the apprentice does: a machine switched off or robbed of a gram goes on as recorded.
#pragma once

#include <string>
#include <vector>

#include "practice/visit.hpp"

namespace coldwright::practice {

/// Names as in the file's columns. SI, absolute pressure; temperatures of the tube's metal.
struct RecordedMoment {
  double time = 0;  // s since arrival
  double suction_pressure = 0, discharge_pressure = 0;
  double evaporator_inlet = 0, evaporator_outlet = 0, suction_line = 0, discharge_line = 0,
         condenser_middle = 0, liquid_line = 0, shell = 0;
  double box_air = 0, evaporator_air_out = 0, condenser_air_out = 0, ambient = 0;
  double current = 0;
  double supply_voltage = 0, terminal_voltage = 0;
  double run_winding_ohms = 0, start_winding_ohms = 0;
  bool motor_turns = false, motor_hums = false, calls_for_cold = true;
  double running_for = 0;  // s; 0 when it stands
  double condenser_fan = 1, evaporator_fan = 1, dirt = 0, frost = 0;
};

struct RecordedFault {
  std::string cause;
  double severity;
};

struct Recorded {
  std::string id;
  Level level = Level::working_day;
  std::uint64_t seed = 0;
  std::string cabinet, refrigerant;
  double charge = 0, current = 0, voltage = 0, set_point = 0;  // plate: kg, A, V, K
  double site_pressure = 101325;
  double standing_pressure = 0;
  int trips_last_hour = 0;
  std::vector<RecordedFault> truth;
  std::vector<RecordedMoment> course;  // oldest first
};

/// Between two rows of the course numbers go straight, states as in the earlier row; after the last one it
/// stays. Problem when the cabinet or a cause isn't known, or the course is empty.
Result<Visit> recorded_visit(const Recorded& recorded, std::shared_ptr<const circuit::WorkingFluid> fluid,
                             const diagnosis::Knowledge& knowledge);

}  // namespace coldwright::practice

// Visits as text, one JSON line each, so that simulating and judging are separate steps that can be split
// over processors and resumed. SI, absolute pressure, kelvin, seconds, as in lab/visit.hpp.
//
// {"seed":7,"archetype":"reach_in_cooler","refrigerant":"R290",
//  "plate":{"charge":0.13,"current":2.0,"voltage":115,"set_point":276.15},"site_pressure":101325,
//  "truth":[{"cause":"low_charge","severity":0.4}],"box_holds":false,"starts_last_hour":0,
//  "trips_last_hour":0,"standing_pressure":5.1e5,
//  "course":{"time":[0,30,...],"suction_pressure":[...],"motor_turns":1,...}}
// The course stands in columns named as the members of lab::Readable; a column that never changes is one
// value. Numbers are rounded to six digits; null is infinite (an open winding).
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "lab/visit.hpp"

namespace coldwright::judge {

/// Without the end of line.
std::string to_line(const lab::Visit& visit);

/// Problem for what isn't such a line: names the member that is missing or of the wrong kind.
Result<lab::Visit> visit_from_line(std::string_view line);

}  // namespace coldwright::judge

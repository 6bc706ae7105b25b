// The operating point: where mass, energy and charge of the whole circuit agree.
//
// Three unknowns (ln p_e, T_c, h leaving the evaporator) and three residuals (capillary against compressor
// flow, evaporator outlet, charge), damped Newton with differences for the slope. A machine with no such
// point below its trip condition is on its overload: that is an answer. A machine that moves nothing is
// equalised: that is another.
#pragma once

#include <array>
#include <string_view>

#include "circuit/machine.hpp"
#include "circuit/working_fluid.hpp"

namespace coldwright::circuit {

enum class Status {
  not_run,
  converged,
  tripped,    // no steady state the overload would hold; values are a snapshot on the way to the trip
  equalised,  // the motor turns or is off but nothing is pumped; pressures are equal
  failed,     // no answer; `why` says what stopped it
};

std::string_view to_word(Status status);

struct Summary {
  Status status = Status::not_run;
  int iterations = 0;
  int evaluations = 0;
  double residual = 0;   // largest of the three, relative
  std::string_view why;  // for failed and tripped
};

/// Where the solver ended: a start for the same machine, or one like it, in nearly the same conditions.
/// Starting from a tripped one takes for granted that the new machine trips too: for small differences only.
struct Solution {
  bool known = false;
  bool tripped = false;
  std::array<double, 3> x{};
  std::array<std::array<double, 3>, 3> slope{};
};

/// Everything the model knows about the machine at this moment. SI.
struct OperatingPoint {
  Summary summary;
  double p_suction, p_evaporator, p_condensing, p_discharge;  // Pa; discharge includes foreign gas
  double T_evaporating, T_condensing;
  double flow;
  double T_evaporator_out, T_suction, T_discharge, T_shell, T_condenser_middle, T_liquid;
  double superheat;   // at the evaporator outlet, K
  double subcooling;  // against saturation at the discharge pressure a gauge would read minus foreign gas, K
  double capacity;    // W
  double condenser_heat;  // W
  double power, current;  // compressor
  double T_evaporator_air_out, T_condenser_air_out;
  double quality_evaporator_in, quality_evaporator_out, quality_liquid_line;
  double charge_condenser, charge_evaporator, charge_elsewhere;  // kg
  bool capillary_choked;
  Solution solution;
};

OperatingPoint operate(const Machine& machine, const WorkingFluid& fluid, const Conditions& conditions,
                       const Departure& departure, const Solution* near = nullptr);

/// At rest or turning without pumping: one pressure everywhere, liquid (if any) in the coldest place.
/// `running`: the motor draws its unloaded current; otherwise nothing. Foreign gas adds its pressure.
OperatingPoint equalise(const Machine& machine, const WorkingFluid& fluid, const Conditions& conditions,
                        const Departure& departure, bool running);

/// Air density relative to sea level at this site pressure and temperature-neutral: p / 101325.
double air_density_ratio(double site_pressure);

}  // namespace coldwright::circuit

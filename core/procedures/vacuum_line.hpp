// Evacuating through a line: what a hose or valve passes from viscous to molecular flow, and how long a pump
// takes through it.
//
// Conductance of a long round tube by Knudsen's formula, which joins both regimes [roth1990, Chapter 3]:
//   C = pi d^4 p/(128 mu L) + K (1 + b)/(1 + 1.24 b),   K = (1/6) sqrt(2 pi R T) d^3/L,   b = d p/(mu sqrt(R
//   T)),
// p the mean pressure. A short tube passes less in molecular flow: K/(1 + 4 d/(3 L)). Lines in series add as
// 1/C, and with the pump's speed S the system feels 1/S_eff = 1/S + 1/C.
#pragma once

#include <vector>

#include "base/result.hpp"
#include "procedures/gas_through_tube.hpp"

namespace coldwright::procedures {

/// Air at room temperature: R 287.05 J/(kg K), viscosity 18.2e-6 Pa s [lemmon2004].
Gas air();

struct Line {
  double bore;    // m
  double length;  // m
};

/// m3/s of gas at temperature T (K) and mean pressure p (Pa), inlet volume.
double conductance(const Line& line, const Gas& gas, double T, double p);

struct Pump {
  double speed;     // m3/s at its inlet, as its plate says
  double ultimate;  // Pa, what it reaches with its inlet closed
};

/// m3/s that the system feels at pressure p through all lines in series.
double effective_speed(const Pump& pump, const std::vector<Line>& lines, const Gas& gas, double T, double p);

/// Pa m3/s through lines in series from p_from to p_to (Pa), inside each its own conductance at their mean
/// pressure: exact in viscous flow, where a line's throughput goes with the difference of the squares, and in
/// molecular flow. Never more than the narrowest bore passes choked, p A sqrt(g R T) (2/(g + 1))^((g + 1)/(2
/// (g - 1))), which is what limits a short valve core near the atmosphere. Below zero when it runs backwards.
double throughput(const std::vector<Line>& lines, const Gas& gas, double T, double p_from, double p_to);

/// Seconds from p_start to p_end (Pa) for a dry, tight volume (m3). Problem when the pump can't get there.
Result<double> pump_down_time(const Pump& pump, const std::vector<Line>& lines, double volume, double T,
                              double p_start, double p_end);

/// Seconds to carry off `water` (kg) that boils at `vapour_pressure` (Pa) somewhere in the system: the least,
/// with the heat for boiling there at once. Problem when the pump's ultimate isn't below it.
Result<double> drying_time(const Pump& pump, const std::vector<Line>& lines, double water,
                           double vapour_pressure, double T);

}  // namespace coldwright::procedures

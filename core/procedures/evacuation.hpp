// The course of an evacuation: two volumes joined by the capillary, a pump on one of them or on both, water
// that boils as heat reaches it, refrigerant that the oil gives back.
//
//   V_n dp_n/dt = -Q_n + Q_cap + Q_water + Q_oil        V_f dp_f/dt = -Q_f - Q_cap (+ Q_water)
//   S (p_pump - p_ultimate) = Q_n + Q_f
// Q through lines by Knudsen's formula (vacuum_line.hpp). On one side alone the far volume empties through
// the capillary, which passes a hundredth of what a hose does.
// Water boils no faster than heat reaches it, E = G (T - T_boil(p))/L, and not at all while the gas over it
// stands above its vapour pressure. Refrigerant leaves the oil as m exp(-t/s).
// Left out: the walls' own gas, what nitrogen or air dissolves in oil, vapour diffusing through still gas,
// and that water vapour is thinner than air, so that lines pass twice as much of it in viscous flow: with
// water the course errs to the long side. G and s are our estimate.
#pragma once

#include <optional>
#include <vector>

#include "procedures/vacuum_line.hpp"

namespace coldwright::procedures {

/// A valve core as a short narrow bore: our estimate for the ring gap around a quarter-inch core's pin.
inline constexpr Line kValveCore{1.6e-3, 15e-3};
/// Heat that reaches a gram or so of water in a tube's bottom, W/K; and how long the oil gives gas: our
/// estimate.
inline constexpr double kWaterConductance = 0.05, kOilTime = 1200;

struct Evacuation {
  Pump pump{};
  std::vector<Line> near;  // from the near side to the pump, in series: core, hose
  std::vector<Line> far;   // from the far side to the same pump; empty when only one side is connected
  std::optional<Line> capillary;
  double near_volume = 0, far_volume = 0;  // m3; no far side when 0
  double T = 293.15;                       // K
  double water = 0;                        // kg, liquid or ice
  bool water_far = false;
  double water_conductance = kWaterConductance;
  double oil_gas = 0;            // kg of refrigerant in the oil, all of which leaves in the end
  double oil_gas_constant = 0;   // J/(kg K)
  double oil_time = kOilTime;    // s
  double longest = 24 * 3600.0;  // s, where the reckoning stops
};

struct EvacuationPoint {
  double time;       // s
  double near, far;  // Pa; equal where there is one volume
  double water, oil_gas;
};

struct EvacuationCourse {
  std::vector<EvacuationPoint> points;  // thinned; the last is where it ends
  std::optional<double> near_time;      // s after which the near side stays at or below the target
  std::optional<double> far_time;
  std::optional<double> dry_time;  // s until 99 % of the water is gone; 0 without water
};

/// Runs until both sides stand at or below `target` and the water is gone, or `longest`. `start.time` is
/// ignored. Problem when the target is not above the pump's ultimate, or volumes, lines or starts contradict
/// each other.
Result<EvacuationCourse> evacuate(const Evacuation& setup, EvacuationPoint start, double target);
/// From one pressure on both sides, with all the water and gas there.
Result<EvacuationCourse> evacuate(const Evacuation& setup, double p_start, double target);

/// Several vacuums with breaks of dry nitrogen between them.
struct Breaks {
  int vacuums = 3;
  double vacuum = 200;      // Pa, each but the last
  double last = 66.66;      // Pa
  double broken = 101325;   // Pa, what nitrogen breaks it to
  double filling = 2 * 60;  // s to let it in, our estimate
};

struct BrokenVacuums {
  std::vector<double> pumping;   // s, each vacuum
  std::vector<double> breaking;  // s, each break: filling and what the capillary takes to pass it on
  std::vector<double> water;     // kg that each vacuum boils off and each break carries, in order of vacuums
  double total;                  // s
  /// Of the air there at first: (p_vac/p_start) (p_vac/p_break)^(n - 2) (p_last/p_break). What is left beside
  /// it is nitrogen, and the two together still stand at p_last.
  double air_share;
  double single;                       // Pa, the one vacuum that leaves the same share of air
  std::optional<double> single_time;   // s to it, none when the pump or `longest` doesn't allow it
  std::optional<double> single_water;  // kg that it boils off
};

/// Problem as evacuate(), or when a break isn't above the vacuum, or a vacuum isn't reached within `longest`.
Result<BrokenVacuums> broken_vacuums(const Evacuation& setup, double p_start, const Breaks& breaks);

/// kg of water vapour that a volume (m3) of gas takes along when it is let in dry and leaves saturated at T.
double carried_water(double volume, double vapour_pressure, double T);

}  // namespace coldwright::procedures

// The standing pressure test with nitrogen: how high, how a temperature change moves the gauge, and what the
// minutes, the gauge and the volume could have shown of a leak.
//
// A closed volume keeps its density, so its pressure at another temperature is the equation of state's at
// that density [span2000nitrogen]. Readings brought to one temperature this way lie on a line whose slope
// times the volume is the leak, Q = -V dp/dt (Pa m3/s). What a leak of nitrogen at the test pressure is in
// grams of refrigerant a year depends on how it passes: viscous through a capillary-like hole (Poiseuille, Q
// ~ (p1^2 - p2^2)/mu) or molecular through a fine one (Knudsen, Q ~ (p1 - p2)/sqrt(M)); both are given
// [roth1990, Chapter 3].
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::procedures {

/// One side of the circuit as its plate gives it.
struct Side {
  std::string name;                      // "low side"
  std::optional<double> plate_pressure;  // Pa absolute; absent when the plate is gone
  bool connected = true;
};

/// The highest pressure allowed in everything that is connected: the lowest of the plates' pressures. Problem
/// when a connected side has none, or nothing is connected.
Result<double> allowed_test_pressure(const std::vector<Side>& sides);
/// Problem when `wanted` (Pa absolute) is above what is allowed, naming the side that limits it.
std::optional<Problem> check_test_pressure(const std::vector<Side>& sides, double wanted);

/// Pa absolute after a closed volume of nitrogen went from T1 to T2 (K).
Result<double> pressure_at(const fluids::Fluid& nitrogen, double p1, double T1, double T2);

struct TightnessReading {
  double time;         // s
  double pressure;     // Pa absolute
  double temperature;  // K of the gas, taken as that of the metal
};

struct TightnessGauge {
  double resolution;         // Pa
  double temperature_sigma;  // K, reading against reading
};

struct Leak {
  double low, mid, high;  // Pa m3/s, 5, 50, 95 %; below zero means rising
};

struct Tightness {
  Leak leak;
  /// The leak that this test would have shown 19 times of 20, with one false alarm in 20.
  double smallest_shown;  // Pa m3/s
  /// The same of a leak of `wanted`: seconds that these instruments need between first and last reading.
  double seconds_needed;
};

/// Two readings or more, times rising; `volume` m3, `wanted` the leak to be ruled out, Pa m3/s.
Result<Tightness> judge_tightness(const fluids::Fluid& nitrogen,
                                  const std::vector<TightnessReading>& readings, const TightnessGauge& gauge,
                                  double volume, double wanted);

struct YearlyLoss {
  double viscous, molecular;  // kg of refrigerant a year
};

/// What a nitrogen leak Q (Pa m3/s) at test pressure p_test would lose of the refrigerant's vapour at
/// p_service (both Pa absolute, at T, into air at p_air).
Result<YearlyLoss> yearly_loss(const fluids::Fluid& nitrogen, const fluids::Fluid& refrigerant, double leak,
                               double p_test, double p_service, double T, double p_air);

/// kg a year of a gas of molar mass M (kg/mol) that leaks Q (Pa m3/s) at T.
double kilograms_a_year(double leak, double M, double T);

}  // namespace coldwright::procedures

// A box's pull-down: one thermal mass C (air, walls, what stands in it) at the box temperature T,
//   C dT/dt = U (T_a - T) - Q(T),
// U what comes in per kelvin to the ambient T_a, all loads of a closed box in it, and Q the machine's
// capacity at that box temperature: operating points at a few temperatures, straight in between. So every
// stretch is a linear equation with its closed form, and as nothing depends on t alone, T is a function of t
// / C: one course serves every mass. A machine on its overload at a box temperature carries nothing there.
#pragma once

#include <optional>
#include <vector>

#include "diagnosis/simulate.hpp"

namespace coldwright::procedures {

/// A machine's cooling at box temperatures, rising.
struct Cooling {
  std::vector<double> box;       // K
  std::vector<double> capacity;  // W
  std::vector<bool> tripped;     // on its overload there: it carries nothing
};

/// Straight between the operating points, as at the ends outside them.
double capacity_at(const Cooling& cooling, double box);

/// Operating points of a built machine at `points` box temperatures from `low` to `high` K. Empty where one
/// can't be computed. A machine that doesn't run carries nothing.
std::optional<Cooling> cooling_of(const diagnosis::Built& built, const circuit::WorkingFluid& fluid,
                                  double low, double high, int points = 6);

/// Box temperature against time over mass: seconds for every J/K. Moves one way, towards where load and
/// capacity agree.
class Course {
 public:
  /// `load`: W/K. `start` and `ambient` in K.
  Course(const Cooling& cooling, double load, double ambient, double start);

  /// K at t / C.
  double at(double time_over_mass) const;
  /// t / C at which it comes by this temperature; empty when it never does.
  std::optional<double> when(double temperature) const;

 private:
  // From `time` on dT/ds = rate + slope (T - from), until the next stretch.
  struct Stretch {
    double time, from, rate, slope;
  };
  std::vector<Stretch> stretches_;
  double start_;
  double end_;  // where it comes to rest
};

/// Thermal mass of a box. Empty: 75 J/K for each watt the machine carries at its design point (air, liner,
/// shelves and coil of cabinets that come down in half an hour to an hour, our estimate), within a factor
/// of 1.7; with `product` kg in it 3.5 kJ/(kg K) more [from-memory], of which half goes along (our estimate).
struct ThermalMass {
  double median;  // J/K
  double ratio;   // one standard deviation of its logarithm, as a factor
  double of(double z) const;
};
ThermalMass thermal_mass(double design_capacity, std::optional<double> product);

/// A reading of the box.
struct BoxReading {
  double seconds;  // since the first
  double box;      // K
};
/// ln likelihood of readings after the first, given the course's values at their times. The course errs by a
/// stationary wandering of 0.7 K that is forgotten in 15 min, a probe by 0.4 K (our estimates), and a reading
/// in a hundred is a mistake; filtered one by one [kalman1960]. `settled`: whether the course has the
/// thermostat at work there, which swings the box by 1.5 K.
double log_likelihood(const std::vector<BoxReading>& readings, const std::vector<double>& course,
                      const std::vector<bool>& settled);

}  // namespace coldwright::procedures

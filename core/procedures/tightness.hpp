// A standing test as its readings come: tight, leaking, not decided yet, or explained by something else.
//
// Readings brought to the first one's temperature (test_gas.hpp) lie on
//   y = level + w d(t; d0, k) - (Q/V) t,
// d the difference between the sides that still equalises through the capillary (equalising.hpp), d0 what it
// was at the first reading, k how much faster the tube passes than reckoned, Q the leak. Level and Q/V are
// integrated in closed form (normal errors, flat prior), d0, k and the volume over grids, so the leak's
// posterior is a mixture of normals. Priors: three in ten that the sides are equal already, else d0 even over
// its logarithm; k lognormal from the spread of the tube [our-estimate]. Where readings scatter more than the
// instruments explain, their spread is widened to that.
#pragma once

#include <optional>
#include <vector>

#include "diagnosis/answer.hpp"
#include "procedures/equalising.hpp"
#include "procedures/pressure_test.hpp"
#include "procedures/spread.hpp"
#include "procedures/test_gas.hpp"

namespace coldwright::procedures {

/// The side that gas was let in on: the gauge falls, rises, or neither while the sides equalise.
enum class FedSide { gauge, other, both };

struct Joined {
  TwoSides sides;
  Tube tube;
  double flow_spread = 0.15;  // standard deviation of ln(flow through the tube)
  FedSide fed = FedSide::gauge;
};

struct StandingTest {
  TestGas gas;
  std::vector<TightnessReading> readings;
  double coldest_below = 0;  // K, coldest wall below the temperature read
  TightnessGauge gauge{};
  Known volume;                  // m3 of everything that stands under pressure
  double wanted = 0;             // Pa m3/s, to be ruled out
  double p_air = 101325;         // Pa: no side is below
  std::optional<Joined> joined;  // absent: one side alone, or both joined wide open
};

enum class TightnessVerdict {
  tight,        // the wanted leak is ruled out
  temperature,  // and what the gauge fell is what the temperature does
  equalised,    // and what it fell is what passed through the capillary
  leaks,
  rising,      // 999 times of 1000 the pressure rises: something that isn't in the model feeds it
  equalising,  // not decided, and the sides aren't equal yet
  undecided,
};

struct CoursePoint {
  double time, low, mid, high;  // s and Pa, 5, 50, 95 %
};

struct TightnessAnswer {
  TightnessVerdict verdict;
  Leak leak;                   // Pa m3/s
  double probability_above;    // that the leak is above the wanted one: 0.95 is called a leak
  double probability_missed;   // the same, given that no leak is below zero: 0.05 is called tight
  double smallest_shown;       // Pa m3/s, 19 times of 20 with one false alarm in 20
  double seconds_needed;       // between first and last reading, as many readings, for the wanted leak
  double fall, fall_expected;  // Pa from first to last: read, and what temperature alone explains of it
  double still_apart;          // probability that the gauge has more than its resolution left to equalise
  double seconds_to_equal;     // from the last reading until it hasn't; the middle of what is plausible
  std::optional<double>
      tube_speed;  // how many times as much the tube passes as reckoned, where the readings show it
  bool curved;     // the readings bend in a way that neither leak nor equalising explains: nothing is decided
  double scatter;  // readings' scatter over what the instruments explain
  std::vector<double> compensated;  // Pa, each reading at the first one's temperature
  std::vector<CoursePoint> course;  // of the compensated pressure, to a third beyond the last reading
};

/// Problem for fewer than two readings, times that don't rise, a volume or wanted leak not above zero.
Result<TightnessAnswer> judge_standing(const StandingTest& test);

/// Smallest leak (Pa m3/s) that n readings evenly over `span` s would show; before the test. `each`: the
/// spread of one reading (Pa) as reading_spread() gives it.
double smallest_leak(double volume, double each, int n, double span);
double reading_spread(const TightnessGauge& gauge, double p, double T);

/// One stop on the way up to the test pressure.
struct Stage {
  double pressure;  // Pa absolute
  double minutes;   // to hold and to listen, look and bubble
};
/// A first stop at 2 bar above the air (never above a quarter of the way), one half way, then the whole; 5
/// min each, the last standing [common-practice].
std::vector<Stage> staged_rise(double p_air, double wanted);

}  // namespace coldwright::procedures

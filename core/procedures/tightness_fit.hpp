// The fit under a standing test's verdict: readings brought to one temperature, and every way that level,
// leak and what still equalises may account for them, weighed. Kept to tightness.cpp.
#pragma once

#include <optional>
#include <vector>

#include "procedures/tightness.hpp"

namespace coldwright::procedures {

/// One way it may be: given it, level and slope are normal.
struct Way {
  double d0, speed, log_weight = 0, weight = 0;
  double slope = 0, mean = 0, squares = 0;  // of what is left without d
};

/// The straight line of least squares.
struct StraightLine {
  double mean_t, mean_y, slope, squares;
};

/// Readings at the first one's temperature, times from the first; s and Pa.
struct Series {
  std::vector<double> time, level;
  double mean_t = 0, tt = 0;
};

Result<Series> compensated(const StandingTest& test);
StraightLine line_through(const Series& s, const std::vector<double>& y);

/// Everything that depends on d0 and k, weighed.
struct Weighed {
  std::vector<Way> ways;
  std::optional<Equalising> course;
  double share = 0;  // of the difference that the gauge shows, with its sign
  double each = 0;   // Pa, spread of one reading, widened where they scatter
  double scatter = 1;
  bool curved = false;  // what no way explains runs together, reading after reading, rather than to and fro
  double shown(const Way& way, double t) const {
    return course ? share * course->later(way.d0, t, way.speed) : 0;
  }
};

/// `each`: Pa, what the instruments let one reading be off by.
Result<Weighed> weigh(const StandingTest& test, const Series& s, double each);

}  // namespace coldwright::procedures

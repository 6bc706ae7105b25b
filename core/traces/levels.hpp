// From samples to runs of nearly one level, and from the runs to the levels that a signal keeps: what it
// stands at when the machine is off, when it runs, when a heater is on. Learned from the trace alone.
#pragma once

#include <cstdint>
#include <vector>

#include "traces/trace.hpp"

namespace coldwright::traces {

/// Samples from..to-1 whose values stay near one level; NaN between them are passed over.
struct Run {
  std::uint32_t from = 0, to = 0;
  float mean = 0, sd = 0, low = 0, high = 0;
  std::uint32_t count = 0;    // samples with a value
  double begin = 0, end = 0;  // s; until the next sample, or as long as a sample stands before a gap
};

/// What a signal's samples scatter by at rest: sigma = floor + share * level, from the smaller quarter of
/// neighbours' differences in the lower and the upper half of its range (the quarter of |difference| is 0.451
/// sigma of Gaussian noise, and changes of state don't reach it); never below the step it is counted in.
struct Noise {
  double floor = 0, share = 0;
  double at(double level) const { return floor + share * (level > 0 ? level : 0); }
};
Noise noise_of(const std::vector<float>& value);

/// One pass. A sample starts a new run when it is off the run's level by more than noise, a share of the
/// level and of the signal's whole range allow, or when it follows a gap.
std::vector<Run> runs_of(const std::vector<double>& t, double gap, const std::vector<float>& value,
                         const Noise& noise, double interval);

/// A level the signal comes back to. Positions are on the root axis, y = sqrt(x): there a floor of a few
/// watts and a heater of hundreds stand at comparable distances.
struct Level {
  double y = 0, sd = 0;  // on the root axis
  double value = 0;      // the signal's unit
  double seconds = 0;    // spent there
  double energy = 0;     // value above the lowest level, times seconds
  int visits = 0;
  double usual_visit = 0;    // s, median
  double flatness = 0;       // median over visits of the relative scatter within one
  double beside_higher = 0;  // share of its visits that come next to a level above, off apart
  double from_rest = 0;      // share of its visits that begin and end at rest
  enum class Role : std::uint8_t { rest, run, heater, other } role = Role::rest;
};

struct Levels {
  std::vector<Level> all;  // rising
  double split_y = 0;      // between rest and run; all rest when there is one level
  bool one_level = false;
  bool unparted = false;  // values from nothing to full, but no levels: each sample is a mean of run and rest
  bool speeds = false;    // many levels without a rest among them: a speed that changes
  double run_value = 0;   // of the level that most energy goes through
  double rest_value = 0;
  double y_low = 0, y_high = 1;  // the range of the root axis
};
double root(double x);
/// Reorders `v`.
double quantile(std::vector<double>& v, double q);

/// `interval`: the usual step between samples, s.
Levels levels_of(const std::vector<Run>& runs, const Noise& noise, double interval);

}  // namespace coldwright::traces

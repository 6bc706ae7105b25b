// A logged signal against time with the machine's phases as bands below it, as a small SVG. Each state has a
// band of its own height as well as its grey, so that it can be told without colour.
#pragma once

#include <string>
#include <vector>

#include "base/field_units.hpp"

namespace coldwright::drawing {

struct TraceStrip {
  struct Point {
    double at = 0, least = 0, most = 0;  // s; in the unit shown
  };
  struct Band {
    double from = 0, to = 0;  // s
    int state = 0;            // index into `states`
  };
  double width = 760, height = 260;  // drawing units
  std::string label;                 // of the signal, with its unit
  std::string from, to;              // the first and the last moment
  std::vector<Point> points;
  std::vector<std::string> states;  // their words; one row each
  std::vector<Band> bands;
  base::Numerals numerals;
};

/// The SVG, or nothing when there is no point.
std::string draw(const TraceStrip& strip);

}  // namespace coldwright::drawing

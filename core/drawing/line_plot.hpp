// Readings over time beside what was computed for them, as a small SVG for a printed page: dots as read, a
// line and a band as computed, a dashed line for a limit. Every look stands in attributes and nothing is
// see-through, so that any painter of plain SVG draws it alike; what colour says, a shape or a dash says too.
#pragma once

#include <string>
#include <vector>

#include "base/field_units.hpp"
#include "drawing/svg.hpp"

namespace coldwright::drawing {

struct PlotLine {
  enum class Kind { measured, predicted, low, high, limit } kind = Kind::measured;
  std::string label;
  Line points;  // in the plot's own units, x rising
};

struct LinePlot {
  double width = 500, height = 165;  // drawing units, points on paper
  std::string x_label, y_label;      // "time, min", "pressure, psig"
  std::string band_label;            // of low and high together
  base::Numerals numerals;
  std::vector<PlotLine> lines;
};

/// The SVG, or nothing when no line has a point. An axis is logarithmic when all its values are above zero
/// and the largest is over fifty times the least.
std::string draw(const LinePlot& plot);

}  // namespace coldwright::drawing

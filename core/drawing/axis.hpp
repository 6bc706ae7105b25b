// One axis of a diagram, and the values worth a tick in the reader's units.
#pragma once

#include <string>
#include <vector>

#include "base/field_units.hpp"

namespace coldwright::drawing {

struct Axis {
  double low = 0, high = 1;   // SI
  double start = 0, end = 1;  // where these stand in the drawing
  bool logarithmic = false;
  double place(double value) const;
};

struct Tick {
  double value = 0;  // SI
  std::string text;
};

/// Round values of a gauge at this site, on a logarithmic axis of absolute pressure; below the air's pressure
/// as the gauge shows it there. No two nearer than `gap` drawing units.
std::vector<Tick> pressure_ticks(const Axis& axis, const base::Display& display, double gap);

/// Round values in equal steps, at least `gap` apart.
std::vector<Tick> even_ticks(const Axis& axis, base::Dimension dimension, const base::Display& display,
                             double gap);

/// A step of 1, 2 or 5 times a power of ten that is at least this large.
double round_step(double least);

/// "psig", "°F", "Btu/lb".
std::string unit_of(base::Dimension dimension, const base::Display& display);

}  // namespace coldwright::drawing

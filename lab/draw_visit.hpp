// Service calls drawn from the virtual cabinet.
#pragma once

#include "lab/design.hpp"

namespace coldwright::lab {

/// A cause that may be drawn: its weight and its severities, as data/causes.json has them.
struct Drawable {
  std::string id;
  double weight, severity_low, severity_high;
  bool in_pairs;  // may stand beside another one
};

struct VisitOptions {
  std::vector<Drawable> causes;
  double pairs = 0.15;              // share of calls with two causes
  double unsteady = 0.2;            // share found within a quarter of an hour of a start
  double minutes = 120, every = 1;  // of the course
  double tolerance = 1e-4;          // of the integrator
  bool call_conditioned = true;     // only machines whose box doesn't hold, or that don't run
};

/// Problem when the equations gave up; the next draw may do better. Severities and weather are drawn until
/// somebody would have called.
Result<Visit> draw_visit(const VisitOptions& options, const Kind& kind, const Designed& unit,
                         std::shared_ptr<const Refrigerant> refrigerant, RandomStream random);

/// What a box at its set point takes in, W, at this room temperature.
double load_at_set_point(const Designed& unit, double room, double load_factor);

}  // namespace coldwright::lab

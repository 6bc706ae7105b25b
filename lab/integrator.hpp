// SUNDIALS' CVODE around a plant: variable-order implicit (BDF) with a dense Newton matrix.
#pragma once

#include <memory>

#include "lab/plant.hpp"

namespace coldwright::lab {

struct Work {
  long steps = 0, evaluations = 0, failures = 0;
};

class Integrator {
 public:
  /// The plant must outlive it.
  Integrator(const Plant& plant, std::vector<double> start, double tolerance = 1e-5);
  ~Integrator();
  Integrator(const Integrator&) = delete;
  Integrator& operator=(const Integrator&) = delete;

  double time() const;
  const std::vector<double>& state() const;

  /// What holds from now on; a change begins a new stretch, since the right-hand side jumps.
  void set(const Switches& switches, const Condition& condition, const Surroundings& outside);
  /// Changes the state by hand, e.g. to begin with a frosted coil.
  void put(std::vector<double> state);
  /// Problem when the equations can't be carried on; the state stays at the last good one.
  Result<bool> advance(double to);
  Seen look() const;
  Work work() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> in_;
};

}  // namespace coldwright::lab

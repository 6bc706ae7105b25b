// A cabinet living through hours: its plant under its own control, doors, defrosts, trips and faults.
#pragma once

#include <optional>

#include "base/normal.hpp"
#include "lab/integrator.hpp"
#include "lab/visit.hpp"

namespace coldwright::lab {

/// How a cabinet's life begins and what is asked of it.
struct Life {
  double start = 298.15;      // K of everything outside the box
  double start_box = 276.15;  // K inside
  bool hold_box = false;      // a test bench: the box keeps its temperature, the compressor always runs
  bool doors = true;
  double start_frost = 0;  // kg on the coil
  std::vector<Fault> faults;
  Surroundings outside;
  double tolerance = 1e-5;  // relative, of the integrator
};

class Simulation {
 public:
  Simulation(Cabinet cabinet, std::shared_ptr<const Refrigerant> refrigerant, Life life, RandomStream random);

  double time() const { return integrator_->time(); }
  /// Problem when the equations can't be carried on.
  Result<bool> advance(double seconds);
  Readable read() const;
  Seen look() const { return integrator_->look(); }
  const Plant& plant() const { return *plant_; }
  const std::vector<double>& state() const { return integrator_->state(); }
  Work work() const { return integrator_->work(); }
  /// Times of starts and of the overload's openings so far, s.
  const std::vector<double>& starts() const { return starts_; }
  const std::vector<double>& trips() const { return trips_; }
  Condition condition() const;
  Turning motor() const { return motor_; }
  bool defrosting() const { return defrosting_; }
  bool door_open() const { return door_open_; }

 private:
  void decide();         // the switches at this moment
  double chunk() const;  // s until they must be looked at again

  std::unique_ptr<Plant> plant_;
  Life life_;
  RandomStream random_;
  std::unique_ptr<Integrator> integrator_;
  Turning motor_ = Turning::standing;
  double started_ = 0, stopped_ = -1e9, locked_since_ = 0;
  bool calling_ = true, overload_open_ = false, defrosting_ = false, door_open_ = false, pumping_ = true;
  bool decided_ = false;
  double next_door_ = 0, door_until_ = 0, next_defrost_ = 0, defrost_since_ = 0, next_turn_ = 0;
  std::vector<double> starts_, trips_;
  Switches switches_{};
  Condition condition_{};
};

/// The condition at a time, without what chance decides.
Condition condition_at(const std::vector<Fault>& faults, double time);
/// A fault that is in the machine from the start rather than a condition: wrong charge, foreign gas.
void build_in(const Fault& fault, Cabinet& cabinet);

}  // namespace coldwright::lab

// One visit as one technician lives it: what they read and see, when, and what it costs. The same visit and
// technician give the same instruments' errors in whatever order things are done; only the moment differs.
// What opening the circuit does to the machine is counted in grams and not modelled.
#pragma once

#include <set>
#include <string>

#include "diagnosis/case.hpp"
#include "judge/technician.hpp"
#include "lab/visit.hpp"

namespace coldwright::judge {

struct Cost {
  double minutes = 0;
  int openings = 0;  // of the sealed circuit: low side, high side
  double grams = 0;
};

class Site {
 public:
  /// `visit` must outlive it.
  Site(const lab::Visit& visit, RandomStream random);

  /// What is known on arrival: the plate, the air around, the complaint; and the air in the box, from a probe
  /// that is left there for a quarter of an hour while other things are done.
  diagnosis::Case arrival();
  /// Each takes its time, on arrival at the end of which it is read; a reading of a running machine waits for
  /// the motor, up to twelve minutes.
  diagnosis::Reading read(circuit::ReadingKind kind);
  diagnosis::Observation look(const std::string& subject, double minutes);

  const Cost& cost() const { return cost_; }

 private:
  const lab::Readable& at(double minutes) const;
  const lab::Readable& now() const { return at(cost_.minutes); }
  const lab::Readable& moment(circuit::ReadingKind kind, double minutes) const;
  bool ever_turns() const;
  void turn_control_down();
  void wait_for_motor(circuit::ReadingKind kind);
  double temperature(circuit::ReadingKind kind, const lab::Readable& r, RandomStream& own,
                     bool mistaken) const;
  double value(circuit::ReadingKind kind, const lab::Readable& r, RandomStream own) const;
  std::optional<double> minutes_running(const lab::Readable& r) const;

  const lab::Visit& visit_;
  RandomStream random_;
  Technician technician_;
  bool start_known_;  // of a machine that ran before arrival
  double ahead_ = 0;  // s that the course is lived ahead of the clock
  Cost cost_;
  std::set<bool> open_;  // high side?
};

/// True when the machine is in one state all through the first forty minutes, and has been for twenty: it
/// runs, or it stands.
bool steady(const lab::Visit& visit);

}  // namespace coldwright::judge

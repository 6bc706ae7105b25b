// Two sides of a circuit under nitrogen, joined by the capillary alone: how the pressure of either runs until
// both are equal, the gauge on the higher one. What leaves one enters the other, so the difference d tells
// both: with V the volumes,
//   p_gauge = p_end + w d,   w = V_other/(V_gauge + V_other),   dd/dt = -flow(d) (1/V_gauge + 1/V_other) R T.
// The course of d is one curve run through from wherever it starts: reckoned once over ln d, later starts are
// the same curve further along (gas_through_tube.hpp gives the flow).
#pragma once

#include <vector>

#include "base/result.hpp"
#include "procedures/gas_through_tube.hpp"

namespace coldwright::procedures {

struct TwoSides {
  double gauge = 0, other = 0;  // m3: the side with the higher pressure and the gauge, and the other
  double share() const { return other / (gauge + other); }
};

class Equalising {
 public:
  /// Down from `most` (Pa) between the sides, to `least`; p_end (Pa absolute) is where they meet. Problem
  /// when a volume isn't above zero, or so great a difference needs less than nothing on the lower side.
  static Result<Equalising> make(const Gas& gas, const Tube& tube, const TwoSides& sides, double p_end,
                                 double T, double most, double least);

  /// Seconds from the greatest difference down to d; beyond the ends it runs on exponentially.
  double time_at(double d) const;
  /// Difference (Pa) so many seconds after it was d0, through a tube that passes `speed` times as much.
  double later(double d0, double seconds, double speed = 1) const;
  /// Seconds in which a small difference falls to 1/e of itself: the end's time constant.
  double time_constant() const { return tail_; }

 private:
  std::vector<double> fallen_, time_;  // -ln d and seconds since the greatest, both rising
  double tail_ = 0;
};

}  // namespace coldwright::procedures

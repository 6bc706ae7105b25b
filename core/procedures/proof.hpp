// The proof of a repair: the box's course and the last readings against a sound machine's and against those
// of every cause that would slow it.
//
// The readings of the moment are weighed as in a diagnosis (investigation.hpp), with the prior of a machine
// that was just repaired. Each drawn machine z of a hypothesis h then has its cooling at a few box
// temperatures, and the course counts
//   p(readings, course | h) = p(readings | h) E[ p(course | z, h) | readings ],
// the expectation over the weighted draws, with the load on seven and the thermal mass on 61 nodes of their
// priors: one course in closed form serves every mass (pull_down.hpp).
#pragma once

#include "diagnosis/investigation.hpp"
#include "procedures/pull_down.hpp"

namespace coldwright::procedures {

struct ProofQuestion {
  diagnosis::Case final_state;       // the last readings, their box temperature, no complaint
  std::vector<BoxReading> readings;  // of the box, the first is the start; one at the least, times rising
  std::optional<double> product;     // kg in the box
  std::string repaired_cause;        // id; empty when none was named
};

struct BandPoint {
  double seconds;
  diagnosis::Interval box;  // K, what a probe would read
};

struct PullDown {
  std::vector<BandPoint> band;
  double reaches = 0;                                       // probability that it comes down to its set point
  std::optional<diagnosis::Interval> seconds_to_set_point;  // of those that do
  diagnosis::Interval rest;  // K, where the others come to rest; the set point for these
  double overload = 0;       // share of machines whose overload opens somewhere on the way
};

struct CauseCourse {
  std::string cause;
  double probability;
  PullDown course;
};

struct FinalReading {
  circuit::ReadingKind kind;
  double read;
  diagnosis::Interval sound;
};

/// A difference of this machine, not a fault: what it is here, and among sound ones of its kind.
struct OwnValue {
  std::string quantity;  // "evaporator_td", "condenser_split"
  diagnosis::Interval here, usual;
};

struct Proof {
  PullDown predicted;                          // of a sound machine, before anything but the start was read
  std::optional<PullDown> updated;             // of a sound machine, given all readings
  std::vector<diagnosis::RankedCause> causes;  // "sound" among them; empty with the start alone
  double sound = 0, sound_by_readings = 0;     // with the course, and by the readings of the moment alone
  std::optional<diagnosis::Interval> mass;     // J/K, if it is sound
  std::vector<CauseCourse> slower;             // of the likeliest causes
  std::vector<FinalReading> final_state;
  std::vector<OwnValue> own;
  diagnosis::Quality quality;
};

/// Probability from which a machine counts as proved sound: what is shown as 90 %.
inline constexpr double kProved = 0.895;

Result<Proof> prove(const ProofQuestion& question, std::shared_ptr<const circuit::WorkingFluid> fluid,
                    const diagnosis::Knowledge& knowledge, const diagnosis::Options& options);

/// The knowledge of a call after its repair: four machines in five are sound then, and where one isn't, every
/// third has the old cause still (our estimates).
diagnosis::Knowledge after_repair(const diagnosis::Knowledge& knowledge, const std::string& repaired_cause);

}  // namespace coldwright::procedures

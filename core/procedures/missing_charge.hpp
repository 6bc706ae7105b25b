// What a few grams less do to a critically charged machine: the plausible machines behind the plate
// (circuit/population.hpp) solved twice in the same surroundings, with all of their charge and with some of
// it gone, and the change for each gram. As plausible as that population, no better.
#pragma once

#include <cstdint>

#include "base/result.hpp"
#include "circuit/population.hpp"
#include "diagnosis/answer.hpp"

namespace coldwright::procedures {

struct Surroundings {
  double ambient, box;            // K
  double site_pressure = 101325;  // Pa
};

struct MissingCharge {
  // for each kg missing: what the machine reads with it gone, less what it reads with all
  diagnosis::Interval superheat;          // K/kg, at the coil
  diagnosis::Interval suction_pressure;   // Pa/kg
  diagnosis::Interval capacity;           // 1/kg, relative
  diagnosis::Interval charge;             // kg in these machines
  diagnosis::Interval p_suction, p_head;  // Pa they run at with all of it
  int machines;                           // of which this is
};

/// `missing` (kg) gone from each of `count` machines drawn from `seed`. Problem when it isn't above zero and
/// below half of the charge, or no machine could be solved.
Result<MissingCharge> missing_charge(const circuit::Nameplate& plate, const circuit::Archetype& kind,
                                     const circuit::WorkingFluid& fluid, const Surroundings& surroundings,
                                     double missing, int count, std::uint64_t seed);

}  // namespace coldwright::procedures

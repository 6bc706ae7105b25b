// The machines that a case leaves plausible: a handful drawn from the diagnosis' posterior, each with what is
// wrong with it, so that a procedure can work on them as on machines known.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "circuit/working_fluid.hpp"
#include "diagnosis/causes.hpp"
#include "diagnosis/diagnose.hpp"

namespace coldwright::procedures {

struct BelievedMachine {
  circuit::Machine machine;
  diagnosis::Effects effects;  // what is wrong with it
  std::string causes;          // "low_charge", "dirty_condenser+overcharge"
};

struct Belief {
  diagnosis::Answer answer;
  std::vector<BelievedMachine> machines;  // of equal weight
  std::shared_ptr<const circuit::WorkingFluid> fluid;
  circuit::Archetype kind;
};

/// The diagnosis of the case, and up to `count` machines of it. Problems as of diagnose(). Seconds of work.
Result<Belief> believe(const diagnosis::Case& the_case, const fluids::Fluid& fluid,
                       const diagnosis::Knowledge& knowledge, const diagnosis::Options& options, int count);

}  // namespace coldwright::procedures

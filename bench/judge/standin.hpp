// Visits without the virtual cabinet: machines of the diagnosis' own circuit model in a world shifted away
// from the one it believes in, as bench/diagnosis_table.cpp draws them, standing still in time. To test the
// judge and to tell what the model of the world costs; not what the judge's numbers are published from.
#pragma once

#include "base/normal.hpp"
#include "base/result.hpp"
#include "circuit/working_fluid.hpp"
#include "diagnosis/diagnose.hpp"
#include "lab/visit.hpp"

namespace coldwright::judge {

/// One call of a reach-in cooler on R290: a cause of `knowledge` by its weight (pairs by its pair weight),
/// weather of a year, kept when the box wouldn't hold. `fluid`: R290.
lab::Visit draw_standin(const diagnosis::Knowledge& knowledge, const circuit::WorkingFluid& fluid,
                        std::uint64_t seed);

}  // namespace coldwright::judge

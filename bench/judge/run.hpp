// One visit judged with each set of readings.
#pragma once

#include <string>
#include <vector>

#include "judge/opinion.hpp"
#include "judge/row.hpp"
#include "judge/sets.hpp"
#include "judge/site.hpp"

namespace coldwright::judge {

/// What this technician brings home: looks first, then what needs no opening, then the gauges.
diagnosis::Case gather(Site& site, const ReadingSet& set, const diagnosis::Knowledge& knowledge);

/// What the technician of this visit takes of a set.
diagnosis::Case taken(const lab::Visit& visit, long number, const ReadingSet& set,
                      const diagnosis::Knowledge& knowledge, const RandomStream& technicians);

/// The visit with the standing pressure of a box that is still cold. The lab gives it with everything at room
/// temperature; within the 45 minutes that it takes the coil stays near the box, and no more than saturation
/// there stands over liquid. What is above saturation at room temperature is foreign gas, and stays.
lab::Visit with_cold_box(lab::Visit visit, const circuit::WorkingFluid& fluid);

/// A row a set whose name is in `wanted`; `technicians` is the stream of all technicians, forked by visit.
Result<std::vector<Row>> judge_visit(const lab::Visit& visit, long number, const std::string& wanted,
                                     const diagnosis::Knowledge& knowledge, Opinion& opinion,
                                     const RandomStream& technicians);

}  // namespace coldwright::judge

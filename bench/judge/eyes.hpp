// What a technician says they saw or were told. What shows in the visit's course (motor, fans, dirt, frost,
// the control) is judged by it; what happened before the visit (who opened the circuit, oil, warm goods) is
// drawn by the true cause from shares of the judge's own.
#pragma once

#include <string>

#include "base/normal.hpp"
#include "judge/technician.hpp"
#include "lab/visit.hpp"

namespace coldwright::judge {

/// A value of `subject` in data/observations.json; looked at from `from` to `to`, s. Empty for a subject that
/// the judge knows nothing of.
std::string seen(const lab::Visit& visit, const Technician& technician, const std::string& subject,
                 double from, double to, RandomStream random);

}  // namespace coldwright::judge

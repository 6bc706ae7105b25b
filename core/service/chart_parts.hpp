// What "chart" draws, gathered from states typed or from a call. Kept to service/.
#pragma once

#include <string>
#include <vector>

#include "drawing/chart.hpp"
#include "service/request.hpp"
#include "service/use_cases.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

struct ChartParts {
  fluids::Fluid fluid;
  base::Display display;
  std::string about_call;  // the call's name; empty without one
  std::vector<drawing::DrawnCycle> cycles;
  std::vector<drawing::Mark> marks;
  std::vector<std::string> notes;
  std::vector<std::string> sources;
};

/// From "refrigerant", the two sides, superheat, subcooling, efficiency and points.
Result<ChartParts> chart_of_states(Request& request, const Wording& wording, const Context& context);

/// From "call" or "call_text": what a sound machine would do, what this one is inferred to do, its readings.
Result<ChartParts> chart_of_call(Request& request, const Wording& wording, const Context& context);

}  // namespace coldwright::service

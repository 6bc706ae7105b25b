// Loads what the diagnosis knows before a call: causes, observations and kinds of cabinet from data/.
#pragma once

#include <string_view>

#include "base/result.hpp"
#include "diagnosis/diagnose.hpp"

namespace coldwright::service {

/// From the files inside the program. A problem here is a defect of the data, named by file and place.
Result<diagnosis::Knowledge> load_knowledge();

/// The same from given texts, for checking data files.
Result<diagnosis::Knowledge> parse_knowledge(std::string_view causes, std::string_view observations,
                                             std::string_view cabinets);

}  // namespace coldwright::service

// An answer of "diagnose" given back in a request, as far as a chart draws it. Kept to service/.
#pragma once

#include "base/result.hpp"
#include "diagnosis/answer.hpp"
#include "service/request.hpp"

namespace coldwright::service {

/// From "diagnosis": what nobody measured, what a sound machine would show for each reading, and the sources.
/// Everything else of the answer is left empty. A Problem when it isn't such an answer.
Result<diagnosis::Answer> given_answer(const Request& request);

}  // namespace coldwright::service

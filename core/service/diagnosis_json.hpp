// A diagnosis or an expectation as the JSON answer: pure functions of what the core computed, so that they
// can be tested with an answer made by hand. Kept to service/.
#pragma once

#include <nlohmann/json.hpp>

#include "diagnosis/answer.hpp"
#include "service/call_case.hpp"

namespace coldwright::service {

nlohmann::json diagnosis_json(const CallCase& c, const diagnosis::Answer& answer);
nlohmann::json expectation_json(const CallCase& c, const diagnosis::Expectation& expectation);

}  // namespace coldwright::service

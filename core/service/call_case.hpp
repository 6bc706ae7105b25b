// What "expect" and "diagnose" share: from a request to a folded call, its refrigerant, the knowledge and the
// words. Kept to service/.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "calls/fold.hpp"
#include "diagnosis/diagnose.hpp"
#include "fluids/fluid.hpp"
#include "service/request.hpp"
#include "service/use_cases.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

struct CallCase {
  calls::Folded folded;
  fluids::Fluid fluid;
  diagnosis::Knowledge knowledge;
  Wording wording;
  base::Display display;
  diagnosis::Options options;
};

/// The call in a request, as "call" or "call_text".
Result<calls::Call> call_of(std::string_view request_json);

/// Reads "call" or "call_text", "seed", "population", "units" and "memory".
Result<CallCase> read_call_case(std::string_view request_json, const Context& context);

/// The words a call may use, out of the knowledge and the refrigerants at hand.
calls::Vocabulary vocabulary_of(const diagnosis::Knowledge& knowledge);

/// {"about", "call", "remarks", "cautions"}: the head of either answer.
nlohmann::json call_heading(const CallCase& c, const std::vector<std::string>& sources,
                            const std::vector<diagnosis::Statement>& cautions);

/// {"effective_sample_size", ..., "trustworthy", "remarks"}
nlohmann::json quality_json(const diagnosis::Quality& quality, const Wording& wording,
                            const base::Display& display);

}  // namespace coldwright::service

// Use cases "diagnose" and "expect": a call in, the answer out.
#include "calls/strict_json.hpp"
#include "service/diagnosis_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {

Result<std::string> run_diagnose(std::string_view request, const Context& context) {
  const auto c = read_call_case(request, context);
  if (!c) return c.problem();
  const auto answer = diagnosis::diagnose(c->folded.the_case, c->fluid, c->knowledge, c->options);
  if (!answer) return answer.problem();
  return calls::dump(diagnosis_json(*c, *answer));
}

Result<std::string> run_expect(std::string_view request, const Context& context) {
  const auto c = read_call_case(request, context);
  if (!c) return c.problem();
  const auto expectation = diagnosis::expect(c->folded.the_case, c->fluid, c->knowledge, c->options);
  if (!expectation) return expectation.problem();
  return calls::dump(expectation_json(*c, *expectation));
}

}  // namespace coldwright::service

// Use case "plan": the steps of the repair for this call, each with its reason, its cautions and how it
// stands.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/repair.hpp"
#include "calls/strict_json.hpp"
#include "procedures/plan.hpp"
#include "service/call_case.hpp"
#include "service/cautions.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

struct Lead {
  std::string cause;
  double probability = 0, error = 0;
};

/// The causes given with the request: a diagnosis that its asker has already.
Result<std::vector<Lead>> given_leads(const json& list, const Wording& wording) {
  std::vector<Lead> leads;
  const Problem problem{
      "causes", base::quoted(calls::dump(list), 40),
      "a list such as [{\"cause\": \"low_charge\", \"probability\": 0.8}], each once, summing to at most 1",
      "it takes the place of a diagnosis"};
  if (!list.is_array() || list.size() > 400) return problem;
  double sum = 0;
  for (const json& row : list) {
    const bool whole = row.is_object() && row.contains("cause") && row["cause"].is_string() &&
                       row.contains("probability") && row["probability"].is_number();
    if (!whole) return problem;
    Lead lead{row["cause"].get<std::string>(), row["probability"].get<double>()};
    const std::string first = lead.cause.substr(0, lead.cause.find('+'));
    const std::string second = lead.cause.substr(std::min(lead.cause.find('+'), lead.cause.size()));
    const bool known =
        wording.has("causes", first) && (second.empty() || wording.has("causes", second.substr(1)));
    sum += lead.probability;
    if (!known || !(lead.probability >= 0) || sum > 1 + 1e-6) return problem;
    leads.push_back(std::move(lead));
  }
  std::stable_sort(leads.begin(), leads.end(),
                   [](const Lead& a, const Lead& b) { return a.probability > b.probability; });
  return leads;
}

Result<std::vector<Lead>> diagnosed(const CallCase& c) {
  const auto answer = diagnosis::diagnose(c.folded.the_case, c.fluid, c.knowledge, c.options);
  if (!answer) return answer.problem();
  std::vector<Lead> leads;
  for (const diagnosis::RankedCause& cause : answer->causes)
    leads.push_back({cause.cause, cause.probability, cause.error});
  return leads;
}

const char* state_word(calls::StepEntry::State state) {
  switch (state) {
    case calls::StepEntry::State::done:
      return "done";
    case calls::StepEntry::State::skipped:
      return "skipped";
    case calls::StepEntry::State::open:
      break;
  }
  return "open";
}

/// Steps that the order by hand doesn't name stand behind the one they follow in the plan.
std::vector<procedures::PlanStep> arranged(std::vector<procedures::PlanStep> steps,
                                           const std::vector<std::string>& order) {
  std::vector<std::string> keys;
  for (const std::string& key : order) {
    const bool there = std::any_of(steps.begin(), steps.end(), [&](const auto& s) { return s.key == key; });
    if (there && std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
  }
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (std::find(keys.begin(), keys.end(), steps[i].key) != keys.end()) continue;
    const auto before = i == 0 ? keys.begin() : std::find(keys.begin(), keys.end(), steps[i - 1].key) + 1;
    keys.insert(before, steps[i].key);
  }
  std::vector<procedures::PlanStep> out;
  for (const std::string& key : keys)
    out.push_back(*std::find_if(steps.begin(), steps.end(), [&](const auto& s) { return s.key == key; }));
  return out;
}

/// `probability` as the diagnosis words it, no finer than its error.
json step_json(const procedures::PlanStep& step, const calls::Repair& repair, const std::string& probability,
               const CallCase& c) {
  const auto entry = std::find_if(repair.steps.begin(), repair.steps.end(),
                                  [&](const auto& said) { return said.body.step == step.key; });
  const bool said = entry != repair.steps.end();
  diagnosis::Statement why = step.why;
  why.words.emplace_back("probability", probability);
  std::vector<diagnosis::Statement> cautions;
  for (const std::string& key : step.cautions) cautions.push_back({key, {}, {}});
  return {{"key", step.key},
          {"title", c.wording.word("plan", "title_" + step.key)},
          {"why", c.wording.sentence("plan", why, c.display)},
          {"state", state_word(said ? entry->body.state : calls::StepEntry::State::open)},
          {"reason", said ? entry->body.reason : ""},
          {"cautions", statements("cautions", cautions, c.wording, c.display)},
          {"procedure", step.procedure.empty() ? json() : json(step.procedure)},
          {"skippable", true}};
}

}  // namespace

Result<std::string> run_plan(std::string_view request_json, const Context& context) {
  // What isn't an object is refused where the call is read.
  json request = json::parse(request_json, nullptr, false);
  const bool given = request.is_object() && request.contains("causes");
  const json causes = given ? request["causes"] : json();
  if (given) request.erase("causes");
  const std::string plain = given ? calls::dump(request) : std::string(request_json);
  const auto c = read_call_case(plain, context);
  if (!c) return c.problem();
  const auto call = call_of(plain);
  if (!call) return call.problem();
  const calls::Repair repair = calls::repair_of(*call);
  const auto leads = given ? given_leads(causes, c->wording) : diagnosed(*c);
  if (!leads) return leads.problem();

  procedures::PlanBasis basis;
  if (!leads->empty()) basis = {leads->front().cause, leads->front().probability};
  if (!repair.causes_found.empty()) {
    const std::string& found = repair.causes_found.back().body.cause;
    if (c->wording.has("causes", found.substr(0, found.find('+')))) basis = {found, 1, true};
  }
  const double error = leads->empty() || basis.found ? 0 : leads->front().error;
  const std::string probability = basis.found
                                      ? c->wording.word("plan", "found_on_site")
                                      : probability_text(basis.probability, error, c->display.numerals);
  basis.flammable = treat_as_flammable(c->folded.refrigerant);
  basis.charge_known = c->folded.the_case.nameplate.charge.has_value();

  json answer = call_heading(*c, {"common-practice"}, {});
  answer["decided"] = basis.found || basis.probability >= procedures::kDecided;
  answer["opens_circuit"] = procedures::opens_circuit(basis.cause);
  answer["leads"] = json::array();
  for (std::size_t i = 0; i < std::min<std::size_t>(3, leads->size()); ++i) {
    const Lead& lead = (*leads)[i];
    answer["leads"].push_back(
        {{"cause", lead.cause},
         {"label", c->wording.cause(lead.cause)},
         {"probability", lead.probability},
         {"probability_text", probability_text(lead.probability, lead.error, c->display.numerals)}});
  }
  answer["steps"] = json::array();
  for (const procedures::PlanStep& step : arranged(procedures::plan(basis), repair.order))
    answer["steps"].push_back(step_json(step, repair, probability, *c));
  return calls::dump(answer);
}

}  // namespace coldwright::service

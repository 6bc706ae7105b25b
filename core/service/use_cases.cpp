#include "service/use_cases.hpp"

#include <nlohmann/json.hpp>
#include <vector>

#include "base/text.hpp"
#include "calls/call.hpp"
#include "calls/strict_json.hpp"
#include "service/sentences.hpp"
#include "service/use_case_runs.hpp"
#include "service/wording.hpp"

namespace coldwright::service {
namespace {

/// Every use case in the context's language: one that has no words is refused, and what goes wrong is said in
/// it.
template <Result<std::string> (*run)(std::string_view, const Context&)>
Result<std::string> spoken(std::string_view request, const Context& context) {
  if (auto problem = check_language(context.language)) return *problem;
  auto answer = run(request, context);
  if (answer) return answer;
  return in_language(answer.problem(), context.language);
}

constexpr UseCase kTable[] = {
    {"saturation", "saturation pressure at a temperature, or temperature at a pressure", "saturation.request",
     "saturation.answer", spoken<run_saturation>},
    {"quantity", "what was typed or spoken, read as a quantity, and the same in every unit of its kind",
     "quantity.request", "quantity.answer", spoken<run_quantity>},
    {"state", "a refrigerant's state from two of its properties, with superheat or subcooling",
     "state.request", "state.answer", spoken<run_state>},
    {"refrigerant", "one refrigerant's sheet: composition, safety class, warming, oils, with sources",
     "refrigerant.request", "refrigerant.answer", spoken<run_refrigerant>},
    {"refrigerants", "the list of refrigerants in the catalogue", "refrigerants.request",
     "refrigerants.answer", spoken<run_refrigerants>},
    {"leak", "what a leak does to a blend's composition, and what topping up gives", "leak.request",
     "leak.answer", spoken<run_leak>},
    {"chart", "pressure against enthalpy and temperature as SVG, with a machine's cycle and readings",
     "chart.request", "chart.answer", spoken<run_chart>},
    {"card", "a pressure-temperature card of any refrigerants, to print", "card.request", "card.answer",
     spoken<run_card>},
    {"expect", "what a sound machine like this one should be reading, now and at its set point",
     "expect.request", "expect.answer", spoken<run_expect>},
    {"diagnose", "what is wrong with it, how sure that is, and what to read next", "diagnose.request",
     "diagnose.answer", spoken<run_diagnose>},
    {"superheat", "superheat and subcooling from pressures and line temperatures", "superheat.request",
     "superheat.answer", spoken<run_superheat>},
    {"vacuum", "where water boils at a vacuum, and the vacuum that boils it", "vacuum.request",
     "vacuum.answer", spoken<run_vacuum>},
    {"room", "a charge let out into a room, against the density at which it burns", "room.request",
     "room.answer", spoken<run_room>},
    {"hose", "the refrigerant that service hoses hold", "hose.request", "hose.answer", spoken<run_hose>},
    {"standing", "the pressure a machine at rest should stand at, and a reading beside it",
     "standing.request", "standing.answer", spoken<run_standing>},
    {"record", "the paper that a call leaves: page, HTML, facts and table, for customer or shop",
     "record.request", "record.answer", spoken<run_record>},
    {"evacuation",
     "how a vacuum comes: hoses, valve cores, capillary, water, oil, and breaking it with nitrogen",
     "evacuation.request", "procedure.answer", spoken<run_evacuation>},
    {"rise", "what a vacuum's rise speaks for: tight, leak, moisture or the oil's gas", "rise.request",
     "procedure.answer", spoken<run_rise>},
    {"charging", "how much to draw, what is in the machine then, and what its readings say of it",
     "charging.request", "procedure.answer", spoken<run_charging>},
    {"capillary", "nitrogen through a capillary: the clear tube's flow, and how far this one is blocked",
     "capillary.request", "procedure.answer", spoken<run_capillary>},
    {"tube", "the length of another capillary that passes the same refrigerant", "tube.request",
     "procedure.answer", spoken<run_tube>},
    {"tightness", "the standing pressure test with nitrogen: its plan, and a verdict on its readings",
     "tightness.request", "procedure.answer", spoken<run_tightness>},
    {"proof", "a repaired machine's pull-down against a sound one's, with a verdict", "proof.request",
     "procedure.answer", spoken<run_proof>},
    {"memory", "what finished calls teach of their units and models, to inspect, correct and forget",
     "memory.request", "memory.answer", spoken<run_memory>},
    {"flammable",
     "a charge that burns: limits, room, how it thins when let out, and the steps before opening",
     "flammable.request", "procedure.answer", spoken<run_flammable>},
    {"opening", "what connecting costs, what that does to the readings, and what tells as much without",
     "opening.request", "procedure.answer", spoken<run_opening>},
    {"tracer", "a leak search with a trace in nitrogen: how much, where first, what a clear result means",
     "tracer.request", "procedure.answer", spoken<run_tracer>},
    {"bring", "which parts to bring, out of the plate and the diagnosis", "bring.request", "procedure.answer",
     spoken<run_bring>},
    {"worth", "repair against replacement in money and energy, at the shop's own rates", "worth.request",
     "procedure.answer", spoken<run_worth>},
    {"trace_layout", "how a logged file is to be read: columns, units, time, with what stays open",
     "trace_layout.request", "trace_layout.answer", spoken<run_trace_layout>},
    {"trace", "what the machine did, out of logged files: phases, events, figures, evidence", "trace.request",
     "trace.answer", spoken<run_trace>},
    {"plan", "the steps of the repair for a call, with reasons, cautions and how each stands", "plan.request",
     "plan.answer", spoken<run_plan>},
    {"practice_call", "a call with a hidden fault to practise on, as the person at the door sees it",
     "practice_call.request", "practice_call.answer", spoken<run_practice_call>},
    {"practice_step", "what the steps taken on a practice call show, and what they took",
     "practice_step.request", "practice_step.answer", spoken<run_practice_step>},
    {"practice_debrief", "a decision against what it really was, and the way there beside the best one",
     "practice_debrief.request", "practice_debrief.answer", spoken<run_practice_debrief>},
    {"example", "a call file to fill in, and the words it may use", "example.request", "example.answer",
     spoken<run_example>},
    {"vocabulary", "what a screen offers to choose from: cabinets, readings, units, with their labels",
     "vocabulary.request", "vocabulary.answer", spoken<run_vocabulary>},
    {"schema", "the JSON schemas of requests, answers and the call file", "schema.request", "schema.answer",
     spoken<run_schema>},
};

}  // namespace

std::span<const UseCase> use_cases() { return kTable; }

const UseCase* find_use_case(std::string_view name) {
  for (const UseCase& row : kTable)
    if (row.name == name) return &row;
  return nullptr;
}

Problem no_such_use_case(std::string_view name) {
  std::vector<std::string> names;
  for (const UseCase& row : kTable) names.emplace_back(row.name);
  const auto near = base::nearest(name, names);
  return {"command", base::quoted(name), base::listed(names),
          near ? "did you mean \"" + *near + "\"?" : "there is no such command"};
}

bool is_language(std::string_view language) { return !check_language(language); }

Problem in_language(const Problem& problem, std::string_view language) {
  const auto sentences = Sentences::load(language);
  if (!sentences) return sentences.problem();
  return {problem.field, sentences->say(problem.given), sentences->say(problem.allowed),
          sentences->say(problem.why)};
}

std::string told(const Problem& problem, std::string_view language) {
  const auto wording = Wording::load(language);
  const auto sentences = Sentences::load(language);
  if (!wording || !sentences) return to_text(problem);
  std::string line;
  const auto add = [&](const char* key, const std::string& text) {
    if (text.empty()) return;
    const std::string part = wording->phrase("problem", key, {{"text", text}});
    line = line.empty() ? part : wording->phrase("problem", "joined", {{"first", line}, {"second", part}});
  };
  add("given", problem.given);
  add("allowed", problem.allowed);
  add("why", problem.why);
  const std::string field =
      problem.field.empty() ? wording->word("problem", "input") : sentences->field(problem.field);
  return line.empty() ? field : wording->phrase("problem", "of_field", {{"field", field}, {"text", line}});
}

std::size_t call_file_limit() { return calls::largest_call_file; }

Problem call_file_too_large(std::uint64_t bytes) {
  return *calls::check_size(std::max(static_cast<std::size_t>(bytes), calls::largest_call_file + 1),
                            "call file");
}

Result<std::string> request_with_call(std::string_view call_file, std::string_view more_json) {
  if (auto problem = calls::check_size(call_file.size(), "call file")) return *problem;
  // The text is checked in full where it is parsed; here only what JSON can't carry inside a string.
  if (base::first_invalid_utf8(call_file)) return calls::parse_strict(call_file, "call file").problem();
  nlohmann::json request = nlohmann::json::parse(more_json, nullptr, false);
  if (!request.is_object()) request = nlohmann::json::object();
  request["call_text"] = call_file;
  return calls::dump(request);
}

}  // namespace coldwright::service

// Use cases "example" and "schema": what may be asked and in which words.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/call_case.hpp"
#include "service/embedded.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/use_case_runs.hpp"
#include "service/vocabulary.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

json words_json(const diagnosis::Knowledge& knowledge, const Wording& wording) {
  json out = {{"refrigerants", known_refrigerants()},
              {"cabinets", json::array()},
              {"observations", json::array()},
              {"readings", json::array()}};
  for (const circuit::Archetype& cabinet : knowledge.archetypes) {
    json row = word_row(wording, "cabinets", cabinet.id);
    row["refrigerant"] = cabinet.refrigerant;
    out["cabinets"].push_back(std::move(row));
  }
  for (const diagnosis::ObservationModel& seen : knowledge.observations) {
    json row = word_row(wording, "subjects", seen.subject);
    row["values"] = seen.values;
    out["observations"].push_back(std::move(row));
  }
  for (const circuit::ReadingInfo& reading : circuit::reading_table()) {
    json row = word_row(wording, "readings", reading.id);
    row["written_as"] = written_as(reading.quantity);
    row["place"] = wording.word("places", reading.id);
    out["readings"].push_back(std::move(row));
  }
  return out;
}

std::vector<std::string> schema_names() {
  std::vector<std::string> names = {"call", "record.data"};
  for (const UseCase& row : use_cases()) {
    names.emplace_back(row.request_schema);
    // Procedures share one form of answer.
    if (std::find(names.begin(), names.end(), row.answer_schema) == names.end())
      names.emplace_back(row.answer_schema);
  }
  return names;
}

json parsed(std::string_view path) { return json::parse(embedded(path).value_or("null"), nullptr, false); }

/// Every "#/$defs/x" that `schema` points at, and what those point at in turn.
void bring_definitions(const json& node, const json& common, json& defs) {
  if (node.is_array())
    for (const json& item : node) bring_definitions(item, common, defs);
  if (!node.is_object()) return;
  for (const auto& [key, value] : node.items()) {
    bring_definitions(value, common, defs);
    const std::string* target = key == "$ref" ? value.get_ptr<const std::string*>() : nullptr;
    if (target == nullptr || target->rfind("#/$defs/", 0) != 0) continue;
    const std::string name = target->substr(8);
    if (defs.contains(name) || !common.contains(name)) continue;
    defs[name] = *common.find(name);
    const json brought = defs[name];
    bring_definitions(brought, common, defs);
  }
}

}  // namespace

Result<std::string> bundled_schema(std::string_view name) {
  const auto names = schema_names();
  json schema = parsed("schemas/" + std::string(name) + ".json");
  const json common = parsed("schemas/common.json");
  const bool known = std::find(names.begin(), names.end(), name) != names.end();
  if (!known || !schema.is_object() || !common.is_object() || !common.contains("$defs")) {
    const auto near = base::nearest(name, names);
    return Problem{"schema", base::quoted(name), base::listed(names),
                   near ? "did you mean \"" + *near + "\"?" : "there is no such schema"};
  }
  json defs = json::object();
  bring_definitions(schema, *common.find("$defs"), defs);
  if (!defs.empty()) schema["$defs"] = std::move(defs);
  return calls::dump(schema, 2);
}

Result<std::string> run_example(std::string_view text, const Context& context) {
  auto request = Request::read(text, {});
  if (!request) return request.problem();
  const auto knowledge = load_knowledge();
  if (!knowledge) return knowledge.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const json answer = {{"call_text", embedded("examples/call.json").value_or("")},
                       {"words", words_json(*knowledge, *wording)}};
  return calls::dump(answer);
}

Result<std::string> run_schema(std::string_view text, const Context&) {
  auto request = Request::read(text, {"name"});
  if (!request) return request.problem();
  const auto name = request->text("name");
  if (request->problem()) return *request->problem();
  json answer = {{"names", schema_names()}, {"schema", nullptr}};
  if (name) {
    const auto schema = bundled_schema(*name);
    if (!schema) return schema.problem();
    answer["schema"] = json::parse(*schema, nullptr, false);
  }
  return calls::dump(answer);
}

}  // namespace coldwright::service

#include "service/from_call.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/call.hpp"
#include "calls/repair.hpp"
#include "calls/strict_json.hpp"
#include "service/request.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

Result<calls::Call> call_in(const json& request) {
  const auto object = request.find("call"), text = request.find("call_text");
  if (object != request.end() && text != request.end())
    return Problem{"call", "\"call\" and \"call_text\" together",
                   "\"call\" with the call as an object, or \"call_text\" with the file's text",
                   "there has to be one call to answer"};
  if (object != request.end()) return calls::read_call(calls::dump(*object));
  if (text->is_string()) return calls::read_call(text->get<std::string>());
  return Problem{"call_text", base::quoted(calls::dump(*text), 40), "the text of a call file",
                 "it isn't a text"};
}

/// What of plate and site has a meaning of its own in procedures, the later entry over the earlier.
void plain_facts(const calls::Call& call, json& facts) {
  std::vector<std::string> replaced;
  for (const calls::Entry& entry : call.entries)
    if (entry.replaces) replaced.push_back(*entry.replaces);
  std::vector<const calls::Entry*> standing;
  for (const calls::Entry& entry : call.entries)
    if (std::find(replaced.begin(), replaced.end(), entry.id) == replaced.end()) standing.push_back(&entry);
  std::stable_sort(standing.begin(), standing.end(),
                   [](const calls::Entry* a, const calls::Entry* b) { return a->at < b->at; });
  for (const calls::Entry* entry : standing) {
    const json content = json::parse(entry->content, nullptr, false);
    if (!content.is_object()) continue;
    const bool site = entry->kind == "site";
    if (!site && entry->kind != "nameplate") continue;
    for (const auto& [key, value] : content.items()) {
      if (!value.is_string() || key == "kind" || key == "at" || key == "by" || key == "replaces") continue;
      facts[site && key == "ambient" ? "t" : key] = value;
    }
  }
  // Of both the barometer counts, as in a diagnosis.
  if (facts.contains("barometer")) facts.erase("altitude");
}

json reading_of(const calls::Standing<calls::TestReadingEntry>& entry) {
  json reading = {{"at", calls::to_text(*entry.at)}};
  for (const auto& [key, text] : entry.body.values) reading[key] = text;
  return reading;
}

}  // namespace

Result<std::string> opened(std::string_view request_json, std::string_view procedure,
                           const std::vector<std::string>& keys) {
  auto request = calls::parse_strict(request_json, "request", {kLargestRequest, 34});
  if (!request) return request.problem();
  if (!request->is_object() || (!request->contains("call") && !request->contains("call_text")))
    return std::string(request_json);
  const auto run = request->find("run");
  if (run != request->end() && !(run->is_number_integer() && *run >= 1 && *run <= 99))
    return Problem{"run", base::quoted(calls::dump(*run), 40), "a whole number from 1 to 99",
                   "it counts the times this was done"};
  const auto call = call_in(*request);
  if (!call) return call.problem();
  const int number = run == request->end() ? 1 : run->get<int>();
  const calls::Repair repair = calls::repair_of(*call);
  json facts = json::object();
  plain_facts(*call, facts);
  for (const auto& [key, text] : calls::settings_of(repair, procedure, number)) facts[key] = text;
  json readings = json::array();
  for (const auto& entry : repair.test_readings)
    if (entry.body.procedure == procedure && entry.body.run == number) readings.push_back(reading_of(entry));
  if (!readings.empty()) facts["readings"] = std::move(readings);
  if (call->units) facts["units"] = *call->units == base::UnitSystem::us ? "us" : "metric";

  json out = *request;
  for (const char* key : {"call", "call_text", "run"}) out.erase(key);
  for (const auto& [key, value] : facts.items())
    if (!out.contains(key) && std::find(keys.begin(), keys.end(), key) != keys.end()) out[key] = value;
  if (out.contains("altitude") && out.contains("barometer") && !request->contains("altitude"))
    out.erase("altitude");
  if (std::find(keys.begin(), keys.end(), "call") != keys.end())
    out["call"] = json::parse(calls::write_call(*call), nullptr, false);
  return calls::dump(out);
}

Result<Request> opened_request(std::string_view request_json, std::string_view procedure,
                               const std::vector<std::string>& keys) {
  const auto plain = opened(request_json, procedure, keys);
  if (!plain) return plain.problem();
  return Request::read(*plain, keys);
}

}  // namespace coldwright::service

// The facts of a record: what the call says, what was computed for it, as one JSON value (record.data).
#include <algorithm>
#include <cmath>
#include <set>

#include "calls/instant.hpp"
#include "calls/strict_json.hpp"
#include "service/about.hpp"
#include "service/record_parts.hpp"
#include "service/shown_json.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

const json kNoObject = json::object(), kNoList = json::array();

/// Who, when and which entry: what every fact of the call carries.
template <class Body>
json stamped(const RecordSource& source, const calls::Standing<Body>& entry, json fact) {
  const std::string at = entry_time(source, entry.id);
  fact["id"] = entry.id;
  fact["by"] = entry.by;
  fact["at"] = at.empty() ? json(nullptr) : json(at);
  return fact;
}

/// The label of a word that the program knows, else the word as typed.
std::string labelled(const Wording& wording, std::initializer_list<std::string_view> sections,
                     const std::string& word, const std::string& prefix = "") {
  for (const std::string_view section : sections)
    if (wording.has(section, prefix + word)) return wording.word(section, prefix + word);
  return word;
}

json source_json(const RecordSource& source) {
  std::string from, to, zone;
  std::vector<std::string> people;
  std::optional<calls::Instant> first, last;
  for (const calls::Entry& entry : source.call.entries) {
    if (!source.contents.contains(entry.id)) continue;
    if (!entry.by.empty() && entry.kind != "product_temperature" &&
        std::find(people.begin(), people.end(), entry.by) == people.end())
      people.push_back(entry.by);
    // Food is often read by others before anybody comes.
    if (!entry.at || entry.kind == "product_temperature") continue;
    if (!first || *entry.at < *first) first = entry.at, from = entry_time(source, entry.id);
    if (!last || *entry.at > *last) last = entry.at, to = entry_time(source, entry.id);
  }
  if (from.size() > 19) zone = from.substr(19);
  std::size_t photos = 0;
  for (const auto& [id, content] : source.contents)
    if (text_in(content, "kind") == "photo") ++photos;
  return {{"name", source.call.name},
          {"from", from.empty() ? json(nullptr) : json(from)},
          {"to", to.empty() ? json(nullptr) : json(to)},
          {"people", people},
          {"photos", photos},
          {"units", source.display.system == base::UnitSystem::us ? "us" : "metric"}};
}

/// The plate as typed; where several entries make it up, each adds what the others leave out.
json unit_json(const RecordSource& source) {
  json out = json::object();
  for (const char* key : {"cabinet", "maker", "model", "serial", "refrigerant", "charge", "set_point",
                          "rated_current", "rated_voltage"})
    out[key] = "";
  for (const calls::Entry& entry : source.call.entries) {
    const auto found = source.contents.find(entry.id);
    if (entry.kind != "nameplate" || found == source.contents.end()) continue;
    for (auto& [key, value] : out.items())
      if (const std::string said = text_in(found->second, key); !said.empty()) value = said;
  }
  const json& call = object_in(source.diagnosis, "call");
  if (!call.empty()) {
    out["refrigerant"] = text_in(call, "refrigerant");
    out["cabinet"] = text_in(call, "cabinet");
  }
  const auto said = [&](const char* key, base::Dimension dimension, const char* entry_kind) {
    json found = nullptr;
    for (const calls::Entry& entry : source.call.entries) {
      const auto content = source.contents.find(entry.id);
      if (entry.kind != entry_kind || content == source.contents.end()) continue;
      const std::string text = text_in(content->second, key);
      if (text.empty()) continue;
      if (const auto read = base::parse_spoken(text, key, dimension))
        found = quantity(dimension, read->si, source.display);
    }
    return found;
  };
  out["cabinet_label"] = labelled(source.wording, {"cabinets"}, text_in(out, "cabinet"));
  const std::string known = text_in(call, "safety_class");
  out["safety_class"] = known.empty() ? json(nullptr) : json(known);
  out["charge"] = said("charge", base::Dimension::mass, "nameplate");
  out["set_point"] = said("set_point", base::Dimension::temperature, "nameplate");
  // Of the several that a long call has, the one that the diagnosis settled on.
  for (const char* key : {"ambient", "box"}) {
    out[key] = said(key, base::Dimension::temperature, "site");
    if (call.contains(key) && !call[key].is_null()) out[key] = call[key];
  }
  return out;
}

json texts_of(const json& statements) {
  json out = json::array();
  for (const json& said : statements)
    if (const std::string text = text_in(said, "text"); !text.empty()) out.push_back(text);
  return out;
}

json findings_json(const RecordSource& source) {
  const json& diagnosis = source.diagnosis;
  json causes = json::array();
  for (const json& row : list_in(diagnosis, "causes"))
    causes.push_back({{"cause", text_in(row, "cause")},
                      {"label", text_in(row, "label")},
                      {"probability", number_in(row, "probability").value_or(0)},
                      {"error", number_in(row, "error").value_or(0)},
                      {"probability_text", text_in(row, "probability_text")},
                      {"in_words", text_in(row, "in_words")},
                      {"severity_text", text_in(row, "severity_text")}});
  json found = json::array();
  for (const auto& entry : source.repair.causes_found) {
    const std::string& cause = entry.body.cause;
    const bool known = source.wording.has("causes", cause) || cause.find('+') != std::string::npos;
    json probability = nullptr;
    for (const json& row : causes)
      if (row["cause"] == cause) probability = row["probability"];
    found.push_back(stamped(source, entry,
                            {{"cause", cause},
                             {"label", known ? source.wording.cause(cause) : cause},
                             {"how", entry.body.how},
                             {"probability", probability}}));
  }
  json unseen = json::array();
  for (const json& row : list_in(diagnosis, "unseen"))
    unseen.push_back({{"quantity", text_in(row, "quantity")},
                      {"label", text_in(row, "label")},
                      {"text", text_in(object_in(row, "interval"), "text")},
                      {"sound", text_in(object_in(row, "sound"), "text")}});
  const json& quality = object_in(diagnosis, "quality");
  json remarks = texts_of(list_in(diagnosis, "remarks"));
  for (const json& text : texts_of(list_in(quality, "remarks"))) remarks.push_back(text);
  return {{"diagnosed", !diagnosis.is_null()},
          {"why_not", source.why_not_diagnosed},
          {"trustworthy", flag_in(quality, "trustworthy")},
          {"evidence", list_in(diagnosis, "evidence").size()},
          {"causes", causes},
          {"found", found},
          {"reasons", texts_of(list_in(diagnosis, "reasons"))},
          {"suspects", texts_of(list_in(diagnosis, "suspects"))},
          {"unseen", unseen},
          {"remarks", remarks}};
}

/// A reading or observation of the call with what the diagnosis made of it.
json weighed(const RecordSource& source, const std::string& id, const std::string& subject) {
  for (const json& row : list_in(source.diagnosis, "evidence"))
    if (text_in(row, "id") == id && text_in(row, "subject") == subject) return row;
  return json(nullptr);
}

json readings_json(const RecordSource& source) {
  json out = json::array();
  for (const calls::Entry& entry : source.call.entries) {
    const auto* body = std::get_if<calls::ReadingEntry>(&entry.body);
    const auto content = source.contents.find(entry.id);
    if (body == nullptr || content == source.contents.end()) continue;
    const std::string what(circuit::info(body->kind).id);
    const json row = weighed(source, entry.id, what);
    const json& given = object_in(row, "given");
    const std::string at = entry_time(source, entry.id);
    const auto log_odds = number_in(row, "log_odds");
    const auto si = number_in(given, "si"), value = number_in(given, "value");
    out.push_back({{"id", entry.id},
                   {"what", what},
                   {"label", source.wording.word("readings", what)},
                   {"said", text_in(content->second, "value")},
                   {"text", given.empty() ? text_in(content->second, "value") : text_in(given, "text")},
                   {"value", value ? json(*value) : json(nullptr)},
                   {"unit", text_in(given, "unit")},
                   {"si", si ? json(*si) : json(nullptr)},
                   {"accuracy", text_in(content->second, "accuracy")},
                   {"running_for", text_in(content->second, "running_for")},
                   {"instrument", text_in(content->second, "instrument")},
                   {"expected", text_in(object_in(row, "expected_if_sound"), "text")},
                   {"against", row.is_null() ? "unknown" : text_in(row, "against_sound")},
                   {"log_odds", log_odds ? json(*log_odds) : json(nullptr)},
                   {"by", entry.by},
                   {"at", at.empty() ? json(nullptr) : json(at)}});
  }
  return out;
}

json observations_json(const RecordSource& source) {
  json out = json::array();
  for (const calls::Entry& entry : source.call.entries) {
    const auto* body = std::get_if<calls::ObservationEntry>(&entry.body);
    if (body == nullptr || !source.contents.contains(entry.id)) continue;
    const json row = weighed(source, entry.id, body->subject);
    const auto log_odds = number_in(row, "log_odds");
    const std::string at = entry_time(source, entry.id);
    out.push_back({{"id", entry.id},
                   {"subject", body->subject},
                   {"label", labelled(source.wording, {"subjects"}, body->subject)},
                   {"value", body->value},
                   {"value_label", labelled(source.wording, {"values"}, body->value)},
                   {"log_odds", log_odds ? json(*log_odds) : json(nullptr)},
                   {"by", entry.by},
                   {"at", at.empty() ? json(nullptr) : json(at)}});
  }
  return out;
}

json notes_json(const RecordSource& source) {
  json out = json::array();
  for (const calls::Entry& entry : source.call.entries)
    if (const auto* note = std::get_if<calls::NoteEntry>(&entry.body);
        note != nullptr && source.contents.contains(entry.id))
      out.push_back({{"id", entry.id}, {"text", note->text}, {"by", entry.by}});
  return out;
}

json steps_json(const RecordSource& source) {
  json out = json::array();
  for (const auto& entry : source.repair.steps) {
    using State = calls::StepEntry::State;
    const char* state = entry.body.state == State::done      ? "done"
                        : entry.body.state == State::skipped ? "skipped"
                                                             : "open";
    std::string label = labelled(source.wording, {"plan"}, entry.body.step, "title_");
    if (label == entry.body.step) label = labelled(source.wording, {"record"}, entry.body.step, "test_");
    out.push_back(stamped(
        source, entry,
        {{"step", entry.body.step}, {"label", label}, {"state", state}, {"reason", entry.body.reason}}));
  }
  return out;
}

json parts_json(const RecordSource& source) {
  constexpr const char* kActions[] = {"replaced", "fitted", "removed", "cleaned", "repaired"};
  json out = json::array();
  for (const auto& entry : source.repair.parts) {
    const std::string& part = entry.body.part;
    const bool ours = source.wording.has("record", "part_" + part);
    out.push_back(
        stamped(source, entry,
                {{"part", part},
                 {"label", ours ? source.wording.word("record", "part_" + part)
                                : labelled(source.wording, {"parts", "subjects"}, part)},
                 {"action", kActions[static_cast<std::size_t>(entry.body.action)]},
                 {"action_label",
                  source.wording.word("record", kActions[static_cast<std::size_t>(entry.body.action)])},
                 {"detail", entry.body.detail},
                 {"cost", entry.body.cost}}));
  }
  return out;
}

json figure_json(const json& figure) {
  const json& value = object_in(figure, "value");
  const auto si = number_in(value, "si");
  json cited = json::array();
  for (const json& key : list_in(figure, "cited"))
    if (key.is_string()) cited.push_back(key);
  std::string inputs, symbols;
  for (const json& input : list_in(figure, "where")) {
    const std::string symbol = text_in(input, "symbol"), label = text_in(input, "label");
    symbols += (symbols.empty() ? "" : "; ") + (symbol.empty() ? label + " " : symbol + " = ") +
               text_in(input, "text");
    inputs += (inputs.empty() ? "" : "; ") + (symbol.empty() ? "" : symbol + " = ") + text_in(input, "text") +
              " (" + text_in(input, "label") + ")";
  }
  return {{"key", text_in(figure, "key")},
          {"label", text_in(figure, "label")},
          {"text", text_in(figure, "text")},
          {"unit", text_in(value, "unit")},
          {"si", si ? json(*si) : json(nullptr)},
          {"formula", text_in(figure, "formula")},
          {"inputs", inputs},
          {"symbols", symbols},
          {"cited", cited},
          {"basis", text_in(figure, "basis")},
          {"basis_text", text_in(figure, "basis_text")}};
}

json tests_json(const RecordSource& source) {
  json out = json::array();
  for (const RecordTest& test : source.tests) {
    json figures = json::array(), readings = json::array(), settings = json::object();
    for (const json& figure : list_in(test.answer, "figures")) figures.push_back(figure_json(figure));
    for (const auto& entry : source.repair.test_readings) {
      if (entry.body.procedure != test.procedure || entry.body.run != test.run) continue;
      json values = json::object();
      for (const auto& [key, text] : entry.body.values) values[key] = text;
      readings.push_back(stamped(source, entry, {{"values", values}}));
    }
    for (const auto& [key, text] : settings_of(source.repair, test.procedure, test.run)) settings[key] = text;
    const json& verdict = object_in(test.answer, "verdict");
    out.push_back({{"procedure", test.procedure},
                   {"run", test.run},
                   {"label", labelled(source.wording, {"record"}, test.procedure, "test_")},
                   {"answered", !test.answer.is_null()},
                   {"why_not", test.why_not},
                   {"verdict", verdict.empty() ? json(nullptr) : json(text_in(verdict, "text"))},
                   {"statements", texts_of(list_in(test.answer, "statements"))},
                   {"asks", texts_of(list_in(test.answer, "asks"))},
                   {"figures", figures},
                   {"settings", settings},
                   {"readings", readings}});
  }
  return out;
}

json signatures_json(const RecordSource& source) {
  json out = json::array();
  for (const auto& entry : source.repair.signatures) {
    const bool technician = entry.body.role == calls::SignatureEntry::Role::technician;
    out.push_back(stamped(source, entry,
                          {{"role", technician ? "technician" : "customer"},
                           {"name", entry.body.name},
                           {"drawn", !entry.body.path.empty()},
                           {"path", entry.body.path},
                           {"width", entry.body.width},
                           {"height", entry.body.height}}));
  }
  return out;
}

/// What the diagnosis and every procedure rest on, each once.
json about_all(const RecordSource& source) {
  std::vector<std::string> keys = {"fda2022"};
  if (source.repair.product_temperatures.empty()) keys.clear();
  const auto add = [&](const json& answer) {
    for (const json& work : list_in(object_in(answer, "about"), "references"))
      if (const std::string key = text_in(work, "key"); !key.empty()) keys.push_back(key);
  };
  add(source.diagnosis);
  for (const RecordTest& test : source.tests) add(test.answer);
  const auto seed = number_in(object_in(source.diagnosis, "about"), "seed");
  std::optional<std::uint64_t> whole;
  if (seed && *seed >= 0) whole = static_cast<std::uint64_t>(*seed);
  return about(whole, keys);
}

}  // namespace

std::string text_in(const json& object, std::string_view key) {
  if (!object.is_object()) return "";
  const auto found = object.find(std::string(key));
  if (found == object.end()) return "";
  const auto* text = found->get_ptr<const std::string*>();
  return text == nullptr ? "" : *text;
}

std::optional<double> number_in(const json& object, std::string_view key) {
  if (!object.is_object()) return std::nullopt;
  const auto found = object.find(std::string(key));
  if (found == object.end() || !found->is_number()) return std::nullopt;
  const double value = found->get<double>();
  return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

bool flag_in(const json& object, std::string_view key) {
  if (!object.is_object()) return false;
  const auto found = object.find(std::string(key));
  return found != object.end() && found->is_boolean() && found->get<bool>();
}

const json& list_in(const json& object, std::string_view key) {
  if (!object.is_object()) return kNoList;
  const auto found = object.find(std::string(key));
  return found != object.end() && found->is_array() ? *found : kNoList;
}

const json& object_in(const json& object, std::string_view key) {
  if (!object.is_object()) return kNoObject;
  const auto found = object.find(std::string(key));
  return found != object.end() && found->is_object() ? *found : kNoObject;
}

std::string entry_time(const RecordSource& source, const std::string& id) {
  const auto content = source.contents.find(id);
  if (content == source.contents.end()) return "";
  std::string at = text_in(content->second, "at");
  if (at.size() < 17) return "";
  at[10] = 'T';
  if (at[16] != ':') at.insert(16, ":00");
  if (at.back() == 'z') at.back() = 'Z';
  return at;
}

std::string shown_time(std::string_view at, std::string_view like) {
  if (at.size() < 16) return "";
  const std::string day(at.substr(0, 10)), hour(at.substr(11, 5));
  return like.substr(0, 10) == day ? hour : day + " " + hour;
}

std::string shown_span(double seconds, const Wording& wording) {
  const auto minutes = static_cast<long long>(std::llround(seconds / 60));
  const std::string rest = std::to_string(minutes % 60), hours = std::to_string(minutes / 60);
  return minutes < 60 ? wording.phrase("record", "minutes", {{"m", rest}})
                      : wording.phrase("record", "hours_minutes", {{"h", hours}, {"m", rest}});
}

json record_data(const RecordSource& source) {
  json work = json::array(), watch = json::array();
  for (const auto& entry : source.repair.work)
    work.push_back(stamped(source, entry, {{"text", entry.body.text}}));
  for (const auto& entry : source.repair.watch)
    watch.push_back(stamped(source, entry, {{"text", entry.body.text}}));
  return {{"about", about_all(source)},
          {"language", source.language},
          {"made", calls::to_text(calls::Instant{source.now, 0})},
          {"shop", source.shop},
          {"call", source_json(source)},
          {"unit", unit_json(source)},
          {"findings", findings_json(source)},
          {"observations", observations_json(source)},
          {"readings", readings_json(source)},
          {"notes", notes_json(source)},
          {"steps", steps_json(source)},
          {"work", work},
          {"parts", parts_json(source)},
          {"refrigerant", refrigerant_account(source)},
          {"tests", tests_json(source)},
          {"food", food_histories(source)},
          {"watch", watch},
          {"signatures", signatures_json(source)}};
}

}  // namespace coldwright::service

// The kinds of entries that tell of the repair: what may stand in each.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/entry_reader.hpp"

namespace coldwright::calls {
namespace {

using base::Dimension;
using nlohmann::json;

// More than any sealed cabinet or its cylinder holds: catches a slipped unit.
constexpr double kLeastMass = 0, kMostMass = 200;  // kg
constexpr int kMostRuns = 99;
constexpr std::size_t kMostSteps = 200, kMostSettings = 60, kLongestPath = 60000;

}  // namespace

std::size_t EntryReader::choice(std::string_view key, const std::vector<std::string>& words, bool required) {
  const std::string allowed = base::listed(words);
  const auto said = required ? std::optional(required_text(key, allowed)) : text(key, allowed);
  if (problem_ || !said) return 0;
  const auto found = std::find(words.begin(), words.end(), base::lower(*said));
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  const auto near = base::nearest(base::lower(*said), words);
  fail({key_field(key), base::quoted(*said), allowed,
        near ? "did you mean \"" + *near + "\"?" : "no other word has a meaning here"});
  return 0;
}

int EntryReader::run_number() {
  const auto found = object_.find("run");
  if (found == object_.end()) return 1;
  const bool whole = found->is_number_integer() && *found >= 1 && *found <= kMostRuns;
  if (!whole)
    fail({key_field("run"), base::quoted(dump(*found), 40), "a whole number from 1 to 99",
          "it counts the times this was done"});
  return whole ? found->get<int>() : 1;
}

std::vector<std::pair<std::string, std::string>> EntryReader::texts(const json& object,
                                                                    const std::string& field,
                                                                    const std::vector<std::string>& but) {
  std::vector<std::pair<std::string, std::string>> out;
  for (const auto& [key, value] : object.items()) {
    if (std::find(but.begin(), but.end(), key) != but.end()) continue;
    const std::string* said = value.get_ptr<const std::string*>();
    if (said == nullptr || said->empty() || said->size() > 200 || key.size() > 60) {
      fail({field + ", " + key, base::quoted(dump(value), 40), "a text of at most 200 bytes in quotes",
            "settings and readings are written as spoken, with their units"});
      return {};
    }
    out.emplace_back(key, *said);
  }
  return out;
}

void EntryReader::step(Entry& entry) {
  refuse_other_keys({"step", "state", "reason"});
  StepEntry body;
  body.step = required_text("step", "a step of the work, such as tightness", 80);
  body.state = static_cast<StepEntry::State>(choice("state", {"open", "done", "skipped"}));
  body.reason = text("reason", "why it was passed over", 1000).value_or("");
  if (!problem_ && body.state == StepEntry::State::skipped && body.reason.empty())
    fail({key_field("reason"), "nothing", "why it was passed over",
          "a step left out without a reason looks like one forgotten"});
  entry.body = std::move(body);
}

void EntryReader::order(Entry& entry) {
  refuse_other_keys({"steps"});
  const auto found = object_.find("steps");
  OrderEntry body;
  const bool list = found != object_.end() && found->is_array() && found->size() <= kMostSteps;
  if (list)
    for (const json& step : *found)
      if (const auto* word = step.get_ptr<const std::string*>(); word != nullptr && word->size() <= 80)
        body.steps.push_back(*word);
  if (!problem_ && (!list || body.steps.size() != found->size()))
    fail({key_field("steps"), found == object_.end() ? "nothing" : base::quoted(dump(*found), 40),
          "a list of steps in quotes, at most 200", "it puts the steps of the work in order"});
  entry.body = std::move(body);
}

void EntryReader::procedure(Entry& entry) {
  refuse_other_keys({"procedure", "run", "with"});
  ProcedureEntry body;
  body.procedure = required_text("procedure", "a procedure, such as tightness", 60);
  body.run = run_number();
  const auto with = object_.find("with");
  if (!problem_ && (with == object_.end() || !with->is_object() || with->size() > kMostSettings))
    fail({key_field("with"), with == object_.end() ? "nothing" : base::quoted(dump(*with), 40),
          "its settings, such as {\"volume\": \"1.2 L\"}",
          "an entry of this kind means nothing without them"});
  if (!problem_) body.with = texts(*with, key_field("with"), {});
  entry.body = std::move(body);
}

void EntryReader::test_reading(Entry& entry) {
  const std::vector<std::string> values = {"pressure", "temperature", "box", "current", "mass", "flow"};
  std::vector<std::string> own = {"procedure", "run"};
  own.insert(own.end(), values.begin(), values.end());
  refuse_other_keys(own);
  TestReadingEntry body;
  body.procedure = required_text("procedure", "the test it belongs to, such as tightness", 60);
  body.run = run_number();
  if (!problem_ && !entry.at)
    fail({key_field("at"), "nothing", "a time such as 2025-11-20T09:30:00+01:00",
          "a test is read against the clock"});
  if (!problem_)
    body.values = texts(object_, field_, {"procedure", "run", "kind", "id", "at", "by", "replaces"});
  if (!problem_ && body.values.empty())
    fail({field_, "no reading", base::listed(values), "an entry of this kind means nothing without one"});
  entry.body = std::move(body);
}

void EntryReader::refrigerant_moved(Entry& entry) {
  refuse_other_keys({"movement", "mass", "before", "after", "cylinder", "refrigerant"});
  RefrigerantMovedEntry body;
  body.movement = static_cast<RefrigerantMovedEntry::Movement>(
      choice("movement", {"recovered", "released", "charged", "lost"}));
  constexpr std::string_view why = "no cylinder or cabinet holds that; look for a slipped unit";
  const auto mass = quantity(entry, "mass", Dimension::mass, kLeastMass, kMostMass, why);
  body.before = quantity(entry, "before", Dimension::mass, kLeastMass, kMostMass, why);
  body.after = quantity(entry, "after", Dimension::mass, kLeastMass, kMostMass, why);
  body.cylinder = text("cylinder", "what stands on the cylinder").value_or("");
  body.refrigerant = text("refrigerant", "a refrigerant, such as R290").value_or("");
  const bool weighed = body.before && body.after;
  if (!problem_ && (mass.has_value() == weighed || body.before.has_value() != body.after.has_value()))
    fail({key_field("mass"), mass ? "a mass beside the scale's readings" : "nothing",
          "a mass, or the scale \"before\" and \"after\"", "one of the two says how much it was"});
  if (!problem_) {
    const bool out_of_cylinder = body.movement == RefrigerantMovedEntry::Movement::charged;
    body.mass = mass ? mass->value : (out_of_cylinder ? 1 : -1) * (body.before->value - body.after->value);
    if (body.mass < 0)
      fail(
          {key_field("after"), base::quoted(body.after->text),
           out_of_cylinder ? "at most what the scale showed before" : "at least what the scale showed before",
           out_of_cylinder ? "a cylinder gets lighter when it gives"
                           : "a cylinder gets heavier when it takes"});
  }
  entry.body = std::move(body);
}

void EntryReader::part(Entry& entry) {
  refuse_other_keys({"part", "action", "detail", "cost"});
  PartEntry body;
  body.part = required_text("part", "a part, such as drier");
  body.action = static_cast<PartEntry::Action>(
      choice("action", {"replaced", "fitted", "removed", "cleaned", "repaired"}, false));
  body.detail = text("detail", "what belongs to it", 1000).value_or("");
  body.cost = text("cost", "money, such as 48 EUR", 60).value_or("");
  entry.body = std::move(body);
}

void EntryReader::work(Entry& entry) {
  refuse_other_keys({"text"});
  entry.body = WorkEntry{required_text("text", "what was done", 4000)};
}

void EntryReader::cause_found(Entry& entry) {
  refuse_other_keys({"cause", "how"});
  CauseFoundEntry body;
  body.cause = required_text("cause", "a cause, such as low_charge", 80);
  body.how = text("how", "how it was found", 1000).value_or("");
  entry.body = std::move(body);
}

void EntryReader::product_temperature(Entry& entry) {
  refuse_other_keys({"value", "product"});
  ProductTemperatureEntry body;
  if (!problem_ && !entry.at)
    fail({key_field("at"), "nothing", "a time such as 2025-11-20T09:30:00+01:00",
          "how long it was warm follows from the times"});
  required_text("value", base::allowed_forms(Dimension::temperature));
  body.value = quantity(entry, "value", Dimension::temperature, kZeroC - 60, kZeroC + 90,
                        "no product in a cabinet is at that")
                   .value_or(GivenNumber{});
  body.product = text("product", "what was measured").value_or("");
  entry.body = std::move(body);
}

void EntryReader::signature(Entry& entry) {
  refuse_other_keys({"role", "name", "path", "width", "height"});
  SignatureEntry body;
  body.role = static_cast<SignatureEntry::Role>(choice("role", {"technician", "customer"}));
  body.name = required_text("name", "a name");
  body.path = text("path", "SVG path data: M, L and numbers", kLongestPath).value_or("");
  if (!problem_ && body.path.find_first_not_of("MLCQZmlcqz0123456789.,- ") != std::string::npos)
    fail({key_field("path"), base::quoted(body.path, 40), "SVG path data: M, L and numbers",
          "a signature is lines and nothing else"});
  for (const auto& [key, side] : {std::pair{"width", &body.width}, {"height", &body.height}}) {
    const auto found = object_.find(key);
    const bool given = found != object_.end();
    if (given && found->is_number() && *found > 0 && *found <= 10000)
      *side = found->get<double>();
    else if (!problem_ && (given || !body.path.empty()))
      fail({key_field(key), given ? base::quoted(dump(*found), 40) : "nothing",
            "a number above 0, up to 10000", "it is the size of what the path was drawn in"});
  }
  entry.body = std::move(body);
}

void EntryReader::watch(Entry& entry) {
  refuse_other_keys({"text"});
  entry.body = WatchEntry{required_text("text", "what to keep an eye on", 2000)};
}

}  // namespace coldwright::calls

#include "service/diagnosis_json.hpp"

#include <algorithm>

#include "calls/strict_json.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using diagnosis::Unit;
using nlohmann::json;

json cause_json(const CallCase& c, const diagnosis::RankedCause& cause) {
  json out = {{"cause", cause.cause},
              {"label", c.wording.cause(cause.cause)},
              {"probability", cause.probability},
              {"error", cause.error},
              {"probability_text", probability_text(cause.probability, cause.error, c.display.numerals)},
              {"in_words", c.wording.word("sureness", sureness(cause.probability))},
              {"severity", nullptr},
              {"severity_2", nullptr},
              {"severity_text", ""}};
  std::string text;
  const auto add = [&](const char* key, const std::string& measure,
                       const std::optional<diagnosis::Interval>& of) {
    if (!of) return;
    out[key] = {{"measure", measure}, {"low", of->low}, {"mid", of->mid}, {"high", of->high}};
    const std::string more = c.wording.severity(measure, *of, c.display);
    text = text.empty() ? more : c.wording.phrase("phrases", "both", {{"first", text}, {"second", more}});
  };
  add("severity", cause.severity_measure, cause.severity);
  add("severity_2", cause.severity_measure_2, cause.severity_2);
  out["severity_text"] = text;
  return out;
}

const diagnosis::Reading* reading_of(const CallCase& c, const diagnosis::Contribution& row) {
  for (const diagnosis::Reading& reading : c.folded.the_case.readings)
    if (reading.id == row.id && circuit::info(reading.kind).id == row.subject) return &reading;
  return nullptr;
}

std::string observed_value(const CallCase& c, const diagnosis::Contribution& row) {
  for (const diagnosis::Observation& seen : c.folded.the_case.observations)
    if (seen.id == row.id && seen.subject == row.subject) return seen.value;
  return "";
}

/// Where a reading lies against what a sound machine would read.
std::string_view against(double value, const std::optional<diagnosis::Interval>& sound) {
  if (!sound) return "unknown";
  return value < sound->low ? "below" : value > sound->high ? "above" : "within";
}

json contribution_json(const CallCase& c, const diagnosis::Contribution& row) {
  json out = {
      {"id", row.id}, {"subject", row.subject}, {"log_odds", row.log_odds}, {"bits", row.information_bits}};
  if (const diagnosis::Reading* reading = reading_of(c, row)) {
    const Unit unit = unit_of(reading->kind);
    out["kind"] = "reading";
    out["label"] = c.wording.word("readings", row.subject);
    out["given"] = quantity(unit, reading->value, c.display);
    out["expected_if_sound"] = interval(unit, row.expected_if_sound, c.wording, c.display);
    out["against_sound"] = against(reading->value, row.expected_if_sound);
    return out;
  }
  const std::string value = observed_value(c, row);
  out["kind"] = "observation";
  out["label"] = c.wording.word("subjects", row.subject);
  out["value"] = value;
  out["value_label"] = value.empty() ? "" : c.wording.word("values", value);
  return out;
}

/// Electrical power is spoken in watts everywhere; only cooling is counted in Btu/h.
base::Display display_for(const CallCase& c, const diagnosis::Unseen& row) {
  base::Display display = c.display;
  if (row.unit == Unit::power && row.quantity != "capacity") display.system = base::UnitSystem::metric;
  return display;
}

json unseen_json(const CallCase& c, const diagnosis::Unseen& row) {
  const base::Display display = display_for(c, row);
  return {{"quantity", row.quantity},
          {"label", c.wording.word("quantities", row.quantity)},
          {"interval", interval(row.unit, row.interval, c.wording, display)},
          {"sound", interval(row.unit, row.sound, c.wording, display)}};
}

json next_json(const CallCase& c, const diagnosis::NextStep& row) {
  const std::string hazard = row.hazard.empty() ? "" : c.wording.word("hazards", row.hazard);
  return {{"subject", row.subject},
          {"label", c.wording.word(row.is_observation ? "subjects" : "readings", row.subject)},
          {"kind", row.is_observation ? "observation" : "reading"},
          {"bits", row.information_bits},
          {"minutes", row.minutes},
          {"grams_lost", row.grams_lost},
          {"opens_circuit", row.opens_circuit},
          {"hazard", row.hazard},
          {"hazard_text", hazard},
          {"worth", row.worth}};
}

json turning_json(const CallCase& c, const diagnosis::Turning& row) {
  const Unit unit = unit_of(row.kind);
  const std::string_view id = circuit::info(row.kind).id;
  const std::string key = std::string("turning_") + (row.already_read ? "read_" : "unread_") +
                          (row.swaps_above ? "above" : "below");
  const diagnosis::Statement said{
      key,
      {{"value", unit, row.value}},
      {{"reading", std::string(id)}, {"first", row.first}, {"second", row.second}}};
  return {{"reading", id},
          {"label", c.wording.word("readings", id)},
          {"already_read", row.already_read},
          {"given", row.given ? quantity(unit, *row.given, c.display) : json(nullptr)},
          {"value", quantity(unit, row.value, c.display)},
          {"swaps", row.swaps_above ? "above" : "below"},
          {"first", row.first},
          {"second", row.second},
          {"chance", row.chance},
          {"text", c.wording.sentence("advice", said, c.display)}};
}

json suspect_json(const CallCase& c, const diagnosis::Suspect& row) {
  const Unit unit = unit_of(row.kind);
  const std::string label = c.wording.word("readings", circuit::info(row.kind).id);
  const diagnosis::Statement said{
      "suspect",
      {{"given", unit, row.value}, {"low", unit, row.plausible.low}, {"high", unit, row.plausible.high}},
      {{"reading", std::string(circuit::info(row.kind).id)}}};
  return {{"id", row.id},
          {"reading", circuit::info(row.kind).id},
          {"label", label},
          {"value", quantity(unit, row.value, c.display)},
          {"plausible", interval(unit, row.plausible, c.wording, c.display)},
          {"probability_mistaken", row.probability_mistaken},
          {"text", c.wording.sentence("advice", said, c.display)}};
}

template <class Rows, class Make>
json list(const CallCase& c, const Rows& rows, Make make) {
  json out = json::array();
  for (const auto& row : rows) out.push_back(make(c, row));
  return out;
}

json expected_state(const CallCase& c, const diagnosis::ExpectedState& state) {
  json out = {{"ambient", quantity(Unit::temperature, state.ambient, c.display)},
              {"box", quantity(Unit::temperature, state.box, c.display)},
              {"readings", json::array()},
              {"quantities", list(c, state.quantities, unseen_json)}};
  for (const diagnosis::ExpectedReading& row : state.readings) {
    const std::string_view id = circuit::info(row.kind).id;
    out["readings"].push_back(
        {{"reading", id},
         {"label", c.wording.word("readings", id)},
         {"interval", interval(unit_of(row.kind), row.interval, c.wording, c.display)}});
  }
  return out;
}

json rule_json(const CallCase& c, const diagnosis::RuleOfThumb& row) {
  const Unit unit = Unit::temperature_difference;  // TD, split, superheat, subcooling: all are differences
  return {{"quantity", row.quantity},
          {"label", c.wording.word("quantities", row.quantity)},
          {"rule", interval(unit, row.rule, c.wording, c.display)},
          {"physics_now", interval(unit, row.physics_now, c.wording, c.display)},
          {"physics_set_point", interval(unit, row.physics_set_point, c.wording, c.display)},
          {"where_they_part", statements("statements", row.where_they_part, c.wording, c.display)}};
}

}  // namespace

json diagnosis_json(const CallCase& c, const diagnosis::Answer& answer) {
  json out = call_heading(c, answer.sources, answer.cautions);
  out["causes"] = list(c, answer.causes, cause_json);
  out["reasons"] = statements("statements", answer.reasons, c.wording, c.display);
  out["evidence"] = list(c, answer.contributions, contribution_json);
  out["unseen"] = list(c, answer.unseen, unseen_json);
  out["next"] = list(c, answer.next, next_json);
  out["turnings"] = list(c, answer.turnings, turning_json);
  out["suspects"] = list(c, answer.suspects, suspect_json);
  out["quality"] = quality_json(answer.quality, c.wording, c.display);
  return out;
}

json expectation_json(const CallCase& c, const diagnosis::Expectation& expectation) {
  json out = call_heading(c, expectation.sources, {});
  out["now"] = expected_state(c, expectation.now);
  out["set_point"] = expected_state(c, expectation.set_point);
  out["rules_of_thumb"] = list(c, expectation.rules, rule_json);
  out["quality"] = quality_json(expectation.quality, c.wording, c.display);
  return out;
}

}  // namespace coldwright::service

// Use case "practice_debrief": the decision against the truth, the apprentice's way beside the best one, each
// step with what it told, what the wrong repair would have cost, the sign that tells the two apart, and what
// this machine teaches. Sentences follow from computed numbers; none is written per cause.
#include <algorithm>
#include <cmath>

#include "calls/strict_json.hpp"
#include "practice/judge.hpp"
#include "practice/path.hpp"
#include "procedures/repair_needs.hpp"
#include "service/practice_parts.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using diagnosis::Statement;
using diagnosis::Unit;
using nlohmann::json;
using practice::Believed;
using practice::Grade;
using practice::Told;

constexpr double kMuch = 1, kSome = 0.3, kLittle = 0.05;  // bits
constexpr double kWorthNaming = 0.02;                     // causes less likely aren't listed
constexpr double kLeftOpen = 0.5;

std::string percent(const Practice& p, double probability) {
  return probability_text(probability, 0.01, p.display.numerals);
}
std::string bits_text(const Practice& p, double bits) {
  return base::number_text(bits, 1, p.display.numerals);
}

/// The cause that a step moved most, in percentage points.
std::string most_moved(const Believed& before, const Believed& after) {
  std::string cause;
  double most = -1;
  for (const diagnosis::RankedCause& c : after.causes) {
    const double by = std::abs(c.probability - before.probability_of(c.cause));
    if (by <= most) continue;
    most = by;
    cause = c.cause;
  }
  return cause;
}

json ranked(const Practice& p, const Believed& believed) {
  json out = json::array();
  for (const diagnosis::RankedCause& c : believed.causes) {
    if (out.size() == 3 || (c.probability < kWorthNaming && !out.empty())) break;
    out.push_back({{"cause", c.cause},
                   {"label", p.wording.cause(c.cause)},
                   {"probability", c.probability},
                   {"text", percent(p, c.probability)}});
  }
  return out;
}

/// Reasons that stand after a step and didn't before.
json new_reasons(const Practice& p, const Believed& before, const Believed& after) {
  json out = json::array();
  for (const Statement& said : after.reasons) {
    const auto same = [&](const Statement& other) {
      return other.key == said.key && other.words == said.words;
    };
    if (out.size() < 2 && std::none_of(before.reasons.begin(), before.reasons.end(), same))
      out.push_back(statement("statements", said, p.wording, p.display));
  }
  return out;
}

Statement what_it_told(const Practice& p, const Believed& before, const Told& t) {
  if (t.step.action.waits()) return {"told_wait", {}, {}};
  const std::string cause = most_moved(before, t.after);
  const char* key = t.bits >= kMuch     ? "told_much"
                    : t.bits >= kSome   ? "told_some"
                    : t.bits >= kLittle ? "told_little"
                                        : "told_nothing";
  return {key,
          {},
          {{"bits", bits_text(p, t.bits)},
           {"cause", cause},
           {"before", percent(p, before.probability_of(cause))},
           {"after", percent(p, t.after.probability_of(cause))}}};
}

std::string label_of(const Practice& p, const std::string& action) {
  const auto named = practice::action_named(action, *p.knowledge);
  return named ? action_label(*named, p.wording) : action;
}

json better_than(const Practice& p, const Told& t) {
  if (!t.better) return nullptr;
  const bool dear = t.step.cost.opens && !t.better->opens_circuit;
  return told(p,
              {dear ? "better_closed" : "better",
               {{"minutes", Unit::minutes, t.better->minutes}, {"own", Unit::minutes, t.step.cost.minutes}},
               {{"action", label_of(p, t.better->subject)},
                {"bits", bits_text(p, t.better->information_bits)},
                {"own_bits", bits_text(p, t.expected_bits)}}});
}

/// Where there was enough to decide, and what the steps after it took.
json enough_json(const Practice& p, const practice::Path& path) {
  const auto at = practice::enough_after(path);
  if (!at) return nullptr;
  const Told& t = path.steps[*at];
  const std::size_t more = path.steps.size() - *at - 1;
  const diagnosis::RankedCause& first = t.after.causes.front();
  return {{"step", *at},
          {"text", told(p, {more == 0 ? "enough_last" : "enough_earlier",
                            {{"count", Unit::count, static_cast<double>(*at + 1)},
                             {"minutes", Unit::minutes, path.end.history.minutes - t.step.minutes_used}},
                            {{"leader", first.cause}, {"probability", percent(p, first.probability)}}})}};
}

/// A way can end elsewhere than at the truth: some machines mislead, and it is only fair to say so.
json missed_json(const Practice& p, const Believed& end) {
  const diagnosis::RankedCause& first = end.causes.front();
  if (first.cause == p.visit.truth.id) return nullptr;
  return told(p, {"missed",
                  {},
                  {{"found", first.cause},
                   {"truth", p.visit.truth.id},
                   {"probability", percent(p, end.probability_of(p.visit.truth.id))}}});
}

json path_json(const Practice& p, const practice::Path& path) {
  json steps = json::array();
  for (std::size_t i = 0; i < path.steps.size(); ++i) {
    const Told& t = path.steps[i];
    const Believed& before = i == 0 ? path.start : path.steps[i - 1].after;
    json row = step_json(t.step, p);
    row["bits"] = t.bits;
    row["expected_bits"] = t.expected_bits;
    row["told"] = told(p, what_it_told(p, before, t));
    row["reasons"] = new_reasons(p, before, t.after);
    row["better"] = better_than(p, t);
    row["leading"] = ranked(p, t.after);
    row["truth"] = t.after.probability_of(p.visit.truth.id);
    steps.push_back(std::move(row));
  }
  const Believed& end = path.steps.empty() ? path.start : path.steps.back().after;
  return {{"steps", std::move(steps)},
          {"start", ranked(p, path.start)},
          {"truth_at_start", path.start.probability_of(p.visit.truth.id)},
          {"found", ranked(p, end)},
          {"enough", enough_json(p, path)},
          {"missed", missed_json(p, end)},
          {"state", state_json(path.end, p)},
          {"text", told(p, {path.end.opened ? "path_opened" : "path_closed",
                            {{"minutes", Unit::minutes, path.end.history.minutes},
                             {"count", Unit::count, static_cast<double>(path.steps.size())}},
                            {{"found", end.causes.front().cause},
                             {"probability", percent(p, end.causes.front().probability)}}})}};
}

json truth_json(const Practice& p) {
  json causes = json::array();
  std::string how;
  for (const practice::Fault& fault : p.visit.faults) {
    const auto info = std::find_if(p.knowledge->causes.begin(), p.knowledge->causes.end(),
                                   [&](const auto& c) { return c.id == fault.cause; });
    const std::string severity =
        p.wording.severity(info->measure, {fault.severity, fault.severity, fault.severity}, p.display);
    causes.push_back({{"cause", fault.cause},
                      {"label", p.wording.word("causes", fault.cause)},
                      {"severity", severity},
                      {"share", fault.share}});
    if (!severity.empty()) how += (how.empty() ? "" : "; ") + severity;
  }
  const std::string& id = p.visit.truth.id;
  return {{"cause", id},
          {"label", p.wording.cause(id)},
          {"causes", std::move(causes)},
          {"text", how.empty() ? told(p, {"was", {}, {{"truth", id}}})
                               : told(p, {"was_how", {}, {{"truth", id}, {"how", how}}})}};
}

json verdict_json(const Practice& p, const std::string& decision, const practice::Path& yours) {
  const Grade grade = practice::grade_of(p.visit.truth.id, decision);
  const Believed& end = yours.steps.empty() ? yours.start : yours.steps.back().after;
  const double stood = end.probability_of(decision);
  const char* key = grade == Grade::right ? (stood < kLeftOpen ? "knowable_luck" : "knowable_right")
                                          : (stood < kLeftOpen ? "knowable_against" : "knowable_misled");
  return {{"grade", practice::to_word(grade)},
          {"text", told(p, {"verdict_" + std::string(practice::to_word(grade)),
                            {},
                            {{"decision", decision}, {"truth", p.visit.truth.id}}})},
          {"knowable", told(p, {key,
                                {},
                                {{"decision", decision},
                                 {"probability", percent(p, stood)},
                                 {"leader", end.causes.front().cause},
                                 {"leader_probability", percent(p, end.causes.front().probability)}}})}};
}

json parting_json(const Practice& p, const practice::Path& yours, const practice::Path& best) {
  const auto at = practice::parting(yours);
  if (!at) {
    // Nothing cost much for what it told; a way can still be too short.
    const bool stopped = best.steps.size() > yours.steps.size() &&
                         practice::bits_between(yours.steps.empty() ? yours.start : yours.steps.back().after,
                                                best.steps.back().after) > kSome;
    return {{"step", nullptr}, {"text", told(p, {stopped ? "parting_early" : "parting_none", {}, {}})}};
  }
  const Told& t = yours.steps[*at];
  return {{"step", *at},
          {"text", told(p, {t.step.cost.opens && !t.better->opens_circuit ? "parting_opened" : "parting_at",
                            {{"count", Unit::count, static_cast<double>(*at + 1)},
                             {"own", Unit::minutes, t.step.cost.minutes},
                             {"minutes", Unit::minutes, t.better->minutes}},
                            {{"own_action", action_label(t.step.action, p.wording)},
                             {"action", label_of(p, t.better->subject)},
                             {"own_bits", bits_text(p, t.expected_bits)},
                             {"bits", bits_text(p, t.better->information_bits)}}})}};
}

json cost_json(const Practice& p, const std::string& decision) {
  if (practice::grade_of(p.visit.truth.id, decision) == Grade::right) return nullptr;
  const auto wrong = procedures::repair_needs(decision), real = procedures::repair_needs(p.visit.truth.id);
  std::vector<std::string> parts;
  for (const std::string& part : wrong.parts) parts.push_back(p.wording.word("bring_parts", part));
  const char* key = decision == "sound" ? "cost_nothing_done"
                    : parts.empty()     ? "cost_hours"
                    : wrong.opens       ? "cost_opened"
                                        : "cost_parts";
  return {{"hours", wrong.hours},
          {"hours_text", hours_text(wrong.hours, p.display)},
          {"parts", parts},
          {"opens_circuit", wrong.opens},
          {"text", told(p, {key,
                            {},
                            {{"decision", decision},
                             {"truth", p.visit.truth.id},
                             {"hours", hours_text(wrong.hours, p.display)},
                             {"parts", parts.empty() ? "" : p.wording.listed(parts, "and")},
                             {"real_hours", hours_text(real.hours, p.display)}}})}};
}

json sign_json(const Practice& p, const diagnosis::Hypothesis& decision, const practice::Walk& walk) {
  if (practice::grade_of(p.visit.truth.id, decision.id) == Grade::right) return nullptr;
  const auto sign = practice::sign_between(p.visit, decision, walk);
  if (!sign) return {{"action", nullptr}, {"text", told(p, {"sign_none", {}, {{"decision", decision.id}}})}};
  const auto text = [&](const std::optional<double>& value, const std::string& seen) {
    if (!value) return p.wording.word("values", seen);
    practice::Step step;
    step.action = sign->action;
    step.value = value;
    return shown_by(step, p.wording, p.display);
  };
  return {{"action", sign->action.id},
          {"text", told(p, {sign->taken ? "sign_taken" : "sign_missed",
                            {{"minutes", Unit::minutes, sign->cost.minutes}},
                            {{"action", action_label(sign->action, p.wording)},
                             {"decision", decision.id},
                             {"truth", p.visit.truth.id},
                             {"wrong", text(sign->with_decision, sign->seen_with_decision)},
                             {"right", text(sign->with_truth, sign->seen_with_truth)}}})}};
}

json lesson_json(const Practice& p, double box) {
  const practice::Lesson lesson = practice::lesson_of(p.visit, box);
  const std::string& truth = p.visit.truth.id;
  json out = json::array();
  const auto say = [&](Statement said) { out.push_back(told(p, said)); };
  if (lesson.mode == diagnosis::Mode::off) {
    say({"remember_off", {}, {{"truth", truth}}});
  } else if (lesson.mode == diagnosis::Mode::locked) {
    say({"remember_locked", {}, {{"truth", truth}}});
  } else if (lesson.mode == diagnosis::Mode::tripped) {
    say({"remember_tripped", {}, {{"truth", truth}}});
  } else {
    const double share = lesson.capacity_share.value_or(1);
    const char* key = lesson.changes.empty() ? "remember_as_sound" : "remember_capacity";
    say({key, {{"share", Unit::percent, 100 * share}}, {{"truth", truth}}});
  }
  for (const practice::Change& c : lesson.changes)
    say({"change_" + c.quantity + (c.spreads > 0 ? "_up" : "_down"),
         {{"sound", c.unit, c.sound}, {"now", c.unit, c.now}},
         {}});
  if (p.visit.of_its_kind) say({"remember_kind", {}, {}});
  return out;
}

}  // namespace

Result<std::string> run_practice_debrief(std::string_view text, const Context& context) {
  std::vector<std::string> keys = practice_keys();
  keys.insert(keys.end(), {"decision", "population"});
  auto request = Request::read(text, keys);
  if (!request) return request.problem();
  const std::string decided =
      request->required_text("decision", "a cause, such as low_charge, or two joined by +");
  const auto population = request->whole("population", 10, 1000);
  if (request->problem()) return *request->problem();
  const auto p = practice_of(*request, context);
  if (!p) return p.problem();
  const auto decision = practice::decision_named(decided, p->visit);
  if (!decision) return decision.problem();

  practice::Drawing drawing;
  if (population) drawing.population = static_cast<int>(*population);
  const double share = static_cast<double>(p->actions.size()) + 1, all = share + 8;
  const auto part = [&](double from, double to) {
    return [&context, from, to](double x) {
      return !context.progress || context.progress(from + (to - from) * x);
    };
  };
  drawing.progress = part(0, share / all);
  const auto yours = practice::path_of(p->visit, p->actions, drawing);
  if (!yours) return yours.problem();
  drawing.progress = part(share / all, 1);
  const auto best = practice::best_path(p->visit, yours->start, drawing);
  if (!best) return best.problem();

  json out = practice_heading(*p);
  out["decision"] = {{"cause", decision->id}, {"label", p->wording.cause(decision->id)}};
  out["verdict"] = verdict_json(*p, decision->id, *yours);
  out["truth"] = truth_json(*p);
  out["yours"] = path_json(*p, *yours);
  out["best"] = path_json(*p, *best);
  out["parting"] = parting_json(*p, *yours, *best);
  out["cost"] = cost_json(*p, decision->id);
  out["sign"] = sign_json(*p, *decision, yours->end);
  out["remember"] = lesson_json(*p, yours->end.box);
  return calls::dump(out);
}

}  // namespace coldwright::service

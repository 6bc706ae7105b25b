#include "service/practice_parts.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/cautions.hpp"
#include "service/finely.hpp"
#include "service/knowledge_loader.hpp"
#include "service/practice_records.hpp"
#include "service/property_answer.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/shown_json.hpp"

namespace coldwright::service {
namespace {

using diagnosis::Unit;
using nlohmann::json;

constexpr double kOpenEnd = 1e5;  // ohm; a meter shows no end above it
constexpr std::uint64_t kLargestSeed = (std::uint64_t{1} << 53) - 1;

Result<std::shared_ptr<const circuit::WorkingFluid>> fluid_of(const std::string& refrigerant) {
  const auto fluid = load_fluid(refrigerant);
  if (!fluid) return fluid.problem();
  auto working = circuit::WorkingFluid::make(*fluid);
  if (!working) return working.problem();
  return std::make_shared<const circuit::WorkingFluid>(std::move(*working));
}

Result<practice::Visit> drawn(Request& request, practice::Level level,
                              const diagnosis::Knowledge& knowledge) {
  const auto seed = request.whole("seed", 0, kLargestSeed);
  const auto asked = request.text("cabinet");
  if (request.problem()) return *request.problem();
  if (!seed)
    return Problem{"seed", "nothing", "a whole number: each draws another machine",
                   "the same number gives the same call again"};
  const std::string kind = asked.value_or(practice::kind_drawn(*seed, level, knowledge));
  const auto found = std::find_if(knowledge.archetypes.begin(), knowledge.archetypes.end(),
                                  [&](const auto& a) { return a.id == kind; });
  const auto fluid = fluid_of(found == knowledge.archetypes.end() ? "R290" : found->refrigerant);
  if (!fluid) return fluid.problem();
  return practice::draw_visit(*seed, level, kind, *fluid, knowledge);
}

Result<practice::Visit> recorded(const std::string& id, const diagnosis::Knowledge& knowledge) {
  const auto record = practice_record(id);
  if (!record) return record.problem();
  const auto fluid = fluid_of(record->refrigerant);
  if (!fluid) return fluid.problem();
  return practice::recorded_visit(*record, *fluid, knowledge);
}

Result<practice::Visit> visit_of(Request& request, const diagnosis::Knowledge& knowledge, std::string& id) {
  const auto wanted = request.text("recorded");
  const auto level_word = request.text("level");
  if (request.problem()) return *request.problem();
  if (wanted) {
    for (const char* key : {"seed", "level", "cabinet"})
      if (request.has(key))
        return Problem{key, "beside \"recorded\"", "one of them alone", "a recorded call has its own"};
    id = *wanted;
    return recorded(*wanted, knowledge);
  }
  const auto level = practice::level_from(level_word.value_or("first"));
  if (!level)
    return Problem{"level", base::quoted(*level_word), "first, working_day or hard", "no such level"};
  return drawn(request, *level, knowledge);
}

std::optional<Problem> read_actions(const Request& request, const diagnosis::Knowledge& knowledge,
                                    std::vector<practice::Action>& out) {
  const json* list = request.find("actions");
  if (list == nullptr) return std::nullopt;
  const Problem shape{"actions", base::quoted(calls::dump(*list), 40),
                      "a list such as [\"condenser_face\", \"compressor_current\"]",
                      "each is one thing done, in its order"};
  if (!list->is_array()) return shape;
  for (const json& node : *list) {
    if (!node.is_string()) return shape;
    auto action = practice::action_named(node.get<std::string>(), knowledge);
    if (!action) return action.problem();
    out.push_back(std::move(*action));
  }
  return std::nullopt;
}

std::string_view hazard_of(const practice::Action& action) {
  if (action.reading) return circuit::info(*action.reading).hazard;
  return action.look == nullptr ? std::string_view() : std::string_view(action.look->hazard);
}

const char* kind_of(const practice::Action& action) {
  return action.reading ? "reading" : action.look != nullptr ? "look" : "wait";
}

}  // namespace

const std::vector<std::string>& practice_keys() {
  static const std::vector<std::string> keys{"seed", "level", "cabinet", "recorded", "actions", "units"};
  return keys;
}

Result<Practice> practice_of(Request& request, const Context& context) {
  const auto units = request.units();
  if (request.problem()) return *request.problem();
  auto loaded = load_knowledge();
  if (!loaded) return loaded.problem();
  auto knowledge = std::make_unique<const diagnosis::Knowledge>(std::move(*loaded));
  auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  std::string id;
  auto visit = visit_of(request, *knowledge, id);
  if (!visit) return visit.problem();
  std::vector<practice::Action> actions;
  if (auto problem = read_actions(request, *knowledge, actions)) return *problem;
  const base::Display display{choose_units(units, std::nullopt, context),
                              base::SitePressure{visit->site_pressure}, wording->numerals()};
  return Practice{std::move(knowledge), std::move(*wording), display,
                  std::move(*visit),    std::move(actions),  std::move(id)};
}

Result<practice::Walk> walked(const Practice& p) {
  practice::Walk walk = practice::arrive(p.visit);
  for (const practice::Action& action : p.actions) {
    auto next = practice::advance(std::move(walk), p.visit, action);
    if (!next) return next.problem();
    walk = std::move(*next);
  }
  return walk;
}

std::string action_label(const practice::Action& action, const Wording& wording) {
  if (action.waits()) return wording.word("practice", "wait");
  return wording.word(action.reading ? "readings" : "subjects", action.id);
}

std::string shown_by(const practice::Step& step, const Wording& wording, const base::Display& display) {
  if (step.action.waits()) return wording.word("practice", "waited");
  if (step.action.look != nullptr) return wording.word("values", step.seen);
  const bool open = unit_of(*step.action.reading) == Unit::resistance && step.value.value_or(0) > kOpenEnd;
  return open ? "OL" : shown(unit_of(*step.action.reading), *step.value, display).text();
}

std::string minutes_text(double minutes, const base::Display& display) {
  return base::number_text(minutes, 0, display.numerals) + std::string(display.numerals.gap) + "min";
}

std::string hours_text(double hours, const base::Display& display) {
  if (hours < 1) return minutes_text(hours * 60, display);
  const bool whole = std::abs(hours - std::round(hours)) < 0.05;
  return base::number_text(hours, whole ? 0 : 1, display.numerals) + std::string(display.numerals.gap) + "h";
}

json told(const Practice& p, const diagnosis::Statement& said) {
  return statement("practice", said, p.wording, p.display);
}

json step_json(const practice::Step& step, const Practice& p) {
  json remarks = json::array();
  if (step.minutes_running && !step.cost.stops)
    remarks.push_back(told(p, {"running_for", {{"minutes", Unit::minutes, *step.minutes_running}}, {}}));
  if (step.cost.opens)
    remarks.push_back(told(p, {"opened_now",
                               {{"minutes", Unit::minutes, practice::kOpeningMinutes},
                                {"mass", Unit::mass, step.cost.grams / 1000}},
                               {}}));
  if (step.cost.stops) remarks.push_back(told(p, {"restarted", {}, {}}));
  return {{"action", step.action.id},
          {"kind", kind_of(step.action)},
          {"label", action_label(step.action, p.wording)},
          {"shown", shown_by(step, p.wording, p.display)},
          {"remarks", std::move(remarks)},
          {"minutes", quantity(Unit::minutes, step.cost.minutes, p.display)},
          {"minutes_used", quantity(Unit::minutes, step.minutes_used, p.display)},
          {"opens_circuit", step.cost.opens},
          {"box", quantity(Unit::temperature, step.box, p.display)}};
}

json offers_json(const practice::Walk& walk, const Practice& p) {
  json out = json::array();
  for (const practice::Action& action : practice::actions(*p.knowledge)) {
    const practice::Cost cost = practice::cost_of(walk, action);
    const std::string_view hazard = hazard_of(action);
    const auto same = [&](const practice::Step& s) { return s.action.id == action.id; };
    const auto last = std::find_if(walk.steps.rbegin(), walk.steps.rend(), same);
    out.push_back(
        {{"action", action.id},
         {"kind", kind_of(action)},
         {"label", action_label(action, p.wording)},
         {"minutes", quantity(Unit::minutes, cost.minutes, p.display)},
         {"grams_lost", cost.grams},
         {"opens_circuit", cost.opens},
         {"stops_machine", cost.stops},
         {"hazard", hazard},
         {"hazard_text", hazard.empty() ? json("") : json(p.wording.word("hazards", hazard))},
         {"shown", last == walk.steps.rend() ? json(nullptr) : json(shown_by(*last, p.wording, p.display))}});
  }
  return out;
}

json state_json(const practice::Walk& walk, const Practice& p) {
  return {{"minutes", quantity(Unit::minutes, walk.history.minutes, p.display)},
          {"opened", walk.opened},
          {"lost", quantity(Unit::mass, walk.grams / 1000, p.display)},
          {"box", quantity(Unit::temperature, walk.box, p.display)}};
}

json practice_heading(const Practice& p) {
  json out = {{"about", about(p.visit.seed, {"our-estimate", "common-practice", "mackay2003"})},
              {"level", practice::to_word(p.visit.level)},
              {"recorded", p.recorded.empty() ? json(nullptr) : json(p.recorded)}};
  if (!p.recorded.empty()) out["about"].erase("seed");
  out["cautions"] =
      statements("cautions", call_cautions(p.visit.refrigerant, false, {{"caution_stay_closed", {}, {}}}),
                 p.wording, p.display);
  return out;
}

}  // namespace coldwright::service

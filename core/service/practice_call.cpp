// Use cases "practice_call" and "practice_step": a call with a hidden fault as the person at the door sees
// it, and what each look and reading shows. Nothing here tells what is wrong.
#include <array>

#include "calls/strict_json.hpp"
#include "service/practice_parts.hpp"
#include "service/practice_records.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"
#include "service/vocabulary.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Unit;
using nlohmann::json;

// Who called and what they say has nothing to do with what is wrong: drawn apart from it.
constexpr std::array kPlaces{"bakery", "fish_hall", "school_kitchen", "clinic", "kiosk"};
constexpr std::array kSaid{"said_warm", "said_noon", "said_since", "said_again", "said_soft"};

template <std::size_t N>
const char* one_of(const std::array<const char*, N>& words, RandomStream random) {
  return words[static_cast<std::size_t>(random.uniform() * static_cast<double>(N))];
}

json customer(const Practice& p) {
  const RandomStream random =
      RandomStream(p.visit.seed).fork(9000 + static_cast<std::uint64_t>(p.visit.level));
  const char* place = one_of(kPlaces, random.fork(1));
  const char* said = one_of(kSaid, random.fork(2));
  return {{"place", p.wording.word("practice", place)}, {"said", p.wording.word("practice", said)}};
}

json plate(const Practice& p) {
  const circuit::Nameplate& n = p.visit.plate;
  return {{"cabinet", word_row(p.wording, "cabinets", p.visit.kind.id)},
          {"refrigerant", p.visit.refrigerant},
          {"charge", quantity(Dimension::mass, *n.charge, p.display)},
          {"rated_current", quantity(Dimension::current, *n.rated_current, p.display)},
          {"rated_voltage", quantity(Dimension::voltage, *n.rated_voltage, p.display)},
          {"set_point", quantity(Dimension::temperature, *n.set_point, p.display)}};
}

json walking_in(const Practice& p, const practice::Walk& door) {
  return json::array({told(p, {"arrive_box",
                               {{"box", Unit::temperature, door.box},
                                {"set_point", Unit::temperature, *p.visit.plate.set_point}},
                               {}}),
                      told(p, {"arrive_room", {{"ambient", Unit::temperature, *door.the_case.ambient}}, {}}),
                      told(p, {p.recorded.empty() ? "invented" : "invented_recorded", {}, {}})});
}

json causes(const Practice& p) {
  json out = json::array();
  for (const diagnosis::Hypothesis& h : diagnosis::hypotheses(*p.knowledge, p.visit.kind.condenser))
    if (h.causes.size() == 1) out.push_back(word_row(p.wording, "causes", h.id));
  return out;
}

}  // namespace

Result<std::string> run_practice_call(std::string_view text, const Context& context) {
  std::vector<std::string> keys = practice_keys();
  std::erase(keys, "actions");
  auto request = Request::read(text, keys);
  if (!request) return request.problem();
  const auto p = practice_of(*request, context);
  if (!p) return p.problem();
  const practice::Walk door = practice::arrive(p->visit);
  json out = practice_heading(*p);
  out["customer"] = customer(*p);
  out["plate"] = plate(*p);
  out["walking_in"] = walking_in(*p, door);
  out["state"] = state_json(door, *p);
  out["offers"] = offers_json(door, *p);
  out["causes"] = causes(*p);
  out["recorded_calls"] = practice_record_ids();
  return calls::dump(out);
}

Result<std::string> run_practice_step(std::string_view text, const Context& context) {
  std::vector<std::string> keys = practice_keys();
  keys.emplace_back("decision");
  auto request = Request::read(text, keys);
  if (!request) return request.problem();
  if (request->has("decision"))
    return Problem{"decision", "a decision beside further steps", "practice_debrief",
                   "once decided, a practice call takes no more steps"};
  const auto p = practice_of(*request, context);
  if (!p) return p.problem();
  const auto walk = walked(*p);
  if (!walk) return walk.problem();
  json out = practice_heading(*p);
  out["steps"] = json::array();
  for (const practice::Step& step : walk->steps) out["steps"].push_back(step_json(step, *p));
  out["state"] = state_json(*walk, *p);
  out["offers"] = offers_json(*walk, *p);
  return calls::dump(out);
}

}  // namespace coldwright::service

#include "practice/walk.hpp"

#include <algorithm>
#include <cmath>

#include "diagnosis/evidence.hpp"

namespace coldwright::practice {
namespace {

using circuit::QuantityKind;
using circuit::ReadingKind;

constexpr double kProbe = 0.3;    // K, of the thermometers for box and ambient
constexpr double kConnected = 1;  // min for a gauge that hangs there already
constexpr double kLargest = 2.5;  // an error is cut off there, in standard deviations
constexpr double kOpenEnd = 1e5;  // ohm; above it a meter shows an open winding
constexpr std::uint64_t kErrors = 77;

/// How an instrument of this level errs, as a share of the usual.
double skill(Level level) { return level == Level::first ? 0.5 : level == Level::hard ? 1.3 : 1; }

RandomStream errors(const Visit& v, std::string_view id, std::size_t occasion) {
  return RandomStream(v.seed)
      .fork(kErrors + static_cast<std::uint64_t>(v.level))
      .fork(label_of(id))
      .fork(occasion);
}

double cut(double z) { return std::clamp(z, -kLargest, kLargest); }

bool switched_off_for(ReadingKind kind) {
  return kind == ReadingKind::standing_pressure || kind == ReadingKind::run_winding_ohms ||
         kind == ReadingKind::start_winding_ohms;
}

std::size_t times(const Walk& walk, std::string_view id) {
  return static_cast<std::size_t>(
      std::count_if(walk.steps.begin(), walk.steps.end(), [&](const Step& s) { return s.action.id == id; }));
}

double read_off(const Visit& v, const Moment& m, ReadingKind kind, RandomStream random) {
  const double true_value = m.sim.readings[static_cast<std::size_t>(kind)];
  const diagnosis::Reading r{kind, true_value, std::nullopt, std::nullopt, ""};
  const double off =
      skill(v.level) * cut(random.normal()) * diagnosis::uncertainty(r, v.site_pressure, 0).instrument;
  switch (circuit::info(kind).quantity) {
    case QuantityKind::resistance:
      return true_value > kOpenEnd ? true_value : true_value * std::exp(0.3 * off);
    case QuantityKind::pressure:
      return std::max(true_value + off, 500.0);
    case QuantityKind::current:
    case QuantityKind::voltage:
      return true_value < 1e-3 ? 0 : std::max(true_value + off, 0.0);
    case QuantityKind::temperature:
      return true_value + off;
  }
  return true_value;
}

std::string seen(const Visit& v, const Moment& m, const diagnosis::ObservationModel& model,
                 RandomStream random) {
  for (const auto& [subject, value] : m.seen)
    if (subject == model.subject) return value;
  const auto chance = [&](std::size_t i) {
    return diagnosis::observation_probability(model, i, v.truth, *v.knowledge, m.sim);
  };
  std::size_t likeliest = 0;
  double total = 0;
  for (std::size_t i = 0; i < model.values.size(); ++i) {
    total += chance(i);
    if (chance(i) > chance(likeliest)) likeliest = i;
  }
  if (v.level == Level::first) return model.values[likeliest];
  double left = random.uniform() * total;
  for (std::size_t i = 0; i < model.values.size(); ++i)
    if ((left -= chance(i)) <= 0) return model.values[i];
  return model.values[likeliest];
}

double box_shown(const Visit& v, double box, std::size_t step) {
  return box + kProbe * cut(errors(v, "box", step).normal());
}

template <class List, class Same, class Item>
void put(List& list, Same same, Item item) {
  const auto old = std::find_if(list.begin(), list.end(), same);
  if (old == list.end())
    list.push_back(std::move(item));
  else
    *old = std::move(item);  // the later one stands
}

}  // namespace

std::uint64_t label_of(std::string_view id) {
  std::uint64_t hash = 14695981039346656037u;  // FNV-1a
  for (const char c : id) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211u;
  return hash;
}

std::vector<Action> actions(const diagnosis::Knowledge& knowledge) {
  std::vector<Action> all;
  for (const circuit::ReadingInfo& row : circuit::reading_table())
    all.push_back({std::string(row.id), row.kind, nullptr});
  for (const diagnosis::ObservationModel& model : knowledge.observations)
    if (model.subject != "complaint") all.push_back({model.subject, std::nullopt, &model});
  all.push_back({"wait", std::nullopt, nullptr});
  return all;
}

Result<Action> action_named(std::string_view id, const diagnosis::Knowledge& knowledge) {
  std::string names;
  for (const Action& action : actions(knowledge)) {
    if (action.id == id) return action;
    names += (names.empty() ? "" : ", ") + action.id;
  }
  return Problem{"actions", "\"" + std::string(id.substr(0, 40)) + "\"", names,
                 "there is no such thing to do on a practice call"};
}

Walk arrive(const Visit& v) {
  Walk w;
  w.box = box_shown(v, v.box, 0);
  w.the_case.nameplate = v.plate;
  w.the_case.ambient = v.ambient + kProbe * cut(errors(v, "ambient", 0).normal());
  w.the_case.box = w.box;
  w.the_case.site_pressure = v.site_pressure;
  w.the_case.observations.push_back({"complaint", "not_cooling", "complaint"});
  return w;
}

Cost cost_of(const Walk& walk, const Action& action) {
  if (action.waits()) return {kWaitMinutes, 0, false, false};
  if (action.look != nullptr) return {action.look->minutes, 0, false, false};
  const circuit::ReadingInfo& row = circuit::info(*action.reading);
  const bool connected = row.opens_circuit && !switched_off_for(row.kind) && times(walk, action.id) > 0;
  if (connected) return {kConnected, 0, false, false};
  return {row.minutes, row.grams_lost, row.opens_circuit, switched_off_for(row.kind)};
}

Result<Walk> advance(Walk w, const Visit& v, const Action& action) {
  const Cost cost = cost_of(w, action);
  if (static_cast<int>(w.steps.size()) >= kMostSteps || w.history.minutes + cost.minutes > kLongestVisit)
    return Problem{"actions", std::to_string(w.steps.size() + 1) + " steps",
                   "at most 60 steps and five hours, then a decision", "nobody stays longer"};
  Step step{action, cost, w.history.minutes + cost.minutes, 0, std::nullopt, "", std::nullopt};
  if (cost.stops) w.history.off.emplace_back(w.history.minutes, step.minutes_used);
  w.history.minutes = step.minutes_used;
  const std::size_t occasion = times(w, action.id);
  const Moment now = v.at(w.history);
  step.box = w.box = box_shown(v, now.sim.true_box, w.steps.size() + 1);
  step.minutes_running = now.minutes_running;
  w.the_case.box = step.box;
  if (action.reading) {
    const ReadingKind kind = *action.reading;
    step.value = read_off(v, now, kind, errors(v, action.id, occasion));
    put(
        w.the_case.readings, [&](const diagnosis::Reading& r) { return r.kind == kind; },
        diagnosis::Reading{kind, *step.value, std::nullopt, cost.stops ? std::nullopt : now.minutes_running,
                           action.id});
  } else if (action.look != nullptr) {
    step.seen = seen(v, now, *action.look, errors(v, action.id, 0));
    put(
        w.the_case.observations, [&](const diagnosis::Observation& o) { return o.subject == action.id; },
        diagnosis::Observation{action.id, step.seen, action.id});
  }
  w.history.let_out += cost.grams / 1000;
  w.grams += cost.grams;
  w.opened |= cost.opens;
  w.steps.push_back(std::move(step));
  return w;
}

}  // namespace coldwright::practice

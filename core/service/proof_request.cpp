#include "service/proof_request.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/from_call.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/tool_parts.hpp"

namespace coldwright::service {
namespace {

using circuit::ReadingKind;
using nlohmann::json;

constexpr double kSameMoment = 15 * 60;  // s, our estimate

const std::vector<std::string>& call_plate_keys() {
  static const std::vector<std::string> keys{"cabinet",       "refrigerant", "charge",    "rated_current",
                                             "rated_voltage", "set_point",   "condenser", "maker",
                                             "model",         "serial"};
  return keys;
}

std::vector<std::string> request_keys() {
  std::vector<std::string> keys = call_plate_keys();
  for (const char* key : {"call", "t", "box", "altitude", "barometer", "product", "readings", "memory",
                          "seed", "population", "units"})
    keys.emplace_back(key);
  return keys;
}

// The call, or one made of the plain keys, so that both go the same way. Plate keys asked for beside a call
// are one more nameplate entry of it: where they contradict its plate, folding says so.
Result<calls::Call> call_of(const Request& request, const json& asked) {
  const json* given = request.find("call");
  json plate = {{"kind", "nameplate"}}, site = {{"kind", "site"}};
  for (const std::string& key : call_plate_keys())
    if (const json* value = request.find(key); value != nullptr && (given == nullptr || asked.contains(key)))
      if (given == nullptr || key != "set_point") plate[key] = *value;
  if (given != nullptr) {
    json call = *given;
    if (plate.size() > 1 && call.is_object() && call.contains("entries")) call["entries"].push_back(plate);
    return calls::read_call(calls::dump(call));
  }
  for (const char* key : {"box", "altitude", "barometer"})
    if (const json* value = request.find(key)) site[key] = *value;
  if (const json* value = request.find("t")) site["ambient"] = *value;
  json call = {{"call", "proof"}, {"entries", json::array({plate})}};
  if (site.size() > 1) call["entries"].push_back(site);
  return calls::read_call(calls::dump(call));
}

// The moment from which the machine counts as repaired; none when nothing was done to it. `known` is false
// when something was and nobody noted when.
struct Repaired {
  bool done = false, known = true;
  std::optional<calls::Instant> at;
};
Repaired repaired_at(const calls::Repair& repair) {
  Repaired out;
  const auto take = [&](const auto& entries) {
    for (const auto& entry : entries) {
      out.done = true;
      if (!entry.at) out.known = false;
      if (entry.at && (!out.at || *entry.at > *out.at)) out.at = entry.at;
    }
  };
  take(repair.parts);
  take(repair.work);
  take(repair.moved);
  return out;
}

std::optional<calls::Instant> first_proof_reading(const calls::Repair& repair, int run) {
  for (const auto& entry : repair.test_readings)
    if (entry.body.procedure == "proof" && entry.body.run == run && entry.at) return entry.at;
  return std::nullopt;
}

// Leaves what was read and seen on the machine as it was left: after the repair, or where nothing was noted
// of one and a proof was run, since the proof began.
void keep_what_came_after(ProofRequest& r, const calls::Call& call, int run) {
  diagnosis::Case& c = r.question.final_state;
  std::erase_if(c.observations, [](const auto& o) { return o.subject == "complaint"; });
  const Repaired repaired = repaired_at(r.repair);
  const auto since = repaired.done ? repaired.at : first_proof_reading(r.repair, run);
  if (!repaired.done && !since && r.readings.empty())
    return;  // a machine that was looked at and left as it was
  const auto later = [&](const std::string& id) {
    const auto entry =
        std::find_if(call.entries.begin(), call.entries.end(), [&](const auto& e) { return e.id == id; });
    if (entry == call.entries.end() || !repaired.known || !since) return false;
    return entry->at && *entry->at >= *since;
  };
  r.before_repair +=
      static_cast<int>(std::erase_if(c.readings, [&](const auto& reading) { return !later(reading.id); }));
  std::erase_if(c.observations, [&](const auto& o) { return !later(o.id); });
}

// The last of the proof's own readings that has a value stands for the moment.
void take_last(ProofRequest& r, ReadingKind kind, std::optional<double> TestReading::*value) {
  for (std::size_t i = r.readings.size(); i-- > 0;) {
    const TestReading& reading = r.readings[i];
    if (!(reading.*value)) continue;
    // Of a moment long before the last it says nothing of the last.
    if (r.readings.back().seconds - reading.seconds > kSameMoment) {
      ++r.too_old;
      return;
    }
    auto& readings = r.question.final_state.readings;
    std::erase_if(readings, [&](const auto& other) { return other.kind == kind; });
    readings.push_back(
        {kind, *(reading.*value), std::nullopt, reading.seconds / 60, "reading " + std::to_string(i + 1)});
    return;
  }
}

std::optional<Problem> take_readings(ProofRequest& r, double set_point) {
  diagnosis::Case& c = r.question.final_state;
  for (std::size_t i = 0; i < r.readings.size(); ++i) {
    const TestReading& reading = r.readings[i];
    const auto box = reading.box ? reading.box : reading.temperature;
    if (!box)
      return Problem{"reading " + std::to_string(i + 1) + ", box", "nothing",
                     "the box's temperature, such as 52 F", "the proof is read by it"};
    if (*box < 230 || *box > 330)
      return Problem{"reading " + std::to_string(i + 1) + ", box",
                     std::to_string(static_cast<int>(*box - 273.15)) + " C", "-43 to 57 C (-45 to 134 F)",
                     "no cabinet of this kind works there"};
    r.question.readings.push_back({reading.seconds - r.readings.front().seconds, *box});
  }
  if (r.readings.empty()) {
    if (!c.box)
      return Problem{"box", "nothing", "the box's temperature at the start, or \"readings\" of it",
                     "a pull-down begins somewhere"};
    r.question.readings.push_back({0, *c.box});
  } else {
    c.box = r.question.readings.back().box;
    take_last(r, ReadingKind::compressor_current, &TestReading::current);
    take_last(r, ReadingKind::suction_pressure, &TestReading::pressure);
  }
  if (r.question.readings.front().box <= set_point + 1 && r.question.readings.size() > 1)
    return Problem{"reading 1, box",
                   std::to_string(static_cast<int>(r.question.readings.front().box - 273.15)) + " C",
                   "a start more than a degree above the set point",
                   "a box that is there already shows nothing coming down"};
  return std::nullopt;
}

}  // namespace

int last_proof_run(const calls::Repair& repair) {
  int run = 1;
  for (const auto& entry : repair.test_readings)
    if (entry.body.procedure == "proof") run = std::max(run, entry.body.run);
  return run;
}

Result<ProofRequest> read_proof_request(std::string_view request_json, const Context& context) {
  auto request = opened_request(request_json, "proof", request_keys());
  if (!request) return request.problem();
  const bool of_call = request->has("call");
  const json asked =
      json::parse(request_json, nullptr, false);  // an object: opened() and read() have been through it
  auto call = call_of(*request, asked);
  if (!call) return call.problem();
  diagnosis::Options options;
  options.seed = request->whole("seed", 0, (std::uint64_t{1} << 53) - 1).value_or(options.seed);
  options.population = static_cast<int>(request->whole("population", 10, 100000).value_or(160));
  options.progress = context.progress;
  const auto units = request->units();
  const base::SitePressure site = request->site();
  std::optional<base::UnitSystem> spoken_in;
  const auto ambient = temperature(*request, "t", spoken_in);
  const auto set_point = temperature(*request, "set_point", spoken_in);
  const auto box = temperature(*request, "box", spoken_in);
  const auto product = positive(*request, "product", base::Dimension::mass, spoken_in);
  auto readings = test_readings(*request, site, {}, spoken_in);
  if (request->problem()) return *request->problem();

  auto knowledge = load_knowledge();
  if (!knowledge) return knowledge.problem();
  auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  auto folded = calls::fold(*call, vocabulary_of(*knowledge), calls::Instant{context.now_seconds, 0});
  if (!folded) return folded.problem();
  auto fluid = load_fluid(folded->refrigerant);
  if (!fluid) return fluid.problem();
  auto working = circuit::WorkingFluid::make(*fluid);
  if (!working) return working.problem();
  const base::Display display{units.value_or(folded->units), site, wording->numerals()};
  ProofRequest r{
      {std::move(*folded), std::move(*fluid), std::move(*knowledge), std::move(*wording), display, options},
      of_call ? identity_of(*call) : CallIdentity{},
      calls::repair_of(*call),
      std::make_shared<const circuit::WorkingFluid>(std::move(*working)),
      {},
      std::move(readings),
      0,
      0,
      std::nullopt};
  r.question.final_state = r.call.folded.the_case;
  diagnosis::Case& c = r.question.final_state;
  c.site_pressure = site.si;
  if (ambient) c.ambient = ambient;
  if (box) c.box = box;
  if (set_point) c.nameplate.set_point = set_point;
  r.question.product = product;
  if (!r.repair.causes_found.empty()) r.question.repaired_cause = r.repair.causes_found.back().body.cause;
  keep_what_came_after(r, *call, asked.value("run", 1));
  const auto kind = std::find_if(r.call.knowledge.archetypes.begin(), r.call.knowledge.archetypes.end(),
                                 [&](const auto& k) { return k.id == c.nameplate.archetype; });
  const double to =
      c.nameplate.set_point.value_or(kind == r.call.knowledge.archetypes.end() ? 276 : kind->set_point_K);
  if (auto problem = take_readings(r, to)) return *problem;
  if (const json* node = request->find("memory")) {
    const auto memory = read_memory(*node);
    if (!memory) return memory.problem();
    auto recalled = recall(*memory, of_call ? r.identity.unit : "", r.identity.model, c.nameplate,
                           r.identity.id, r.call.fluid, r.call.knowledge);
    if (!recalled) return recalled.problem();
    r.call.options.prior = recalled->prior;
    r.recalled = std::move(*recalled);
  }
  return r;
}

}  // namespace coldwright::service

#include "service/call_case.hpp"

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "fluids/fluid_data.hpp"
#include "service/call_identity.hpp"
#include "service/cautions.hpp"
#include "service/knowledge_loader.hpp"
#include "service/recall.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/shown_json.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

const std::vector<std::string> kCallKeys = {"call", "call_text", "seed", "population", "units", "memory"};

Result<calls::Call> requested_call(const Request& request) {
  const json* object = request.find("call");
  const json* text = request.find("call_text");
  if ((object == nullptr) == (text == nullptr))
    return Problem{"call", object == nullptr ? "nothing" : "\"call\" and \"call_text\" together",
                   "\"call\" with the call as an object, or \"call_text\" with the file's text",
                   "there has to be one call to answer"};
  if (object != nullptr) return calls::read_call(calls::dump(*object));
  const std::string* file = text->get_ptr<const std::string*>();
  if (file == nullptr)
    return Problem{"call_text", base::quoted(calls::dump(*text), 40), "the text of a call file",
                   "it isn't a text"};
  return calls::read_call(*file);
}

// What the memory tells of this call's unit becomes the prior, and the reader is told so.
std::optional<Problem> remember(const json& node, const calls::Call& call, const fluids::Fluid& fluid,
                                const diagnosis::Knowledge& knowledge, calls::Folded& folded,
                                diagnosis::Options& options) {
  const auto memory = read_memory(node);
  if (!memory) return memory.problem();
  const CallIdentity who = identity_of(call);
  const auto recalled =
      recall(*memory, who.unit, who.model, folded.the_case.nameplate, who.id, fluid, knowledge);
  if (!recalled) return recalled.problem();
  options.prior = recalled->prior;
  for (auto& said : recalled_remarks(*recalled)) folded.remarks.push_back(std::move(said));
  if (who.model.empty()) return std::nullopt;
  for (const ModelFailure& f : repeated_failures(*memory, knowledge, who.model))
    folded.remarks.push_back({f.is_part ? "memory_part_repeats" : "memory_cause_repeats",
                              {{"count", diagnosis::Unit::count, static_cast<double>(f.rate.failures)},
                               {"of", diagnosis::Unit::count, static_cast<double>(f.rate.of)},
                               {"usual", diagnosis::Unit::percent, 100 * f.rate.usual}},
                              {{f.is_part ? "part" : "cause", f.what}}});
  return std::nullopt;
}

}  // namespace

calls::Vocabulary vocabulary_of(const diagnosis::Knowledge& knowledge) {
  calls::Vocabulary words;
  for (const circuit::Archetype& cabinet : knowledge.archetypes)
    words.cabinets.push_back({cabinet.id, cabinet.refrigerant});
  for (const diagnosis::ObservationModel& row : knowledge.observations)
    words.subjects.push_back({row.subject, row.values});
  words.refrigerant_named = [](std::string_view name) -> Result<std::string> {
    const auto fluid = load_fluid(name);
    if (fluid) return fluid->designation();
    return fluid.problem();
  };
  return words;
}

Result<calls::Call> call_of(std::string_view request_json) {
  const auto request = Request::read(request_json, kCallKeys);
  if (!request) return request.problem();
  return requested_call(*request);
}

Result<CallCase> read_call_case(std::string_view request_json, const Context& context) {
  auto request = Request::read(request_json, kCallKeys);
  if (!request) return request.problem();
  diagnosis::Options options;
  options.seed = request->whole("seed", 0, (std::uint64_t{1} << 53) - 1).value_or(options.seed);
  options.population = static_cast<int>(
      request->whole("population", 10, 100000).value_or(static_cast<std::uint64_t>(options.population)));
  options.progress = context.progress;
  const auto units = request->units();
  if (request->problem()) return *request->problem();
  const auto call = requested_call(*request);
  if (!call) return call.problem();
  auto knowledge = load_knowledge();
  if (!knowledge) return knowledge.problem();
  auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  auto folded = calls::fold(*call, vocabulary_of(*knowledge), calls::Instant{context.now_seconds, 0});
  if (!folded) return folded.problem();
  auto fluid = load_fluid(folded->refrigerant);
  if (!fluid) return fluid.problem();
  if (const json* node = request->find("memory"))
    if (auto problem = remember(*node, *call, *fluid, *knowledge, *folded, options)) return *problem;
  const base::Display display{units.value_or(folded->units),
                              base::SitePressure{folded->the_case.site_pressure}, wording->numerals()};
  return CallCase{std::move(*folded),  std::move(*fluid), std::move(*knowledge),
                  std::move(*wording), display,           std::move(options)};
}

json call_heading(const CallCase& c, const std::vector<std::string>& sources,
                  const std::vector<diagnosis::Statement>& cautions) {
  std::vector<std::string> all = sources;
  all.push_back(c.fluid.data().equation_reference);
  const diagnosis::Case& the_case = c.folded.the_case;
  json out = {{"about", about(c.options.seed, all)}};
  json& call = out["call"];
  call = {{"name", c.folded.name},
          {"refrigerant", c.folded.refrigerant},
          {"cabinet", the_case.nameplate.archetype},
          {"cabinet_label", c.wording.word("cabinets", the_case.nameplate.archetype)},
          {"units", c.display.system == base::UnitSystem::us ? "us" : "metric"}};
  const auto known = safety_class(c.folded.refrigerant);
  call["safety_class"] = known ? json(*known) : json(nullptr);
  call["site_pressure"] = quantity(base::show_absolute(base::Pressure{the_case.site_pressure}, c.display),
                                   the_case.site_pressure);
  const auto optional = [&](const char* key, base::Dimension dimension, const std::optional<double>& value) {
    call[key] = value ? quantity(dimension, *value, c.display) : json(nullptr);
  };
  optional("ambient", base::Dimension::temperature, the_case.ambient);
  optional("box", base::Dimension::temperature, the_case.box);
  optional("charge", base::Dimension::mass, the_case.nameplate.charge);
  out["remarks"] = statements("statements", c.folded.remarks, c.wording, c.display);
  const bool assumed = !the_case.nameplate.refrigerant;
  out["cautions"] =
      statements("cautions", call_cautions(c.folded.refrigerant, assumed, cautions), c.wording, c.display);
  return out;
}

json quality_json(const diagnosis::Quality& quality, const Wording& wording, const base::Display& display) {
  return {{"effective_sample_size", quality.effective_sample_size},
          {"smallest_effective_size", quality.smallest_effective_size},
          {"solves", quality.solves},
          {"unsolved", quality.unsolved},
          {"refined_rounds", quality.refined_rounds},
          {"trustworthy", quality.trustworthy},
          {"remarks", statements("statements", quality.remarks, wording, display)}};
}

}  // namespace coldwright::service

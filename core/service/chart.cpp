// Use case "chart": a refrigerant's diagrams with a machine's cycle and readings, as SVG.
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "fluids/fluid_data.hpp"
#include "service/chart_parts.hpp"
#include "service/known_class.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

constexpr const char* kOfStates[] = {"refrigerant", "low",       "high",       "evaporating",
                                     "condensing",  "superheat", "subcooling", "efficiency",
                                     "points",      "altitude",  "barometer"};

drawing::Diagrams diagrams(Request& request) {
  const auto word = request.text("diagram");
  if (!word || *word == "both") return drawing::Diagrams::both;
  if (*word == "enthalpy") return drawing::Diagrams::enthalpy;
  if (*word == "temperature") return drawing::Diagrams::temperature;
  request.fail({"diagram", base::quoted(*word), "enthalpy, temperature or both",
                "pressure is drawn against one of them or each in turn"});
  return drawing::Diagrams::both;
}

Result<ChartParts> parts_of(Request& request, const Wording& wording, const Context& context) {
  if (!request.has("call") && !request.has("call_text")) {
    if (request.has("diagnosis"))
      return Problem{"diagnosis", "an answer without its call", "the call beside it",
                     "the call carries the refrigerant and the readings"};
    return chart_of_states(request, wording, context);
  }
  for (const char* key : kOfStates)
    if (request.has(key))
      return Problem{"call", std::string("a call beside ") + key, "one or the other",
                     "a call carries its refrigerant, its site and its readings itself"};
  return chart_of_call(request, wording, context);
}

json state_json(const char* place, const fluids::State& state, const ChartParts& parts,
                const Wording& wording) {
  json out = {{"place", place},
              {"label", wording.word("chart", place)},
              {"pressure", quantity(Dimension::pressure, state.p, parts.display, 1)},
              {"temperature", quantity(Dimension::temperature, state.T, parts.display, 1)},
              {"enthalpy", quantity(Dimension::specific_energy, state.h, parts.display)},
              {"entropy", quantity(Dimension::specific_entropy, state.s, parts.display)}};
  if (state.quality) out["quality"] = quantity(Dimension::quality, *state.quality, parts.display, 1);
  return out;
}

std::string_view role_word(drawing::Role role) {
  return role == drawing::Role::given ? "given" : role == drawing::Role::sound ? "sound" : "inferred";
}

std::string_view against_word(drawing::Against against) {
  switch (against) {
    case drawing::Against::within:
      return "within";
    case drawing::Against::above:
      return "above";
    case drawing::Against::below:
      return "below";
    case drawing::Against::unknown:
      break;
  }
  return "unknown";
}

json cycles_json(const ChartParts& parts, const Wording& wording) {
  json out = json::array();
  for (const drawing::DrawnCycle& drawn : parts.cycles) {
    json states = json::array();
    for (const auto& [place, state] : corners(drawn.cycle))
      states.push_back(state_json(place, *state, parts, wording));
    out.push_back({{"role", role_word(drawn.role)}, {"label", drawn.name}, {"states", std::move(states)}});
  }
  return out;
}

json points_json(const ChartParts& parts) {
  json out = json::array();
  for (const drawing::Mark& mark : parts.marks)
    out.push_back({{"label", mark.name},
                   {"pressure", quantity(Dimension::pressure, mark.at.p, parts.display, 1)},
                   {"temperature", quantity(Dimension::temperature, mark.at.T, parts.display, 1)},
                   {"enthalpy", mark.single ? quantity(Dimension::specific_energy, mark.at.h, parts.display)
                                            : json(nullptr)},
                   {"against_sound", against_word(mark.against)}});
  return out;
}

std::string subtitle(const ChartParts& parts, const KnownClass& known, const Wording& wording) {
  std::string out = parts.about_call.empty() ? "" : parts.about_call + ". ";
  if (!known.value.empty()) out += known.value + (known.recalled ? "*, " : ", ");
  std::string pressure = base::show_absolute(base::Pressure{parts.display.site.si}, parts.display).text();
  if (const std::size_t gap = pressure.find(' '); gap != std::string::npos)
    pressure.replace(gap, 1, "\u00A0");
  return out + wording.word("chart", "gauges_read_against") + " " + pressure;
}

}  // namespace

Result<std::string> run_chart(std::string_view text, const Context& context) {
  auto request =
      Request::read(text, {"refrigerant", "low", "high", "evaporating", "condensing", "superheat",
                           "subcooling", "efficiency", "points", "diagram", "altitude", "barometer", "units",
                           "call", "call_text", "seed", "population", "picture_width", "diagnosis"});
  if (!request) return request.problem();
  const drawing::Diagrams which = diagrams(*request);
  const auto picture_width = request->whole("picture_width", 220, 900);
  if (request->problem()) return *request->problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const auto catalogue = Catalogue::load();
  if (!catalogue) return catalogue.problem();
  auto parts = parts_of(*request, *wording, context);
  if (!parts) return parts.problem();

  const std::string& name = parts->fluid.designation();
  const KnownClass known = known_class(*catalogue, name);
  json answer = property_heading(parts->fluid, parts->display, parts->sources, *wording);
  answer["cycles"] = cycles_json(*parts, *wording);
  answer["points"] = points_json(*parts);
  answer["remarks"] = parts->notes;
  for (const json& caution : answer["cautions"]) parts->notes.push_back(caution["text"].get<std::string>());
  drawing::Chart chart{&parts->fluid,
                       parts->display,
                       [&](std::string_view key) { return wording->word("chart", key); },
                       wording->sentence("chart", {"title", {}, {{"refrigerant", name}}}, parts->display),
                       subtitle(*parts, known, *wording),
                       std::move(parts->cycles),
                       std::move(parts->marks),
                       std::move(parts->notes),
                       which,
                       picture_width ? std::optional<double>(*picture_width) : std::nullopt};
  answer["svg"] = drawing::draw(chart);
  return calls::dump(answer);
}

}  // namespace coldwright::service

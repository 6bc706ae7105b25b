// Use case "leak": what a leak does to a blend's composition and pressures, and what topping up gives.
#include "fluids/leak.hpp"

#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "fluids/blend.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

/// A share as "30 %" or "0.3"; none when not given.
std::optional<double> share_or_none(Request& request, std::string_view key, double highest) {
  const auto text = request.text(key);
  if (!text) return std::nullopt;
  const bool bare = !text->empty() && text->find_first_not_of("0123456789.") == std::string::npos;
  const auto spoken = base::parse_spoken(bare ? *text + " %" : *text, key, Dimension::quality);
  if (!spoken) {
    request.fail(spoken.problem());
    return std::nullopt;
  }
  const double value = bare ? spoken->si * 100 : spoken->si;
  if (value >= 0 && value <= highest) return value;
  request.fail({std::string(key), base::quoted(*text),
                "0 % to " + std::to_string(std::lround(100 * highest)) + " %",
                key == "lost" ? "it is the share of the charge that has gone"
                              : "it is the liquid's share of the volume"});
  return std::nullopt;
}

json composition(const std::vector<std::string>& names, const std::vector<double>& shares,
                 const base::Display& display) {
  json out = json::array();
  for (std::size_t k = 0; k < names.size(); ++k)
    out.push_back(
        {{"designation", names[k]}, {"share", quantity(Dimension::quality, shares[k], display, 1)}});
  return out;
}

Result<json> contents(const fluids::FluidData& blend, const std::vector<std::string>& names,
                      const std::vector<double>& shares, double T, const base::Display& display) {
  const auto lens = fluids::lens_pressures(blend, shares, T);
  if (!lens) return lens.problem();
  return json{{"composition", composition(names, shares, display)},
              {"bubble_pressure", quantity(Dimension::pressure, lens->bubble, display, 1)},
              {"dew_pressure", quantity(Dimension::pressure, lens->dew, display, 1)}};
}

Result<fluids::LeakQuestion> ask(Request& request, std::optional<base::UnitSystem>& spoken_in) {
  fluids::LeakQuestion out;
  const std::string from = request.text("from").value_or("vapour");
  if (from != "vapour" && from != "liquid")
    return Problem{"from", base::quoted(from), "vapour or liquid", "one of the two phases leaves"};
  out.from = from == "vapour" ? fluids::LeakFrom::vapour : fluids::LeakFrom::liquid;
  const auto temperature = base::parse_spoken(request.text("t").value_or("77F"), "t", Dimension::temperature);
  if (!temperature) return temperature.problem();
  if (request.has("t")) spoken_in = temperature->system;
  out.T = temperature->si;
  out.liquid_share = share_or_none(request, "liquid", 1).value_or(0.3);
  out.lost = share_or_none(request, "lost", fluids::most_lost).value_or(0.3);
  if (request.problem()) return *request.problem();
  return out;
}

}  // namespace

Result<std::string> run_leak(std::string_view text, const Context& context) {
  auto request =
      Request::read(text, {"refrigerant", "lost", "from", "t", "liquid", "altitude", "barometer", "units"});
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto question = ask(*request, spoken_in);
  if (!question) return question.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const auto course = fluids::leak(fluid->data(), *question);
  if (!course) return course.problem();

  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  const std::vector<std::string> names = fluids::component_designations(fluid->data());
  json answer = property_heading(*fluid, display, {}, *wording);
  answer["temperature"] = quantity(Dimension::temperature, question->T, display, 1);
  answer["from"] = question->from == fluids::LeakFrom::vapour ? "vapour" : "liquid";
  answer["lost"] = quantity(Dimension::quality, question->lost, display, 0);
  answer["liquid_at_start"] = quantity(Dimension::quality, question->liquid_share, display, 0);
  for (const auto& [key, shares] :
       {std::pair{"as_sold", &course->steps.front().left}, std::pair{"left", &course->steps.back().left},
        std::pair{"topped_up", &course->topped_up}}) {
    auto side = contents(fluid->data(), names, *shares, question->T, display);
    if (!side) return side.problem();
    answer[key] = std::move(*side);
  }
  json steps = json::array();
  for (const fluids::LeakStep& step : course->steps)
    steps.push_back({{"lost", quantity(Dimension::quality, step.lost, display, 1)},
                     {"pressure", quantity(Dimension::pressure, step.p, display, 1)},
                     {"left", composition(names, step.left, display)},
                     {"leaving", composition(names, step.leaving, display)},
                     {"liquid_left", step.liquid_left}});
  answer["steps"] = std::move(steps);
  return calls::dump(answer);
}

}  // namespace coldwright::service

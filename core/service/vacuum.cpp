// Use case "vacuum": the temperature at which water boils, or ice gives off vapour, at a vacuum, and back.
#include <nlohmann/json.hpp>

#include "calls/strict_json.hpp"
#include "procedures/water.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {

using base::Dimension;
using nlohmann::json;

Result<std::string> run_vacuum(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"pressure", "t", "wall", "altitude", "barometer", "units"});
  if (!request) return request.problem();
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  const auto p = pressure(*request, "pressure", site, spoken_in);
  const auto T = temperature(*request, "t", spoken_in);
  const auto wall = temperature(*request, "wall", spoken_in);
  if (request->problem()) return *request->problem();
  if (p.has_value() == T.has_value())
    return Problem{"pressure", p ? "a pressure beside a temperature" : "nothing",
                   "a vacuum such as 500 micron, or a temperature such as 40F", "each gives the other"};
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const auto there = p ? procedures::water_temperature(*p) : Result<double>(*T);
  if (!there) return there.problem();
  const auto balance = T ? procedures::water_pressure(*T) : Result<double>(*p);
  if (!balance) return balance.problem();

  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  const bool ice = *there < procedures::kTriplePoint;
  json answer = {{"about", about(std::nullopt, {"wagner1993", "wagner2011sublimation"})},
                 {"temperature", quantity(Dimension::temperature, *there, display, 1)},
                 {"pressure", json::array()},
                 {"form", ice ? "ice" : "liquid"},
                 {"wall", wall ? quantity(Dimension::temperature, *wall, display) : json()},
                 {"boils", wall ? json(*wall > *there) : json()},
                 {"statements", json::array()}};
  for (const base::Shown& shown : base::in_every_unit(Dimension::pressure, *balance, display))
    answer["pressure"].push_back(quantity(shown, *balance));
  const double micron = *balance / (101325.0 / 760000.0);
  const auto say = [&](const char* key, std::vector<std::pair<std::string, std::string>> words) {
    answer["statements"].push_back(statement("vacuum", {key, {}, std::move(words)}, *wording, display));
  };
  const std::pair<std::string, std::string> vacuum{
      "vacuum", base::number_text(micron, micron < 100 ? 1 : 0, display.numerals) +
                    std::string(display.numerals.gap) + "micron"};
  const auto t = word("t", Dimension::temperature, *there, display);
  say(ice ? "ice" : "liquid", {vacuum, t});
  if (wall)
    say(*wall > *there ? "wall_boils" : "wall_keeps",
        {word("wall", Dimension::temperature, *wall, display), vacuum, t});
  say("not_dry", {});
  return calls::dump(answer);
}

}  // namespace coldwright::service

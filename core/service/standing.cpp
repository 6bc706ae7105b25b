// Use case "standing": the pressure a machine at rest should stand at, and what a reading beside it says.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "calls/strict_json.hpp"
#include "procedures/standing_pressure.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"
#include "service/usual_tools.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

constexpr double kUsualSpread = 1.5;  // K between parts that stood a while, our estimate

}  // namespace

Result<std::string> run_standing(std::string_view text, const Context& context) {
  auto request =
      Request::read(text, {"refrigerant", "t", "spread", "pressure", "to", "altitude", "barometer", "units"});
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  if (request->problem()) return *request->problem();
  const auto T = temperature(*request, "t", spoken_in);
  const auto to = temperature(*request, "to", spoken_in);
  const auto read = pressure(*request, "pressure", site, spoken_in);
  const double spread =
      positive(*request, "spread", Dimension::temperature_difference, spoken_in).value_or(kUsualSpread);
  if (request->problem()) return *request->problem();
  if (!T)
    return Problem{"t", "nothing", "the temperature of the machine at rest, such as 77F",
                   "there is no answer without it"};
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const auto standing = procedures::standing_pressure(*fluid, *T, spread);
  if (!standing) return standing.problem();

  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  json answer = property_heading(*fluid, display, {"our-estimate"}, *wording);
  answer["temperature"] = quantity(Dimension::temperature, *T, display);
  answer["spread"] = quantity(Dimension::temperature_difference, spread, display);
  answer["expected"] =
      interval(diagnosis::Unit::pressure,
               diagnosis::Interval{standing->low, standing->expected, standing->high}, *wording, display);
  answer["statements"] = json::array();
  const auto say = [&](const char* key, std::vector<std::pair<std::string, std::string>> words) {
    answer["statements"].push_back(statement("standing", {key, {}, std::move(words)}, *wording, display));
  };
  const auto p_word = [&](const char* name, double p) { return word(name, Dimension::pressure, p, display); };
  say("expected", {p_word("low", standing->low), p_word("high", standing->high),
                   word("t", Dimension::temperature, *T, display)});
  answer["reading"] = nullptr;
  answer["moved"] = nullptr;
  if (read) {
    const double gauge = 2 * std::max(kGaugeShare * *read, kGaugeLeast) / std::sqrt(3.0);
    const bool above = *read - gauge > standing->high, below = *read + gauge < standing->low;
    const auto there = fluid->dew_temperature(*read);
    answer["reading"] = {
        {"pressure", quantity(Dimension::pressure, *read, display)},
        {"stands", above   ? "above"
                   : below ? "below"
                           : "within"},
        {"saturation", there ? quantity(Dimension::temperature, *there, display) : json()},
        {"excess", quantity(Dimension::pressure_difference, *read - standing->expected, display)}};
    say(above   ? "above"
        : below ? "below"
                : "within",
        {p_word("pressure", *read),
         word("excess", Dimension::pressure_difference, std::abs(*read - standing->expected), display)});
  }
  if (to) {
    const auto moved =
        procedures::standing_pressure_moved(*fluid, read.value_or(standing->expected), *T, *to);
    if (!moved) return moved.problem();
    answer["moved"] = {{"temperature", quantity(Dimension::temperature, *to, display)},
                       {"liquid", quantity(Dimension::pressure, moved->liquid, display)},
                       {"gas", quantity(Dimension::pressure, moved->gas, display)}};
    say("moved", {word("t", Dimension::temperature, *to, display), p_word("liquid", moved->liquid),
                  p_word("gas", moved->gas)});
  }
  say("oil", {});
  return calls::dump(answer);
}

}  // namespace coldwright::service

// Use case "superheat": superheat from suction pressure and line temperature, subcooling from head pressure
// and liquid line temperature, each with what the instruments leave open.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "calls/strict_json.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/tool_parts.hpp"
#include "service/use_case_runs.hpp"
#include "service/usual_tools.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

// A gauge within 1 % or one psi, a clamp within 2 K, taken as limits either way [jcgm100, 4.3.7] (our
// estimate, as for the readings of a call).
constexpr double kClamp = 2;

struct Side {
  double saturation, difference, sigma;  // K
};

// `sign` +1: line above the dew point is superheat; -1: below the bubble point is subcooling.
Result<Side> side(const fluids::Fluid& fluid, double p, double T, int sign) {
  const auto at = [&](double x) { return sign > 0 ? fluid.dew_temperature(x) : fluid.bubble_temperature(x); };
  const auto here = at(p), near = at(p * 0.999);
  if (!here) return here.problem();
  if (!near) return near.problem();
  const double gauge = std::max(kGaugeShare * p, kGaugeLeast) / std::sqrt(3.0);
  const double slope = (*here - *near) / (0.001 * p);
  return Side{*here, sign * (T - *here), std::hypot(kClamp / std::sqrt(3.0), slope * gauge)};
}

}  // namespace

Result<std::string> run_superheat(std::string_view text, const Context& context) {
  auto request =
      Request::read(text, {"refrigerant", "suction_pressure", "suction_temperature", "head_pressure",
                           "liquid_temperature", "altitude", "barometer", "units"});
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  std::optional<base::UnitSystem> spoken_in;
  const auto p_low = pressure(*request, "suction_pressure", site, spoken_in);
  const auto t_low = temperature(*request, "suction_temperature", spoken_in);
  const auto p_high = pressure(*request, "head_pressure", site, spoken_in);
  const auto t_high = temperature(*request, "liquid_temperature", spoken_in);
  if (request->problem()) return *request->problem();
  if (!(p_low && t_low) && !(p_high && t_high))
    return Problem{"suction_pressure", "no pressure with its line's temperature",
                   "suction pressure and suction line, or head pressure and liquid line",
                   "superheat and subcooling each take both"};
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();

  const base::Display display{choose_units(units, spoken_in, context), site, wording->numerals()};
  json answer = property_heading(*fluid, display, {"jcgm100", "our-estimate"}, *wording);
  answer["statements"] = json::array();
  const auto add = [&](const char* name, int sign, const std::optional<double>& p,
                       const std::optional<double>& T) -> std::optional<Problem> {
    answer[name] = nullptr;
    if (!p || !T) return std::nullopt;
    const auto found = side(*fluid, *p, *T, sign);
    if (!found) return found.problem();
    const double reach = 1.645 * found->sigma;
    const bool inside = std::abs(found->difference) <= reach;
    const char* state = inside ? "near_saturation" : found->difference > 0 ? "single_phase" : "impossible";
    answer[name] = {{"pressure", quantity(Dimension::pressure, *p, display)},
                    {"line", quantity(Dimension::temperature, *T, display)},
                    {"saturation", quantity(Dimension::temperature, found->saturation, display, 1)},
                    {"difference", interval(diagnosis::Unit::temperature_difference,
                                            diagnosis::Interval{found->difference - reach, found->difference,
                                                                found->difference + reach},
                                            *wording, display)},
                    {"state", state}};
    const std::string key = std::string(name) + "_" + state;
    answer["statements"].push_back(statement(
        "superheat",
        {key,
         {},
         {word("difference", Dimension::temperature_difference, std::abs(found->difference), display),
          word("reach", Dimension::temperature_difference, reach, display),
          word("saturation", Dimension::temperature, found->saturation, display),
          word("line", Dimension::temperature, *T, display)}},
        *wording, display));
    return std::nullopt;
  };
  if (const auto problem = add("superheat", 1, p_low, t_low)) return *problem;
  if (const auto problem = add("subcooling", -1, p_high, t_high)) return *problem;
  answer["glide"] = nullptr;
  if (fluid->is_blend()) {
    const double p = p_low.value_or(p_high.value_or(0));
    const auto dew = fluid->dew_temperature(p), bubble = fluid->bubble_temperature(p);
    if (!dew) return dew.problem();
    if (!bubble) return bubble.problem();
    answer["glide"] = quantity(Dimension::temperature_difference, *dew - *bubble, display, 1);
    answer["statements"].push_back(statement(
        "superheat",
        {"glide", {}, {word("glide", Dimension::temperature_difference, *dew - *bubble, display, 1)}},
        *wording, display));
  }
  return calls::dump(answer);
}

}  // namespace coldwright::service

// Use case "saturation": one refrigerant, temperatures or pressures, each answered by the other.
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

/// One value as typed and what it means at this site.
struct Asked {
  std::string text;
  base::Spoken spoken;
  double absolute = 0;  // Pa, when a pressure
};

Result<Asked> ask(const std::string& text, base::SitePressure site) {
  const auto spoken = base::parse_spoken(text, "at");
  if (!spoken) return spoken.problem();
  const bool temperature = spoken->dimension == Dimension::temperature;
  if (!temperature && spoken->dimension != Dimension::pressure)
    return Problem{"at", base::quoted(text), "a temperature such as 22F or a pressure such as 41 psig",
                   "that is " + std::string(base::spoken_name(spoken->dimension)) +
                       ", and saturation joins pressure and temperature"};
  Asked asked{text, *spoken, 0};
  if (temperature) return asked;
  const base::SpokenPressure pressure = spoken->against == base::Against::gauge
                                            ? base::SpokenPressure(base::GaugePressure{spoken->si})
                                            : base::SpokenPressure(base::Pressure{spoken->si});
  const auto absolute = base::resolve(pressure, site, "at", base::quoted(text));
  if (!absolute) return absolute.problem();
  asked.absolute = absolute->si;
  return asked;
}

Result<fluids::Saturation> solve(const fluids::Fluid& fluid, const Asked& asked, base::SitePressure site) {
  const fluids::Limits& limits = fluid.limits();
  const double T_high = fluid.is_blend() ? fluid.T_two_phase_max() : limits.T_crit;
  const auto lowest = fluid.bubble_pressure(limits.T_min), highest = fluid.dew_pressure(T_high);
  const std::string why = fluid.is_blend()
                              ? "between them the bubble and dew lines of " + fluid.designation() +
                                    " are followed; above is its critical point"
                              : "between them " + fluid.designation() +
                                    " has a saturation line here; above is its critical point";
  if (asked.spoken.dimension == Dimension::temperature) {
    if (asked.spoken.si < limits.T_min || asked.spoken.si > T_high)
      return Problem{"at", base::quoted(asked.text),
                     both_systems(Dimension::temperature, limits.T_min, T_high, site), why};
    return fluid.saturation_at_T(asked.spoken.si);
  }
  if (lowest && highest && (asked.absolute < *lowest || asked.absolute > *highest))
    return Problem{"at", base::quoted(asked.text), both_systems(Dimension::pressure, *lowest, *highest, site),
                   why};
  return fluid.saturation_at_p(asked.absolute);
}

void add_place(json& out, const fluids::State& state, const base::Display& display) {
  out["temperature"] = quantity(Dimension::temperature, state.T, display, 1);
  out["pressure"] = quantity(Dimension::pressure, state.p, display, 1);
  out["pressure_absolute"] = quantity(base::show_absolute(base::Pressure{state.p}, display, 1), state.p);
}

json side(const fluids::State& state, const base::Display& display) {
  json out = {{"density", quantity(Dimension::density, state.rho, display)},
              {"enthalpy", quantity(Dimension::specific_energy, state.h, display)},
              {"entropy", quantity(Dimension::specific_entropy, state.s, display)}};
  add_place(out, state, display);
  return out;
}

json row(const fluids::Fluid& fluid, const Asked& asked, const fluids::Saturation& line,
         const base::Display& display) {
  const bool temperature = asked.spoken.dimension == Dimension::temperature;
  json out = {{"given", asked.text},
              {"gave", temperature ? "temperature" : "pressure"},
              {"latent_heat", quantity(Dimension::specific_energy, line.vapour.h - line.liquid.h, display)},
              {"liquid", side(line.liquid, display)},
              {"vapour", side(line.vapour, display)}};
  if (!fluid.is_blend()) {
    add_place(out, line.vapour, display);
  } else if (!temperature) {
    out["glide"] = quantity(Dimension::temperature_difference, line.vapour.T - line.liquid.T, display, 1);
  }
  return out;
}

/// "at": one text or a list of them.
Result<std::vector<std::string>> texts(const Request& request) {
  const json* at = request.find("at");
  const Problem wrong{"at", at == nullptr ? "nothing" : base::quoted(calls::dump(*at), 40),
                      "a temperature such as 22F or a pressure such as 41 psig, or up to 200 of them",
                      "there is no answer without it"};
  if (at == nullptr) return wrong;
  std::vector<std::string> out;
  const json list = at->is_array() ? *at : json::array({*at});
  for (const json& one : list) {
    if (!one.is_string()) return wrong;
    out.push_back(one.get<std::string>());
  }
  if (out.empty() || out.size() > 200) return wrong;
  return out;
}

}  // namespace

Result<std::string> run_saturation(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"refrigerant", "at", "altitude", "barometer", "units"});
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  if (request->problem()) return *request->problem();
  const auto list = texts(*request);
  if (!list) return list.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();

  json rows = json::array();
  base::Display display{base::UnitSystem::us, site, wording->numerals()};
  for (const std::string& one : *list) {
    const auto asked = ask(one, site);
    if (!asked) return asked.problem();
    if (rows.empty()) display.system = choose_units(units, asked->spoken.system, context);
    const auto line = solve(*fluid, *asked, site);
    if (!line) return line.problem();
    rows.push_back(row(*fluid, *asked, *line, display));
  }
  json answer = property_heading(*fluid, display, {}, *wording);
  answer["rows"] = std::move(rows);
  return calls::dump(answer);
}

}  // namespace coldwright::service

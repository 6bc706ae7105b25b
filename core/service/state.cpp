// Use case "state": a refrigerant's state from two of its properties, with superheat or subcooling.
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "fluids/fluid_data.hpp"
#include "fluids/transport_scaling.hpp"
#include "service/property_answer.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using nlohmann::json;

struct Property {
  std::string_view key;
  Dimension dimension;
};
constexpr Property kProperties[] = {{"t", Dimension::temperature},     {"p", Dimension::pressure},
                                    {"h", Dimension::specific_energy}, {"s", Dimension::specific_entropy},
                                    {"density", Dimension::density},   {"quality", Dimension::quality}};
constexpr std::string_view kPairs = "t with p, density or quality; p with h, s or quality";

struct Inputs {
  std::optional<double> t, p, h, s, density, quality;
  std::optional<base::UnitSystem> system;
  int given = 0;
  std::optional<double>& slot(std::string_view key) {
    return key == "t"         ? t
           : key == "p"       ? p
           : key == "h"       ? h
           : key == "s"       ? s
           : key == "density" ? density
                              : quality;
  }
};

/// "0.3" is as plain as "30 %" for a share of vapour, and for nothing else.
Result<base::Spoken> parse_value(const std::string& text, const Property& property) {
  if (property.dimension != Dimension::quality)
    return base::parse_spoken(text, property.key, property.dimension);
  const bool bare = text.find_first_not_of("0123456789.") == std::string::npos;
  auto spoken = base::parse_spoken(bare ? text + " %" : text, property.key, Dimension::quality);
  if (!spoken) return spoken;
  if (bare) spoken->si *= 100;
  if (spoken->si < 0 || spoken->si > 1)
    return Problem{std::string(property.key), base::quoted(text), "0 to 1, or 0 % to 100 %",
                   "it is the share that is vapour"};
  return spoken;
}

Result<double> absolute(const base::Spoken& spoken, base::SitePressure site, const std::string& text) {
  const base::SpokenPressure pressure = spoken.against == base::Against::gauge
                                            ? base::SpokenPressure(base::GaugePressure{spoken.si})
                                            : base::SpokenPressure(base::Pressure{spoken.si});
  const auto resolved = base::resolve(pressure, site, "p", base::quoted(text));
  if (!resolved) return resolved.problem();
  return resolved->si;
}

Result<Inputs> read_inputs(Request& request, base::SitePressure site) {
  Inputs in;
  for (const Property& property : kProperties) {
    const auto text = request.text(property.key);
    if (!text) continue;
    const auto spoken = parse_value(*text, property);
    if (!spoken) return spoken.problem();
    double value = spoken->si;
    if (property.dimension == Dimension::pressure) {
      const auto resolved = absolute(*spoken, site, *text);
      if (!resolved) return resolved.problem();
      value = *resolved;
    }
    in.slot(property.key) = value;
    if (!in.system && property.dimension != Dimension::quality) in.system = spoken->system;
    ++in.given;
  }
  if (request.problem()) return *request.problem();
  if (in.given != 2)
    return Problem{"state", std::to_string(in.given) + " properties", "exactly two: " + std::string(kPairs),
                   "two properties fix the state of a pure refrigerant"};
  return in;
}

Result<fluids::State> solve(const fluids::Fluid& fluid, const Inputs& in) {
  if (in.t && in.p) return fluid.at_Tp(*in.t, *in.p);
  if (in.t && in.density) return fluid.at_Trho(*in.t, *in.density);
  if (in.t && in.quality) return fluid.at_Tx(*in.t, *in.quality);
  if (in.p && in.h) return fluid.at_ph(*in.p, *in.h);
  if (in.p && in.s) return fluid.at_ps(*in.p, *in.s);
  if (in.p && in.quality) return fluid.at_px(*in.p, *in.quality);
  return Problem{"state", "two properties that are not offered together", std::string(kPairs),
                 "the others are either not wanted in the trade or don't fix one state"};
}

std::string_view phase_word(fluids::Phase phase) {
  switch (phase) {
    case fluids::Phase::liquid:
      return "liquid";
    case fluids::Phase::vapour:
      return "vapour";
    case fluids::Phase::two_phase:
      return "two_phase";
    case fluids::Phase::supercritical:
      return "supercritical";
  }
  return "";
}

json plain(double si, double scale, const char* unit, int decimals, const base::Display& display) {
  return quantity(base::Shown{si * scale, unit, decimals, display.numerals}, si);
}

void add_single_phase(json& out, const fluids::Fluid& fluid, const fluids::State& state,
                      const base::Display& display) {
  if (!state.single) return;
  out["cp"] = quantity(Dimension::specific_entropy, state.single->cp, display);
  out["cv"] = quantity(Dimension::specific_entropy, state.single->cv, display);
  out["speed_of_sound"] = display.system == base::UnitSystem::us
                              ? plain(state.single->sound_speed, 1 / 0.3048, "ft/s", 1, display)
                              : plain(state.single->sound_speed, 1, "m/s", 1, display);
  const auto transport = fluid.transport(state);
  if (!transport) return;
  out["viscosity"] = plain(transport->viscosity, 1e6, "µPa s", 2, display);
  out["conductivity"] = plain(transport->conductivity, 1e3, "mW/(m K)", 2, display);
  out["viscosity_uncertainty"] = plain(transport->viscosity_uncertainty, 100, "%", 0, display);
  out["conductivity_uncertainty"] = plain(transport->conductivity_uncertainty, 100, "%", 0, display);
}

/// Superheat from the dew point at this pressure, subcooling from the bubble point; none above the critical
/// point.
void add_saturation(json& out, const fluids::Fluid& fluid, const fluids::State& state,
                    const base::Display& display) {
  const auto bubble = fluid.bubble_temperature(state.p), dew = fluid.dew_temperature(state.p);
  if (!bubble || !dew) return;
  if (fluid.is_blend()) {
    out["bubble_temperature"] = quantity(Dimension::temperature, *bubble, display, 1);
    out["dew_temperature"] = quantity(Dimension::temperature, *dew, display, 1);
    out["glide"] = quantity(Dimension::temperature_difference, *dew - *bubble, display, 1);
  } else {
    out["saturation_temperature"] = quantity(Dimension::temperature, *dew, display, 1);
  }
  if (state.phase == fluids::Phase::two_phase) return;
  if (state.T >= *dew)
    out["superheat"] = quantity(Dimension::temperature_difference, state.T - *dew, display, 1);
  else if (state.T <= *bubble)
    out["subcooling"] = quantity(Dimension::temperature_difference, *bubble - state.T, display, 1);
}

json answer_for(const fluids::Fluid& fluid, const fluids::State& state, const base::Display& display,
                const Wording& wording) {
  std::vector<std::string> sources;
  if (fluid.data().viscosity) sources.push_back(fluid.data().viscosity->reference);
  if (fluid.data().conductivity) sources.push_back(fluid.data().conductivity->reference);
  if (fluid.data().scaling)
    for (const fluids::ScalingComponent& component : fluid.data().scaling->components) {
      sources.push_back(component.viscosity.reference);
      sources.push_back(component.conductivity.reference);
    }
  json out = property_heading(fluid, display, sources, wording);
  json& s = out["state"];
  s = {{"phase", phase_word(state.phase)},
       {"phase_text", wording.word("phases", phase_word(state.phase))},
       {"temperature", quantity(Dimension::temperature, state.T, display, 1)},
       {"pressure", quantity(Dimension::pressure, state.p, display, 1)},
       {"pressure_absolute", quantity(base::show_absolute(base::Pressure{state.p}, display, 1), state.p)},
       {"density", quantity(Dimension::density, state.rho, display)},
       {"enthalpy", quantity(Dimension::specific_energy, state.h, display)},
       {"internal_energy", quantity(Dimension::specific_energy, state.u, display)},
       {"entropy", quantity(Dimension::specific_entropy, state.s, display)}};
  if (state.quality) s["quality"] = quantity(Dimension::quality, *state.quality, display, 1);
  add_single_phase(s, fluid, state, display);
  add_saturation(s, fluid, state, display);
  return out;
}

/// The core speaks kelvin and pascal; what was typed stands beside it.
Problem in_typed_words(Problem problem, Request& request) {
  std::string typed;
  for (const Property& property : kProperties)
    if (const auto text = request.text(property.key))
      typed += (typed.empty() ? "" : " and ") + std::string(property.key) + " " + base::quoted(*text);
  problem.given = typed + ", that is " + problem.given;
  return problem;
}

}  // namespace

Result<std::string> run_state(std::string_view text, const Context& context) {
  auto request = Request::read(
      text, {"refrigerant", "t", "p", "h", "s", "density", "quality", "altitude", "barometer", "units"});
  if (!request) return request.problem();
  const auto fluid = requested_fluid(*request);
  const base::SitePressure site = request->site();
  const auto units = request->units();
  if (request->problem()) return *request->problem();
  const auto inputs = read_inputs(*request, site);
  if (!inputs) return inputs.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const auto state = solve(*fluid, *inputs);
  if (!state) return in_typed_words(state.problem(), *request);
  const base::Display display{choose_units(units, inputs->system, context), site, wording->numerals()};
  return calls::dump(answer_for(*fluid, *state, display, *wording));
}

}  // namespace coldwright::service

// Prints this program's properties for rows on standard input, one kind of question a line:
//   T_rho R290 300 1.5      T_p R290 300 101325      saturation R290 250      limits R448A
//   split R448A 250 1       (temperature, vapour's share of the mass)
// answers, in SI with 17 digits, '-' where there is no value:
//   T_rho, T_p   T p rho u h s cv cp w viscosity conductivity
//   saturation   T p rho_liquid rho_vapour h_liquid h_vapour s_liquid s_vapour surface_tension p_bubble
//                (p is the dew pressure, of a pure fluid the same)
//   limits       T_min T_max p_max T_crit p_crit rho_crit T_two_phase_max M
//   split        p rho_liquid rho_vapour of the equilibrium solved from nothing, molar densities
// or "problem: ..." on a line of its own. Used by tools/compare_live.py and tools/compare_blends.py.
#include <cmath>
#include <cstdio>
#include <iostream>
#include <limits>
#include <map>
#include <sstream>
#include <string>

#include "fluids/blend_model.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;

constexpr double none = std::numeric_limits<double>::quiet_NaN();

std::string row(std::initializer_list<double> values) {
  std::string out;
  for (const double value : values) {
    char text[40];
    std::snprintf(text, sizeof text, "%.17g", value);
    out += (out.empty() ? "" : " ") + std::string(std::isnan(value) ? "-" : text);
  }
  return out;
}

std::string one_phase(const fluids::Fluid& fluid, const Result<fluids::State>& state) {
  if (!state) return "problem: " + to_text(state.problem());
  if (!state->single) return "problem: no single phase";
  const auto transport = fluid.transport(*state);
  return row({state->T, state->p, state->rho, state->u, state->h, state->s, state->single->cv,
              state->single->cp, state->single->sound_speed, transport ? transport->viscosity : none,
              transport ? transport->conductivity : none});
}

std::string saturated(const fluids::Fluid& fluid, double T) {
  const auto ends = fluid.saturation_at_T(T);
  if (!ends) return "problem: " + to_text(ends.problem());
  const auto tension = fluid.surface_tension(T);
  return row({T, ends->vapour.p, ends->liquid.rho, ends->vapour.rho, ends->liquid.h, ends->vapour.h,
              ends->liquid.s, ends->vapour.s, tension ? *tension : none, ends->liquid.p});
}

std::string limits(const fluids::Fluid& fluid) {
  const fluids::Limits& at = fluid.limits();
  return row(
      {at.T_min, at.T_max, at.p_max, at.T_crit, at.p_crit, at.rho_crit, fluid.T_two_phase_max(), at.M});
}

std::string split(const fluids::Fluid& fluid, double T, double quality) {
  const auto& blend = fluid.data().blend;
  if (!blend) return "problem: not a blend";
  const auto at = fluids::split_at_temperature(blend->mixture, blend->mass_fractions, quality, T);
  if (!at.converged) return "problem: no equilibrium found";
  return row({at.p, at.liquid.sum(), at.vapour.sum()});
}

std::string answer(const fluids::Fluid& fluid, const std::string& kind, double first, double second) {
  if (kind == "T_rho") return one_phase(fluid, fluid.at_Trho(first, second));
  if (kind == "T_p") return one_phase(fluid, fluid.at_Tp(first, second));
  if (kind == "saturation") return saturated(fluid, first);
  if (kind == "limits") return limits(fluid);
  if (kind == "split") return split(fluid, first, second);
  return "problem: unknown question " + kind;
}

}  // namespace

int main() {
  std::map<std::string, fluids::Fluid> loaded;
  std::string line;
  while (std::getline(std::cin, line)) {
    std::istringstream in(line);
    std::string kind, name;
    double first = 0, second = 0;
    in >> kind >> name >> first >> second;
    auto found = loaded.find(name);
    if (found == loaded.end()) {
      auto fluid = service::load_fluid(name);
      if (!fluid) {
        std::printf("problem: %s\n", to_text(fluid.problem()).c_str());
        continue;
      }
      found = loaded.emplace(name, *fluid).first;
    }
    std::printf("%s\n", answer(found->second, kind, first, second).c_str());
  }
}

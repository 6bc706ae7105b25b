// Prints this program's properties for rows on standard input, one kind of question a line:
//   T_rho R290 300 1.5      T_p R290 300 101325      saturation R290 250
// answers, in SI with 17 digits:
//   T_rho, T_p   T p rho u h s cv cp w viscosity conductivity
//   saturation   T p rho_liquid rho_vapour h_liquid h_vapour s_liquid s_vapour surface_tension
// or "problem: ..." on a line of its own. Used by tools/compare_live.py.
#include <cstdio>
#include <iostream>
#include <map>
#include <sstream>
#include <string>

#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;

std::string row(std::initializer_list<double> values) {
  std::string out;
  for (const double value : values) {
    char text[40];
    std::snprintf(text, sizeof text, "%s%.17g", out.empty() ? "" : " ", value);
    out += text;
  }
  return out;
}

std::string one_phase(const fluids::Fluid& fluid, const Result<fluids::State>& state) {
  if (!state) return "problem: " + to_text(state.problem());
  if (!state->single) return "problem: no single phase";
  const auto transport = fluid.transport(*state);
  if (!transport) return "problem: " + to_text(transport.problem());
  return row({state->T, state->p, state->rho, state->u, state->h, state->s, state->single->cv,
              state->single->cp, state->single->sound_speed, transport->viscosity, transport->conductivity});
}

std::string saturated(const fluids::Fluid& fluid, double T) {
  const auto ends = fluid.saturation_at_T(T);
  const auto tension = fluid.surface_tension(T);
  if (!ends || !tension) return "problem: " + to_text(ends ? tension.problem() : ends.problem());
  return row({T, ends->vapour.p, ends->liquid.rho, ends->vapour.rho, ends->liquid.h, ends->vapour.h,
              ends->liquid.s, ends->vapour.s, *tension});
}

std::string answer(const fluids::Fluid& fluid, const std::string& kind, double first, double second) {
  if (kind == "T_rho") return one_phase(fluid, fluid.at_Trho(first, second));
  if (kind == "T_p") return one_phase(fluid, fluid.at_Tp(first, second));
  if (kind == "saturation") return saturated(fluid, first);
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

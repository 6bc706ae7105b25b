// Our blends against CoolProp [bell2014], an independent open library, on the same mixture model: rows of
// tests/data/fluids/blend_*.csv, whose first lines tell version and command. tools/compare_blends.py compares
// many more, and counts how often either finds no equilibrium.
#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;
using test::Worst;

// Ten times finer than what is promised for blends, 1e-6; measured 1e-8 (the library's own bubble and dew
// points, of each the worst of 200) and 1e-10 (states).
constexpr double line_tolerance = 1e-7, state_tolerance = 1e-9;
constexpr double energy_scale = 1e5, entropy_scale = 1e3;  // J/kg, J/(kg K): their zero is a convention

TEST(FluidsBlendLibrary, StatesInOnePhase) {
  Worst p("p"), density("rho"), h("h"), s("s"), cp("cp"), w("w");
  std::map<std::string, std::pair<fluids::State, test::Row>> first;
  for (const auto& [name, row] : test::read_named_rows("blend_single_phase.csv")) {
    const auto& fluid = test::fluid(name);
    const double T = row.at("T"), rho = row.at("rho");
    const auto state = test::must(fluid.at_Trho(T, rho), name);
    ASSERT_TRUE(state.single) << name << " " << T << " K, " << rho << " kg/m3";
    const auto& [zero, zero_row] = first.try_emplace(name, state, row).first->second;
    const double kinetic = rho * fluid.data().R / fluid.data().M * T;
    p.add(state.p, row.at("p"), T, rho, 0.01 * kinetic, name);
    cp.add(state.single->cp, row.at("cp"), T, rho, 0, name);
    w.add(state.single->sound_speed, row.at("w"), T, rho, 0, name);
    h.add(state.h - zero.h, row.at("h") - zero_row.at("h"), T, rho, energy_scale, name);
    s.add(state.s - zero.s, row.at("s") - zero_row.at("s"), T, rho, entropy_scale, name);
    density.add(test::must(fluid.at_Tp(T, row.at("p")), name).rho, rho, T, rho, 0, name);
  }
  EXPECT_EQ(first.size(), 140u);  // all but those with R1132a, whose equation is our own estimate
  for (const Worst* worst : {&p, &density, &h, &s, &cp, &w}) worst->expect_below(state_tolerance);
}

TEST(FluidsBlendLibrary, BubbleAndDewPressures) {
  Worst bubble("p_bubble"), dew("p_dew");
  int colder = 0;
  for (const auto& [name, row] : test::read_named_rows("blend_lines.csv")) {
    const auto& fluid = test::fluid(name);
    const double T = row.at("T");
    if (T < fluid.limits().T_min || T > fluid.T_two_phase_max()) {
      ++colder;
      continue;
    }
    bubble.add(test::must(fluid.bubble_pressure(T), name), row.at("p_bubble"), T, 0, 0, name);
    dew.add(test::must(fluid.dew_pressure(T), name), row.at("p_dew"), T, 0, 0, name);
  }
  EXPECT_LE(colder, 5) << "rows off our fitted lines";
  bubble.expect_below(line_tolerance);
  dew.expect_below(line_tolerance);
}

}  // namespace

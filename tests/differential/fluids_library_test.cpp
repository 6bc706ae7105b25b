// Our states against those of CoolProp [bell2014], an independent open library: rows of
// tests/data/fluids, whose first lines tell version, command and what is left out.
// Tolerance 1e-8 (relative). h and u are relative to at least 100 kJ/kg, s to at least 1 kJ/(kg K), since
// their zero is a convention.
#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;
using test::Row;
using test::Worst;

constexpr double tolerance = 1e-8;
// The library takes p_sat from the liquid, where rounding moves it by some 1e-8 Pa: 7e-9 of 10 Pa.
constexpr double saturation_pressure_tolerance = 1e-7;
constexpr double energy_scale = 1e5, entropy_scale = 1e3;

class FluidsLibrary : public testing::TestWithParam<std::string> {
 protected:
  const fluids::Fluid& fluid() const { return test::fluid(GetParam()); }
};

TEST_P(FluidsLibrary, StatesFromTemperatureAndDensity) {
  const auto rows = test::read_rows(GetParam() + "_single_phase.csv");
  ASSERT_GE(rows.size(), 2000u);
  Worst p("p"), u("u"), h("h"), s("s"), cv("cv"), cp("cp"), w("w");
  for (const Row& row : rows) {
    const double T = row.at("T"), rho = row.at("rho");
    const auto state = test::must(fluid().at_Trho(T, rho), "at_Trho");
    ASSERT_TRUE(state.single) << T << " K, " << rho << " kg/m3";
    p.add(state.p, row.at("p"), T, rho);
    u.add(state.u, row.at("u"), T, rho, energy_scale);
    h.add(state.h, row.at("h"), T, rho, energy_scale);
    s.add(state.s, row.at("s"), T, rho, entropy_scale);
    cv.add(state.single->cv, row.at("cv"), T, rho);
    cp.add(state.single->cp, row.at("cp"), T, rho);
    w.add(state.single->sound_speed, row.at("w"), T, rho);
  }
  for (const Worst* worst : {&p, &u, &h, &s, &cv, &cp, &w}) worst->expect_below(tolerance);
}

TEST_P(FluidsLibrary, DensityFromTemperatureAndPressure) {
  Worst density("rho");
  for (const Row& row : test::read_rows(GetParam() + "_single_phase.csv")) {
    const auto state = test::must(fluid().at_Tp(row.at("T"), row.at("p")), "at_Tp");
    density.add(state.rho, row.at("rho"), row.at("T"), row.at("rho"));
  }
  density.expect_below(tolerance);
}

TEST_P(FluidsLibrary, Transport) {
  Worst viscosity("viscosity"), conductivity("conductivity");
  for (const Row& row : test::read_rows(GetParam() + "_single_phase.csv")) {
    const double T = row.at("T"), rho = row.at("rho");
    const auto state = test::must(fluid().at_Trho(T, rho), "at_Trho");
    const auto ours = test::must(fluid().transport(state), "transport");
    viscosity.add(ours.viscosity, row.at("viscosity"), T, rho);
    conductivity.add(ours.conductivity, row.at("conductivity"), T, rho);
  }
  viscosity.expect_below(tolerance);
  conductivity.expect_below(tolerance);
}

TEST_P(FluidsLibrary, Saturation) {
  const auto rows = test::read_rows(GetParam() + "_saturation.csv");
  ASSERT_GE(rows.size(), 100u);
  Worst p("p_sat"), T_back("T_sat"), liquid("rho_liquid"), vapour("rho_vapour"), h_liquid("h_liquid"),
      h_vapour("h_vapour"), s_liquid("s_liquid"), s_vapour("s_vapour"), tension("surface tension");
  for (const Row& row : rows) {
    const double T = row.at("T"), rho = row.at("rho_liquid");
    const auto ends = test::must(fluid().saturation_at_T(T), "saturation_at_T");
    p.add(ends.vapour.p, row.at("p"), T, rho);
    T_back.add(test::must(fluid().saturation_temperature(row.at("p")), "saturation_temperature"), T, T, rho);
    liquid.add(ends.liquid.rho, rho, T, rho);
    vapour.add(ends.vapour.rho, row.at("rho_vapour"), T, rho);
    h_liquid.add(ends.liquid.h, row.at("h_liquid"), T, rho, energy_scale);
    h_vapour.add(ends.vapour.h, row.at("h_vapour"), T, rho, energy_scale);
    s_liquid.add(ends.liquid.s, row.at("s_liquid"), T, rho, entropy_scale);
    s_vapour.add(ends.vapour.s, row.at("s_vapour"), T, rho, entropy_scale);
    tension.add(test::must(fluid().surface_tension(T), "surface_tension"), row.at("surface_tension"), T, rho);
  }
  p.expect_below(saturation_pressure_tolerance);
  for (const Worst* worst : {&T_back, &liquid, &vapour, &h_liquid, &h_vapour, &s_liquid, &s_vapour, &tension})
    worst->expect_below(tolerance);
}

INSTANTIATE_TEST_SUITE_P(Refrigerants, FluidsLibrary, testing::ValuesIn(test::refrigerants()),
                         test::test_name);

}  // namespace

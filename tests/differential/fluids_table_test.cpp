// The tables of states against the equation they are made from, at random states of several refrigerants and
// blends: T, density and enthalpy within 1e-6 (enthalpy of 200 kJ/kg).
#include <random>

#include "fluids/state_table.hpp"
#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;

class StateTables : public testing::TestWithParam<std::string> {};

TEST_P(StateTables, AgreeWithTheEquation) {
  const fluids::Fluid& fluid = test::fluid(GetParam());
  const auto table = test::must(fluids::StateTable::make(fluid), "table");
  std::mt19937 random(7);
  std::uniform_real_distribution<double> uniform(0, 1);
  double worst_T = 0, worst_rho = 0, worst_h = 0;
  int compared = 0;
  for (int i = 0; i < 3000; ++i) {
    const double p = table.p_low() * std::pow(table.p_high() / table.p_low(), uniform(random));
    const bool vapour = uniform(random) < 0.5;
    const double bubble = test::must(fluid.bubble_temperature(p), "bubble");
    const double dew = test::must(fluid.dew_temperature(p), "dew");
    const double way = uniform(random) * uniform(random);  // more of them near saturation
    const double T = vapour ? dew + 1e-3 + 80 * way : bubble - 1e-3 - (bubble - table.T_low() - 0.01) * way;
    const auto exact = fluid.at_Tp(T, p);
    if (!exact) continue;
    const auto by_T = table.at_Tp(T, p);
    const auto by_h = table.at_ph(p, exact->h);
    if (!by_T || !by_h) continue;
    ++compared;
    EXPECT_EQ(by_h->phase, vapour ? fluids::Phase::vapour : fluids::Phase::liquid);
    worst_T = std::max(worst_T, std::abs(by_h->T / T - 1));
    worst_rho =
        std::max({worst_rho, std::abs(by_h->rho / exact->rho - 1), std::abs(by_T->rho / exact->rho - 1)});
    worst_h = std::max(worst_h, std::abs(by_T->h - exact->h) / 200e3);
  }
  std::printf("  %d states: T %.1e  density %.1e  enthalpy %.1e\n", compared, worst_T, worst_rho, worst_h);
  EXPECT_GT(compared, 2500);
  EXPECT_LT(worst_T, 1e-6);
  EXPECT_LT(worst_rho, 1e-6);
  EXPECT_LT(worst_h, 1e-6);
}

TEST_P(StateTables, AnswerNothingOutside) {
  const fluids::Fluid& fluid = test::fluid(GetParam());
  const auto table = test::must(fluids::StateTable::make(fluid), "table");
  EXPECT_FALSE(table.at_Tp(300, 1.01 * table.p_high()));
  EXPECT_FALSE(table.at_Tp(300, 0.99 * table.p_low()));
  EXPECT_FALSE(table.at_ph(table.p_low() * 2, 5e6));
  EXPECT_FALSE(table.at_ph(table.p_low() * 2, -5e6));
  EXPECT_FALSE(table.at_Tp(std::nan(""), 1e5));
  EXPECT_FALSE(table.at_ph(1e5, std::nan("")));
  EXPECT_FALSE(table.at_ph(std::nan(""), 3e5));
}

INSTANTIATE_TEST_SUITE_P(Refrigerants, StateTables,
                         testing::Values("R134a", "R290", "R22", "R717", "R744", "R410A", "R448A"),
                         [](const auto& row) { return row.param; });

}  // namespace

// Every way to ask for a state leads to the same state, over the reference rows: (T,p), (p,h), (p,s),
// (T,rho) in one phase, (p,x), (T,x), (p,h), (p,s), (T,rho) in two.
#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;
using test::Row;
using test::Worst;

class FluidsFlash : public testing::TestWithParam<std::string> {
 protected:
  const fluids::Fluid& fluid() const { return test::fluid(GetParam()); }
};

TEST_P(FluidsFlash, OnePhaseFromEveryPair) {
  Worst T_ph("T from (p,h)"), rho_ph("rho from (p,h)"), T_ps("T from (p,s)"), rho_ps("rho from (p,s)");
  for (const Row& row : test::single_phase_rows(GetParam())) {
    const auto start = test::must(fluid().at_Tp(row.at("T"), row.at("p")), "at_Tp");
    const auto by_h = test::must(fluid().at_ph(start.p, start.h), "at_ph");
    const auto by_s = test::must(fluid().at_ps(start.p, start.s), "at_ps");
    EXPECT_EQ(by_h.phase, start.phase) << start.T << " K, " << start.p << " Pa";
    EXPECT_EQ(by_s.phase, start.phase) << start.T << " K, " << start.p << " Pa";
    T_ph.add(by_h.T, start.T, start.T, start.rho);
    T_ps.add(by_s.T, start.T, start.T, start.rho);
    rho_ph.add(by_h.rho, start.rho, start.T, start.rho);
    rho_ps.add(by_s.rho, start.rho, start.T, start.rho);
  }
  for (const Worst* worst : {&T_ph, &T_ps, &rho_ph, &rho_ps}) worst->expect_below(1e-8);
}

TEST_P(FluidsFlash, TwoPhasesFromEveryPair) {
  Worst T_ph("T from (p,h)"), x_ph("x from (p,h)"), x_ps("x from (p,s)"), x_Trho("x from (T,rho)"),
      rho_Tx("rho from (T,x)");
  for (const Row& row : test::saturation_rows(GetParam())) {
    for (const double x : {1e-6, 0.02, 0.3, 0.8, 1 - 1e-6}) {
      const auto start = test::must(fluid().at_px(row.at("p"), x), "at_px");
      ASSERT_EQ(start.phase, fluids::Phase::two_phase);
      const auto by_h = test::must(fluid().at_ph(start.p, start.h), "at_ph");
      const auto by_s = test::must(fluid().at_ps(start.p, start.s), "at_ps");
      const auto by_rho = test::must(fluid().at_Trho(start.T, start.rho), "at_Trho");
      const auto by_x = test::must(fluid().at_Tx(start.T, x), "at_Tx");
      ASSERT_TRUE(by_h.quality && by_s.quality && by_rho.quality && by_x.quality);
      T_ph.add(by_h.T, start.T, start.T, start.rho);
      x_ph.add(*by_h.quality, x, start.T, start.rho, 1);
      x_ps.add(*by_s.quality, x, start.T, start.rho, 1);
      x_Trho.add(*by_rho.quality, x, start.T, start.rho, 1);
      rho_Tx.add(by_x.rho, start.rho, start.T, start.rho);
    }
  }
  for (const Worst* worst : {&T_ph, &x_ph, &x_ps, &x_Trho, &rho_Tx}) worst->expect_below(1e-8);
}

TEST_P(FluidsFlash, SaturatedEndsAreOnePhase) {
  for (const Row& row : test::saturation_rows(GetParam())) {
    const auto liquid = test::must(fluid().at_Tx(row.at("T"), 0), "at_Tx");
    const auto vapour = test::must(fluid().at_px(row.at("p"), 1), "at_px");
    EXPECT_EQ(liquid.phase, fluids::Phase::liquid);
    EXPECT_EQ(vapour.phase, fluids::Phase::vapour);
    EXPECT_TRUE(liquid.single && vapour.single && !liquid.quality && !vapour.quality);
  }
}

INSTANTIATE_TEST_SUITE_P(Refrigerants, FluidsFlash, testing::ValuesIn(test::compared_pure()),
                         test::test_name);

}  // namespace

// What a cell holds, from mass and energy, is the state that made them.
#include <gtest/gtest.h>

#include <algorithm>

#include "lab/refrigerant.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::lab {
namespace {

class LabRefrigerant : public testing::TestWithParam<const char*> {};

TEST_P(LabRefrigerant, HoldsWhatWasPutIn) {
  const auto fluid = service::load_fluid(GetParam());
  ASSERT_TRUE(fluid);
  const auto r = Refrigerant::make(*fluid);
  ASSERT_TRUE(r);
  constexpr double V = 2e-5;
  for (double T = 240; T < 340; T += 7) {
    for (double x : {0.001, 0.1, 0.5, 0.9, 0.999}) {
      const auto s = fluid->at_Tx(T, x);
      ASSERT_TRUE(s);
      const Content c = r->content(s->rho * V, s->rho * V * s->u, 0, V, 290);
      EXPECT_EQ(c.held, Held::two_phase);
      EXPECT_NEAR(c.T, T, 1e-3);
      EXPECT_NEAR(c.p / s->p, 1, 1e-4);
      EXPECT_NEAR(c.quality, x, 1e-4);
    }
    for (double above : {0.5, 5.0, 30.0, 70.0}) {
      const double p = 0.98 * *fluid->saturation_pressure(T);
      const auto s = fluid->at_Tp(T + above, p);
      ASSERT_TRUE(s);
      const Content c = r->content(s->rho * V, s->rho * V * s->u, 0, V, 290);
      EXPECT_EQ(c.held, Held::vapour);
      EXPECT_NEAR(c.T, T + above, 0.05);
      EXPECT_NEAR(c.p / p, 1, 5e-4);
      EXPECT_NEAR(c.h_v, s->h, 300);
    }
  }
}

TEST_P(LabRefrigerant, PressureIsContinuousAcrossBothSaturationLines) {
  const auto fluid = service::load_fluid(GetParam());
  const auto r = Refrigerant::make(*fluid);
  ASSERT_TRUE(r);
  constexpr double V = 2e-5;
  for (double T : {250.0, 300.0, 330.0}) {
    const Saturated s = r->saturated(T);
    const auto p_at = [&](double rho, double u) { return r->content(rho * V, rho * V * u, 0, V, T).p; };
    EXPECT_NEAR(p_at(s.rho_l * (1 + 1e-8), s.u_l) / p_at(s.rho_l * (1 - 1e-8), s.u_l), 1, 1e-4);
    EXPECT_NEAR(p_at(s.rho_v, s.u_v * (1 + 1e-6)) / p_at(s.rho_v, s.u_v * (1 - 1e-6)), 1, 1e-4);
  }
}

TEST_P(LabRefrigerant, ForeignGasAddsItsPressureAndKeepsTheEnergy) {
  const auto fluid = service::load_fluid(GetParam());
  const auto r = Refrigerant::make(*fluid);
  ASSERT_TRUE(r);
  constexpr double V = 2e-5, gas = 2e-5, T = 310;
  const Saturated s = r->saturated(T);
  const double m = 2e-3, x = (V / m - 1 / s.rho_l) / (1 / s.rho_v - 1 / s.rho_l);
  const double U = m * (s.u_l + x * (s.u_v - s.u_l)) + gas * kGasHeat * T;
  const Content c = r->content(m, U, gas, V, 280);
  EXPECT_NEAR(c.T, T, 1e-4);
  const double open = x * m / s.rho_v;
  EXPECT_NEAR(c.p_gas, gas * kGasConstant * T / open, 1e-3 * c.p_gas);
  EXPECT_NEAR(c.p, s.p + c.p_gas, 10);
}

INSTANTIATE_TEST_SUITE_P(Fluids, LabRefrigerant, testing::Values("R290", "R600a", "R134a"));

TEST(LabRefrigerant, RefusesABlend) {
  const auto fluid = service::load_fluid("R404A");
  ASSERT_TRUE(fluid);
  EXPECT_FALSE(Refrigerant::make(*fluid));
}

}  // namespace
}  // namespace coldwright::lab

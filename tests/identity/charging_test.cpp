// Charging by mass, worked by hand; and what a leak under vacuum means in service.
#include <gtest/gtest.h>

#include <cmath>

#include "base/normal.hpp"
#include "procedures/charging.hpp"
#include "procedures/vacuum_leak.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::procedures {
namespace {

TEST(Charging, DrawsThePlateLessWhatStaysPlusTheHose) {
  const auto t = charge_target({0.150, 0.012, 0.0138, 0.001});
  ASSERT_TRUE(t);
  EXPECT_NEAR(t->wanted, 0.138, 1e-12);
  EXPECT_NEAR(t->drawn, 0.1518, 1e-12);
}

TEST(Charging, AGramsStepOfASmallCharge) {
  const auto t = charge_target({0.057, 0, 0, 0.001});
  ASSERT_TRUE(t);
  EXPECT_NEAR(t->resolution_share, 1.0 / 57, 1e-12);
  // two weights, each evenly within half a gram: 1/sqrt(6) g
  EXPECT_NEAR(t->sigma, 0.001 / std::sqrt(6.0), 1e-12);
}

TEST(Charging, AccountsForTheMachine) {
  const ChargeTask task{0.100, 0, 0.010, 0.001};
  const auto m = charge_moved(task, 5.250, 5.140);
  ASSERT_TRUE(m);
  EXPECT_NEAR(m->drawn, 0.110, 1e-12);
  EXPECT_NEAR(m->in_machine.mid, 0.100, 1e-12);
  const double sigma = std::hypot(0.001 / std::sqrt(6.0), 0.003);
  EXPECT_NEAR(m->in_machine.high - m->in_machine.mid, 1.645 * sigma, 1e-9);
  EXPECT_NEAR(m->within, 2 * normal_cdf(0.005 / sigma) - 1, 1e-9);
  EXPECT_EQ(m->verdict, ChargeVerdict::within);
  EXPECT_EQ(charge_moved(task, 5.250, 5.156)->verdict, ChargeVerdict::below);
  EXPECT_EQ(charge_moved(task, 5.250, 5.120)->verdict, ChargeVerdict::above);
  EXPECT_EQ(charge_moved(task, 5.250, 5.134)->verdict, ChargeVerdict::open);  // 106 g within 3 g
}

TEST(Charging, RefusesWhatCantBe) {
  EXPECT_FALSE(charge_target({0, 0, 0, 0.001}));
  EXPECT_FALSE(charge_target({0.1, 0, 0, 0}));
  EXPECT_FALSE(charge_target({0.1, 0.1, 0, 0.001}));
  EXPECT_FALSE(charge_moved({0.1, 0, 0, 0.001}, 5.0, 5.1));
  EXPECT_FALSE(charge_moved({0.1, 0, 0.02, 0.001}, 5.0, 4.99));
}

TEST(Charging, DosesEndWhereLittleIsMissing) {
  const DosePlan plan = dose_plan({0.078, 0.120, 0.185}, 0.001);
  EXPECT_NEAR(plan.first, 0.0702, 1e-9);
  EXPECT_NEAR(plan.step, 0.005, 1e-12);
  EXPECT_NEAR(dose_plan({0.03, 0.05, 0.08}, 0.005).step, 0.010, 1e-12);  // never under two steps of the scale
  EXPECT_NEAR(next_dose({0.020, 0.040, 0.070}, plan), 0.020, 1e-12);
  EXPECT_NEAR(next_dose({-0.010, 0.008, 0.030}, plan), plan.step, 1e-12);
  EXPECT_EQ(next_dose({-0.020, 0.002, 0.010}, plan), 0);
}

// 1 g a year is 2.757e-6 Pa m3/s of nitrogen at 20 C (Q = m R T/M over 3.156e7 s).
TEST(VacuumLeak, AirAYear) { EXPECT_NEAR(air_a_year(2.7571e-6, 293.15), 1e-3 * 28.9647 / 28.0134, 1e-6); }

TEST(VacuumLeak, InServiceByHand) {
  const auto propane = service::load_fluid("R290");
  ASSERT_TRUE(propane);
  const double Q = 1e-4, T = 293.15, ps = 836e3, pa = 101325;
  const auto loss = service_loss(*propane, Q, ps, T, pa);
  ASSERT_TRUE(loss);
  const double year = 365.25 * 86400, per_pascal = 0.044096 / (8.314462618 * T);
  // viscosity of propane vapour at 20 C 8.0e-6 Pa s, of air 18.2e-6
  const double viscous = Q * (ps * ps / pa / pa - 1) * 18.2 / 8.0 * per_pascal * year;
  const double molecular = Q * (ps / pa - 1) * std::sqrt(28.96 / 44.10) * per_pascal * year;
  EXPECT_NEAR(loss->viscous, viscous, 0.03 * viscous);
  EXPECT_NEAR(loss->molecular, molecular, 0.005 * molecular);
  const auto below = service_loss(*propane, Q, 90e3, T, pa);
  ASSERT_TRUE(below);
  EXPECT_EQ(below->viscous, 0);
}

}  // namespace
}  // namespace coldwright::procedures

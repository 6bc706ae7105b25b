// Repair against replacement: against an independent reckoning day by day, and what must hold of it.
#include "procedures/worth.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace coldwright::procedures {
namespace {

WorthQuestion question() {
  WorthQuestion q;
  q.repair = {480, 0.1};
  q.new_price = {2400, 0.1};
  q.energy_price = {0.28, 0.15};
  q.energy_repaired = {1600, 0.15};
  q.energy_new = {1100, 0.1};
  q.years = 6;
  q.discount = 0.04;
  q.age = 7;
  q.life_after = {14, 3};
  return q;
}

TEST(Worth, IsTheSumOverDays) {
  const WorthQuestion q = question();
  double repair = 480, replace = 2400, alive = 1;
  const int days = 6 * 365;
  for (int i = 0; i < days; ++i) {
    const double t = (i + 1) / 365.0, mid = (i + 0.5) / 365.0;
    const double later = std::exp(std::pow(7 / 14.0, 3) - std::pow((7 + t) / 14.0, 3));
    const double now = 1 / std::pow(1.04, mid);
    repair += now * ((alive - later) * 2400 + 0.28 * (later * 1600 + (1 - later) * 1100) / 365);
    replace += now * 0.28 * 1100 / 365;
    alive = later;
  }
  const auto out = worth_of(q);
  ASSERT_TRUE(out);
  EXPECT_NEAR(out->repair / repair, 1, 2e-3);
  EXPECT_NEAR(out->replace / replace, 1, 2e-3);
  EXPECT_NEAR(out->survives, alive, 1e-12);
}

TEST(Worth, IsEvenAtTheBreakEvenPrice) {
  WorthQuestion q = question();
  const auto first = worth_of(q);
  ASSERT_TRUE(first);
  q.repair.value = first->break_even;
  const auto even = worth_of(q);
  ASSERT_TRUE(even);
  EXPECT_NEAR(even->repair, even->replace, 1e-9 * even->replace);
  EXPECT_NEAR(even->probability_repair, 0.5, 0.08);
  EXPECT_LT(even->advantage.low, 0);
  EXPECT_GT(even->advantage.high, 0);
}

TEST(Worth, WithoutSpreadIsOneNumber) {
  WorthQuestion q = question();
  for (Estimate* e : {&q.repair, &q.new_price, &q.energy_price, &q.energy_repaired, &q.energy_new})
    e->spread = 0;
  const auto out = worth_of(q, 50);
  ASSERT_TRUE(out);
  EXPECT_DOUBLE_EQ(out->advantage.low, out->advantage.high);
  EXPECT_NEAR(out->advantage.mid, out->replace - out->repair, 1e-9);
  EXPECT_EQ(out->probability_repair, out->replace > out->repair ? 1 : 0);
}

TEST(Worth, AnUndyingMachineWithEqualEnergyIsWorthTheNewPrice) {
  WorthQuestion q = question();
  q.life_after = {1e6, 3};
  q.energy_repaired = q.energy_new;
  const auto out = worth_of(q);
  ASSERT_TRUE(out);
  EXPECT_NEAR(out->break_even, 2400, 1e-3);
}

TEST(Worth, RefusesWhatIsNoCost) {
  WorthQuestion q = question();
  q.repair.value = -1;
  EXPECT_FALSE(worth_of(q));
  q = question();
  q.years = 0;
  EXPECT_EQ(worth_of(q).problem().field, "remaining_years");
  q = question();
  q.discount = 0.9;
  EXPECT_FALSE(worth_of(q));
}

TEST(Survival, IsConditionalOnTheAge) {
  const Life life{13, 3};
  EXPECT_DOUBLE_EQ(survival(life, 5, 0), 1);
  EXPECT_NEAR(survival(life, 0, 5) * survival(life, 5, 4), survival(life, 0, 9), 1e-12);
  EXPECT_NEAR(yearly_energy(200, 0.5), 876.6, 1e-9);
}

}  // namespace
}  // namespace coldwright::procedures

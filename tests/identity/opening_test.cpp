// What a hose takes, against rows computed with the published equations of state [lemmon2009, buecker2006,
// tillnerroth1994] by an independent library: bore 4.8 mm, grams full of liquid and of saturated vapour.
#include "procedures/opening.hpp"

#include <gtest/gtest.h>

#include "service/refrigerant_loader.hpp"

namespace coldwright::procedures {
namespace {

struct Row {
  const char* refrigerant;
  double length, celsius, kilopascal, liquid, vapour;
};
constexpr Row kRows[] = {{"R290", 1.524, 0, 474.5, 14.58, 0.285},  {"R290", 1.524, 35, 1217.9, 13.13, 0.734},
                         {"R290", 0.9144, 20, 836.5, 8.27, 0.299}, {"R600a", 1.524, 20, 302.2, 15.36, 0.218},
                         {"R600a", 0.5, 35, 464.8, 4.87, 0.108},   {"R134a", 1.524, 20, 571.7, 33.79, 0.766},
                         {"R1270", 0.5, 20, 1017.0, 4.66, 0.194}};

Result<HoseCost> cost(const Row& row, bool low_loss = false) {
  // a hair above saturation, so that it condenses
  return hose_cost(*service::load_fluid(row.refrigerant), {4.8e-3, row.length, row.kilopascal * 1e3 * 1.0005,
                                                           row.celsius + 273.15, low_loss, false, 0});
}

TEST(HoseCost, HoldsWhatTheRowsSay) {
  for (const Row& row : kRows) {
    const auto out = cost(row);
    ASSERT_TRUE(out) << to_text(out.problem());
    EXPECT_TRUE(out->condenses) << row.refrigerant;
    EXPECT_NEAR(out->missing.high * 1e3, row.liquid, 0.008) << row.refrigerant << row.length;
    EXPECT_NEAR(out->missing.low * 1e3, row.vapour, 0.002) << row.refrigerant << row.length;
    EXPECT_DOUBLE_EQ(out->missing.high, out->released.high);
  }
}

TEST(HoseCost, HoldsVapourWhereItIsWarmerThanSaturation) {
  const auto out = hose_cost(*service::load_fluid("R290"), {4.8e-3, 1.524, 2e5, 298.15, false, false, 0});
  ASSERT_TRUE(out);
  EXPECT_FALSE(out->condenses);
  EXPECT_DOUBLE_EQ(out->missing.low, out->missing.high);
  // 27.58 mL at 2 bar and 25 C: p V M/(R T) = 0.0981 g, Z 0.966
  EXPECT_NEAR(out->missing.mid * 1e3, 0.0981 / 0.966, 0.001);
}

TEST(HoseCost, AFittingKeepsItFromTheAirNotFromTheMachine) {
  const auto open = cost(kRows[1]), shut = cost(kRows[1], true);
  ASSERT_TRUE(open && shut);
  EXPECT_DOUBLE_EQ(open->missing.high, shut->missing.high);
  EXPECT_LT(shut->released.high, 0.05 * open->released.high);
  EXPECT_LE(shut->released.low, shut->released.mid);
  EXPECT_LE(shut->released.mid, shut->released.high);
}

TEST(HoseCost, PullingBackLeavesVapourAtTheSuctionsPressure) {
  const auto back = hose_cost(*service::load_fluid("R290"), {4.8e-3, 1.524, 14e5, 298.15, false, true, 2e5});
  const auto low = hose_cost(*service::load_fluid("R290"), {4.8e-3, 1.524, 2e5, 298.15, false, false, 0});
  ASSERT_TRUE(back && low);
  EXPECT_TRUE(back->condenses);
  EXPECT_NEAR(back->missing.high, low->missing.mid, 1e-12);
  EXPECT_FALSE(hose_cost(*service::load_fluid("R290"), {0, 1, 2e5, 298.15, false, false, 0}));
}

TEST(SumOf, AddsEnds) {
  const auto sum = sum_of({{1, 2, 4}, {0.5, 1, 1}});
  EXPECT_DOUBLE_EQ(sum.low, 1.5);
  EXPECT_DOUBLE_EQ(sum.mid, 3);
  EXPECT_DOUBLE_EQ(sum.high, 5);
}

}  // namespace
}  // namespace coldwright::procedures

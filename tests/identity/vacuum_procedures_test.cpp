// Evacuation and the decay after it: limits that hold in closed form, and causes told apart on courses drawn
// from each of them.
#include <gtest/gtest.h>

#include <cmath>

#include "base/normal.hpp"
#include "procedures/decay.hpp"
#include "procedures/vacuum_line.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kRoom = 293.15, kWater = 2339;  // Pa, water at 20 C

TEST(PumpDown, WithoutALineIsTheLogarithm) {
  const Pump pump{1e-3, 1};
  const auto t = pump_down_time(pump, {}, 2e-3, kRoom, 101325, 50);
  ASSERT_TRUE(t);
  EXPECT_NEAR(*t, 2.0 * std::log((101325.0 - 1) / (50.0 - 1)), 1e-6 * *t);
}

TEST(PumpDown, TakesLongerThroughANarrowerOrLongerHose) {
  const Pump pump{1.2e-3, 2};
  const auto t = [&](Line hose) { return *pump_down_time(pump, {hose}, 3e-3, kRoom, 101325, 67); };
  EXPECT_GT(t({0.0048, 1.5}), 2 * t({0.0095, 1.5}));
  EXPECT_GT(t({0.0048, 3}), 1.3 * t({0.0048, 1.5}));
  EXPECT_FALSE(pump_down_time(pump, {}, 3e-3, kRoom, 101325, 1.5));
}

TEST(DryingTime, IsMassOverThroughput) {
  const Pump pump{1e-3, 0};
  const auto t = drying_time(pump, {}, 1e-3, kWater, kRoom);
  ASSERT_TRUE(t);
  EXPECT_NEAR(*t, 1e-3 * 461.52 * kRoom / (1e-3 * kWater), 1e-9 * *t);
  EXPECT_FALSE(drying_time({1e-3, 3000}, {}, 1e-3, kWater, kRoom));
}

std::vector<DecayReading> course(double p0, double rise, double settling, double leak, double minutes,
                                 std::uint64_t seed) {
  RandomStream random(seed);
  std::vector<DecayReading> out;
  for (double m = 0; m <= minutes; ++m) {
    const double t = 60 * m, p = p0 + rise * (1 - std::exp(-t / settling)) + leak * t;
    out.push_back({t, p * (1 + 0.004 * random.normal())});
  }
  return out;
}

double probability(const std::vector<DecayReading>& readings, DecayCause cause) {
  const auto answer = judge_decay(readings, {}, kWater);
  EXPECT_TRUE(answer) << to_text(answer.problem());
  double sum = 0;
  for (double p : answer->probability) sum += p;
  EXPECT_NEAR(sum, 1, 1e-9);
  return answer->probability[static_cast<std::size_t>(cause)];
}

TEST(Decay, TellsTheCausesApart) {
  for (std::uint64_t seed : {1, 2, 3, 4, 5}) {
    EXPECT_GT(probability(course(45, 3, 300, 0, 20, seed), DecayCause::tight), 0.8) << seed;
    EXPECT_GT(probability(course(45, 0, 1, 0.4, 20, seed), DecayCause::leak), 0.9) << seed;
    EXPECT_GT(probability(course(45, 900, 500, 0, 20, seed), DecayCause::moisture), 0.9) << seed;
  }
}

TEST(Decay, FindsTheRateOfALeak) {
  int inside = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const auto answer = judge_decay(course(60, 0, 1, 0.2, 15, seed), {}, kWater);
    ASSERT_TRUE(answer);
    inside += answer->leak_rate.low <= 0.2 && 0.2 <= answer->leak_rate.high;
  }
  EXPECT_GE(inside, 32);  // 36 expected of a 90 % range; fewer than 32 in 1 of 40 such tests
}

TEST(Decay, SaysHowMuchLongerWouldDecide) {
  const auto early = judge_decay(course(60, 0, 1, 0.12, 3, 7), {}, kWater);
  ASSERT_TRUE(early);
  ASSERT_TRUE(early->minutes_to_decide);
  EXPECT_GT(*early->minutes_to_decide, 0);
  const auto later = judge_decay(course(60, 0, 1, 0.12, 3 + *early->minutes_to_decide + 30, 7), {}, kWater);
  ASSERT_TRUE(later);
  EXPECT_EQ(*later->minutes_to_decide, 0);
}

TEST(Decay, AsksAboutAReadingOutOfOrder) {
  const auto answer = judge_decay({{0, 50}, {120, 52}, {60, 51}}, {}, kWater);
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.problem().field, "decay reading 3");
  EXPECT_FALSE(judge_decay({{0, 50}, {60, 51}}, {}, kWater));
  EXPECT_FALSE(judge_decay({{0, 50}, {60, -3}, {120, 51}}, {}, kWater));
}

}  // namespace
}  // namespace coldwright::procedures

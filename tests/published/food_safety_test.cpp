// Time of a food above the limit for cold holding, against the FDA Food Code's own numbers [fda2022, 3-501.16
// and 3-501.19], rows worked by hand, and a fine sampling of the same straight lines.
#include "procedures/food_safety.hpp"

#include <gtest/gtest.h>

#include <random>

#include "base/field_units.hpp"

namespace coldwright::procedures {
namespace {

double celsius(double t) { return t + 273.15; }
constexpr double kHour = 3600;

FoodHistory history(const std::vector<FoodReading>& readings) {
  const auto out = food_history(readings);
  EXPECT_TRUE(out) << to_text(out.problem());
  return out ? *out : FoodHistory{};
}

TEST(FoodCode, LimitsAreThoseOfBothScales) {
  // 41 F is 5 C, 70 F is 21 C in the code's own rounding (21.1).
  EXPECT_NEAR(cold_holding_limit, base::parse_temperature("41F", "t")->si, 1e-9);
  EXPECT_NEAR(six_hour_limit, base::parse_temperature("70F", "t")->si, 0.12);
  EXPECT_EQ(time_limit, 4 * kHour);
  EXPECT_EQ(longer_time_limit, 6 * kHour);
}

TEST(FoodSafety, CrossesBetweenTwoReadings) {
  // 3 to 7 C in an hour passes 5 C halfway; back from 9 to 3 C in 3 h passes it after 2 h.
  const FoodHistory h =
      history({{0, celsius(3)}, {1 * kHour, celsius(7)}, {2 * kHour, celsius(9)}, {5 * kHour, celsius(3)}});
  EXPECT_NEAR(h.above, 3.5 * kHour, 1e-6);
  EXPECT_NEAR(h.longest_above, 3.5 * kHour, 1e-6);
  EXPECT_NEAR(h.longest_possible, 5 * kHour, 1e-9);
  EXPECT_NEAR(h.longest_gap, 3 * kHour, 1e-9);
  EXPECT_NEAR(h.warmest, celsius(9), 1e-9);
  EXPECT_FALSE(h.above_at_first || h.above_at_last || h.above_six_hour_limit);
  EXPECT_EQ(food_time(h), FoodTime::open);  // 3.5 h by straight lines, 5 h as far as anybody read
}

TEST(FoodSafety, KeepsStretchesApart) {
  const FoodHistory h = history({{0, celsius(4)},
                                 {1 * kHour, celsius(6)},
                                 {2 * kHour, celsius(4)},
                                 {3 * kHour, celsius(4)},
                                 {4 * kHour, celsius(8)},
                                 {5 * kHour, celsius(4)}});
  EXPECT_NEAR(h.above, (1 + 1.5) * kHour, 1e-6);
  EXPECT_NEAR(h.longest_above, 1.5 * kHour, 1e-6);
  EXPECT_NEAR(h.longest_possible, 2 * kHour, 1e-9);
  EXPECT_EQ(food_time(h), FoodTime::within);
}

TEST(FoodSafety, VerdictsLieAtTheCodesHours) {
  const auto warm_for = [](double hours, double peak) {
    return history({{-60, celsius(5)}, {0, celsius(peak)}, {hours * kHour, celsius(peak)}});
  };
  EXPECT_EQ(food_time(history({{0, celsius(5)}, {9 * kHour, celsius(5)}})), FoodTime::never_above);
  EXPECT_EQ(food_time(warm_for(3, 10)), FoodTime::open);  // still warm when last read
  EXPECT_EQ(food_time(warm_for(5, 10)), FoodTime::over_four);
  EXPECT_EQ(food_time(warm_for(5, 21)), FoodTime::over_four);
  EXPECT_EQ(food_time(warm_for(5, 21.5)), FoodTime::over);
  EXPECT_EQ(food_time(warm_for(6.1, 10)), FoodTime::over);
}

TEST(FoodSafety, WarmWhenFirstReadIsOpen) {
  const FoodHistory one = history({{0, celsius(12)}});
  EXPECT_TRUE(one.above_at_first && one.above_at_last);
  EXPECT_EQ(one.above, 0);
  EXPECT_EQ(food_time(one), FoodTime::open);
  const FoodHistory h = history({{0, celsius(9)}, {kHour, celsius(1)}});
  EXPECT_NEAR(h.above, 0.5 * kHour, 1e-6);
  EXPECT_EQ(food_time(h), FoodTime::open);
}

TEST(FoodSafety, AgreesWithAFineSampling) {
  std::mt19937 draws(11);
  std::uniform_real_distribution<double> t(-2, 24), step(60, 5000);
  for (int round = 0; round < 200; ++round) {
    std::vector<FoodReading> readings;
    double at = 0;
    for (int i = 0; i < 9; ++i) readings.push_back({at += step(draws), celsius(t(draws))});
    const FoodHistory h = history(readings);
    double above = 0;
    constexpr int kSteps = 4000;
    for (std::size_t i = 1; i < readings.size(); ++i) {
      const double span = readings[i].seconds - readings[i - 1].seconds;
      for (int k = 0; k < kSteps; ++k) {
        const double share = (k + 0.5) / kSteps;
        if (readings[i - 1].T + share * (readings[i].T - readings[i - 1].T) > cold_holding_limit)
          above += span / kSteps;
      }
    }
    EXPECT_NEAR(h.above, above, 8 * 5000.0 / kSteps);
    EXPECT_LE(h.longest_above, h.above + 1e-6);
    EXPECT_LE(h.longest_above, h.longest_possible + 1e-6);
  }
}

TEST(FoodSafety, RefusesWhatHasNoOrder) {
  EXPECT_FALSE(food_history({}));
  EXPECT_FALSE(food_history({{10, celsius(3)}, {10, celsius(4)}}));
  EXPECT_FALSE(food_history({{10, celsius(3)}, {5, celsius(4)}}));
  EXPECT_FALSE(food_history({{10, 0.0 / 1.0}}));
  EXPECT_FALSE(food_history({{10, 1000}}));
}

}  // namespace
}  // namespace coldwright::procedures

// The standing test: what limits it, what a tight and a leaking volume show, and what a leak would lose.
#include <gtest/gtest.h>

#include <cmath>

#include "base/normal.hpp"
#include "procedures/pressure_test.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::procedures {
namespace {

const fluids::Fluid& nitrogen() {
  static const auto fluid = service::load_fluid("R728");
  return *fluid;
}

TEST(TestPressure, IsTheLowestPlateOfWhatIsConnected) {
  const std::vector<Side> sides{{"low side", 13e5, true}, {"high side", 25e5, true}};
  EXPECT_EQ(*allowed_test_pressure(sides), 13e5);
  EXPECT_FALSE(check_test_pressure(sides, 12e5));
  const auto refused = check_test_pressure(sides, 20e5);
  ASSERT_TRUE(refused);
  EXPECT_NE(refused->allowed.find("low side"), std::string::npos);
  EXPECT_EQ(*allowed_test_pressure({{"low side", 13e5, false}, {"high side", 25e5, true}}), 25e5);
  EXPECT_FALSE(allowed_test_pressure({{"low side", std::nullopt, true}}));
  EXPECT_FALSE(allowed_test_pressure({}));
}

TEST(Tightness, DoesNotCallAFallingTemperatureALeak) {
  std::vector<TightnessReading> readings;
  for (int i = 0; i <= 6; ++i) {
    const double T = 303.15 - i;
    readings.push_back({600.0 * i, *pressure_at(nitrogen(), 28e5, 303.15, T), T});
  }
  const auto out = judge_tightness(nitrogen(), readings, {1e3, 0.05}, 2e-3, 1e-3);
  ASSERT_TRUE(out) << to_text(out.problem());
  EXPECT_NEAR(out->leak.mid, 0, 1e-3 * out->smallest_shown);
}

TEST(Tightness, CoversTheLeakNineTimesOfTen) {
  const double volume = 2e-3, leak = 4e-3, resolution = 2e3;  // Pa m3/s: 2 Pa/s
  int covered = 0, shown = 0;
  RandomStream random(5);
  for (int trial = 0; trial < 200; ++trial) {
    std::vector<TightnessReading> readings;
    for (int i = 0; i <= 10; ++i) {
      const double t = 360.0 * i, p = 20e5 - leak / volume * t;
      readings.push_back({t, p + resolution * (random.uniform() - 0.5), 293.15});
    }
    const auto out = judge_tightness(nitrogen(), readings, {resolution, 1e-6}, volume, leak);
    ASSERT_TRUE(out);
    covered += out->leak.low <= leak && leak <= out->leak.high;
    shown += out->leak.low > 0;
    EXPECT_NEAR(out->seconds_needed, 3600 * out->smallest_shown / leak, 1);
  }
  EXPECT_NEAR(covered, 180, 15);  // 90 %, three standard deviations 13
  EXPECT_EQ(shown, 200);          // far above the smallest that is shown
}

TEST(YearlyLoss, GrowsWithThePressuresAsItPasses) {
  const auto r290 = service::load_fluid("R290");
  ASSERT_TRUE(r290);
  const auto loss = [&](double p_test, double p_service) {
    return *yearly_loss(nitrogen(), *r290, 1e-5, p_test, p_service, 293.15, 101325);
  };
  const YearlyLoss a = loss(10e5, 5e5), b = loss(20e5, 5e5);
  EXPECT_NEAR(b.viscous / a.viscous, (1e12 - 101325.0 * 101325) / (4e12 - 101325.0 * 101325), 1e-9);
  EXPECT_NEAR(b.molecular / a.molecular, (10e5 - 101325) / (20e5 - 101325), 1e-9);
  EXPECT_EQ(loss(10e5, 1e5).viscous, 0);
  EXPECT_GT(a.viscous, 0);
}

TEST(Tightness, AsksAboutTimesThatDontRise) {
  const auto out = judge_tightness(nitrogen(), {{0, 20e5, 293}, {600, 20e5, 293}, {300, 20e5, 293}},
                                   {1e3, 0.1}, 2e-3, 1e-3);
  ASSERT_FALSE(out);
  EXPECT_EQ(out.problem().field, "test reading 3");
}

}  // namespace
}  // namespace coldwright::procedures

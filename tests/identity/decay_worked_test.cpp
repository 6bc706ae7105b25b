// Rises as a technician writes them down, and what they have to say: worked by hand from the shape alone.
#include <gtest/gtest.h>

#include <cmath>

#include "base/normal.hpp"
#include "procedures/decay.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kMicron = 101325.0 / 760000.0, kWater20C = 2339, kIceMinus20C = 103.3;  // Pa [wagner1993]

std::vector<DecayReading> every(double minutes, const std::vector<double>& microns) {
  std::vector<DecayReading> out;
  for (double m : microns) out.push_back({60 * minutes * static_cast<double>(out.size()), m * kMicron});
  return out;
}

double of(const DecayAnswer& a, DecayCause cause) { return a.probability[static_cast<std::size_t>(cause)]; }

DecayAnswer judged(const std::vector<DecayReading>& r, double water = kWater20C, DecayGauge gauge = {}) {
  const auto a = judge_decay(r, gauge, water);
  EXPECT_TRUE(a) << to_text(a.problem());
  return a ? *a : DecayAnswer{};
}

TEST(DecayWorked, EqualStepsAreALeak) {
  for (double minutes : {1.0, 2.0, 5.0, 10.0}) {
    const DecayAnswer a = judged(every(minutes, {500, 700, 900, 1100}));
    EXPECT_GT(of(a, DecayCause::leak), minutes < 2 ? 0.7 : 0.8) << minutes;  // three minutes are few
    const double rate = 200 * kMicron / (60 * minutes);
    EXPECT_LE(a.leak_rate.low, 1.01 * rate);
    EXPECT_GE(a.leak_rate.high, 0.99 * rate);
    EXPECT_TRUE(a.explained);
  }
}

TEST(DecayWorked, LevellingIsNoLeakAndSaysWhere) {
  for (double minutes : {1.0, 2.0, 5.0, 10.0}) {
    const DecayAnswer a = judged(every(minutes, {500, 900, 1150, 1250, 1280}));
    EXPECT_GT(of(a, DecayCause::moisture) + of(a, DecayCause::oil), 0.9) << minutes;
    ASSERT_TRUE(a.level);
    // steps of 400, 250, 100, 30: some 20 to 80 to come
    EXPECT_NEAR(a.level->mid / kMicron, 1330, 60) << minutes;
  }
}

TEST(DecayWorked, AFewMicronsAreTight) {
  for (double minutes : {2.0, 5.0, 10.0})
    EXPECT_GT(of(judged(every(minutes, {480, 490, 492, 493})), DecayCause::tight), 0.8) << minutes;
}

TEST(DecayWorked, ALeakThatAlsoGivesOffGasIsStillALeak) {
  // 60 Pa given off in the first minutes, then straight on at 0.1 Pa/s
  std::vector<DecayReading> r;
  for (double m = 0; m <= 40; m += 4) r.push_back({60 * m, 50 + 60 * (1 - std::exp(-m / 5)) + 6 * m});
  EXPECT_GT(of(judged(r), DecayCause::leak), 0.8);
}

TEST(DecayWorked, WaterCantLevelAboveItsOwnVapourPressure) {
  // Levelling near 1300 micron, 173 Pa, where everything wet is ice at -20 C or colder: 103 Pa.
  const auto r = every(5, {500, 900, 1150, 1250, 1280});
  EXPECT_GT(of(judged(r, kWater20C), DecayCause::moisture), 0.02);
  EXPECT_LT(of(judged(r, kIceMinus20C), DecayCause::moisture), 1e-3);
  // Ice that holds 100 Pa is found though water's usual rise would be larger.
  const auto ice = every(5, {100, 420, 600, 690, 730, 752, 763, 768});
  EXPECT_GT(of(judged(ice, kIceMinus20C), DecayCause::moisture), 0.2);
}

TEST(DecayWorked, EqualReadingsAreTightAndLeaveRoomForASmallLeak) {
  const DecayAnswer a = judged(every(10, {500, 500, 500}));
  EXPECT_GT(of(a, DecayCause::tight), of(a, DecayCause::leak));
  EXPECT_GT(of(a, DecayCause::leak), 0);
  // noise of 0.33 Pa each over 20 min: a leak of 0.002 Pa/s rises 2.4 Pa and would show
  EXPECT_LT(a.leak_rate.high, 0.01);
  EXPECT_TRUE(a.fell.empty());
}

TEST(DecayWorked, AFallIsNamedAndNotDropped) {
  const auto r = every(5, {500, 700, 620, 640});
  const DecayAnswer a = judged(r);
  ASSERT_EQ(a.fell.size(), 1u);
  EXPECT_EQ(a.fell.front(), 2u);
  EXPECT_FALSE(a.explained);
  EXPECT_TRUE(judged(every(5, {500, 502, 501, 503})).fell.empty());  // within the gauge's noise
}

TEST(DecayWorked, ACoarseGaugeDecidesLess) {
  const auto r = every(5, {500, 700, 900, 1100});
  const DecayAnswer coarse = judged(r, kWater20C, {3386, 0.005});  // inches of mercury
  EXPECT_LT(of(coarse, DecayCause::leak), 0.5);
}

TEST(DecayWorked, FitsPassThroughTheReadings) {
  const auto r = every(5, {500, 700, 900, 1100});
  const DecayFit leak = judged(r).fit[static_cast<std::size_t>(DecayCause::leak)];
  for (const DecayReading& x : r) EXPECT_NEAR(leak.at(x.time), x.pressure, 0.02 * x.pressure);
}

// Probabilities hold what they say: of many courses drawn from the causes at their prior shares, those called
// with about 80 % are right about so often.
TEST(DecayWorked, ProbabilitiesAreCalibrated) {
  RandomStream random(3);
  double said = 0;
  int right = 0, all = 0;
  for (int i = 0; i < 100; ++i) {
    const double u = random.uniform(), v = random.uniform(), w = random.uniform();
    const auto between = [](double low, double high, double x) { return low * std::pow(high / low, x); };
    const DecayCause truth = u < 0.45   ? DecayCause::tight
                             : u < 0.65 ? DecayCause::leak
                             : u < 0.85 ? DecayCause::moisture
                                        : DecayCause::oil;
    DecayFit c{50, 0, 1, 0};
    if (truth == DecayCause::tight) c = {50, between(0.1, 12, v), between(60, 1800, w), 0};
    if (truth == DecayCause::leak) c.leak = between(0.003, 30, v);
    if (truth == DecayCause::moisture) c = {50, between(40, 2200, v), between(60, 3000, w), 0};
    if (truth == DecayCause::oil) c = {50, between(12, 300, v), between(300, 9000, w), 0};
    std::vector<DecayReading> r;
    for (double t = 0; t <= 900; t += 150) r.push_back({t, c.at(t) * (1 + 0.005 * random.normal())});
    const DecayAnswer a = judged(r);
    std::size_t first = 0;
    for (std::size_t k = 1; k < 4; ++k)
      if (a.probability[k] > a.probability[first]) first = k;
    said += a.probability[first];
    right += static_cast<DecayCause>(first) == truth;
    ++all;
  }
  // one standard deviation of the number right is at most 5
  EXPECT_NEAR(right, said, 13) << "of " << all;
}

}  // namespace
}  // namespace coldwright::procedures

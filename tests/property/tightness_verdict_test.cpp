// The standing test's verdict on courses whose truth is known: made step by step in here, not by what is
// tested.
#include <gtest/gtest.h>

#include <cmath>

#include "base/normal.hpp"
#include "procedures/tightness.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kRoom = 293.15, kGrams = 8.7578e-6 / 5;  // Pa m3/s of a gram of R290 a year at 20 C

const fluids::Fluid& nitrogen_fluid() {
  static const auto fluid = service::load_fluid("R728");
  return *fluid;
}

struct World {
  double leak = 0;                 // Pa m3/s
  double minutes = 60, every = 5;  // of the test, and between readings
  double temperature_fall = 0;     // K over the test
  double apart = 0;                // Pa between the sides at the start
  double resolution = 200, temperature_sigma = 0.02;
  TwoSides sides{0.6e-3, 1.9e-3};
  Tube tube{0.8e-3, 2.5, 1.5e-6};
  double volume() const { return sides.gauge + sides.other; }
};

// Two vessels and a tube in steps of a twentieth of a second; the leak from both alike.
std::vector<TightnessReading> course(const World& w, RandomStream& random) {
  const Gas gas = nitrogen();
  const double RT = gas.gas_constant * kRoom;
  double a = 20e5, b = 20e5 - w.apart;
  std::vector<TightnessReading> readings;
  const double dt = 0.05;
  double next = 0;
  for (double t = 0; next <= w.minutes * 60 + 1e-6; t += dt) {
    if (t >= next - 1e-9) {
      const double T = kRoom - w.temperature_fall * t / (w.minutes * 60);
      const double p = *pressure_at(nitrogen_fluid(), a, kRoom, T);
      readings.push_back({t, std::round((p / w.resolution) + random.uniform() - 0.5) * w.resolution,
                          T + w.temperature_sigma * random.normal()});
      next += w.every * 60;
    }
    if (a - b > 20) {
      const double m = gas_flow(gas, w.tube, a, kRoom, b)->flow * RT * dt;
      a -= m / w.sides.gauge;
      b += m / w.sides.other;
    }
    a -= w.leak / w.volume() * dt;
    b -= w.leak / w.volume() * dt;
  }
  return readings;
}

StandingTest as_test(const World& w, std::vector<TightnessReading> readings, bool joined) {
  StandingTest test;
  test.gas = {&nitrogen_fluid()};
  test.readings = std::move(readings);
  test.gauge = {w.resolution, w.temperature_sigma};
  test.volume = {w.volume(), 0};
  test.wanted = 100 * kGrams;
  if (joined) test.joined = Joined{w.sides, w.tube, 0.15, FedSide::gauge};
  return test;
}

TightnessAnswer judged(const World& w, bool joined, std::uint64_t seed = 3) {
  RandomStream random(seed);
  const auto out = judge_standing(as_test(w, course(w, random), joined));
  EXPECT_TRUE(out) << to_text(out.problem());
  return out ? *out : TightnessAnswer{};
}

TEST(StandingVerdict, IsThatOfTheStraightLineWhereThereIsNothingElse) {
  World w{.leak = 300 * kGrams};
  RandomStream random(4);
  const auto readings = course(w, random);
  const auto line =
      judge_tightness(nitrogen_fluid(), readings, {w.resolution, w.temperature_sigma}, w.volume(), 1e-4);
  auto test = as_test(w, readings, false);
  const auto out = judge_standing(test);
  ASSERT_TRUE(line && out);
  EXPECT_NEAR(out->leak.mid, line->leak.mid, 1e-6 * std::abs(line->leak.mid));
  const double wider = std::max(1.0, out->scatter);
  EXPECT_NEAR(out->leak.high - out->leak.low, wider * (line->leak.high - line->leak.low),
              1e-4 * (line->leak.high - line->leak.low));
  EXPECT_NEAR(out->smallest_shown, wider * line->smallest_shown, 1e-4 * line->smallest_shown);
}

TEST(StandingVerdict, IsTightAfterLongEnoughAndNotDecidedBefore) {
  EXPECT_EQ(judged({.minutes = 1440, .every = 60}, false).verdict, TightnessVerdict::tight);
  const auto early = judged({.minutes = 20}, false);
  EXPECT_EQ(early.verdict, TightnessVerdict::undecided);
  EXPECT_GT(early.seconds_needed, 20 * 60);
}

TEST(StandingVerdict, FindsALeakAndItsSize) {
  const auto out = judged({.leak = 3000 * kGrams, .minutes = 120}, false);
  EXPECT_EQ(out.verdict, TightnessVerdict::leaks);
  EXPECT_LT(out.leak.low, 3000 * kGrams);
  EXPECT_GT(out.leak.high, 3000 * kGrams);
}

TEST(StandingVerdict, DoesNotCallAFallingTemperatureALeak) {
  const auto out = judged({.minutes = 1440, .every = 60, .temperature_fall = 6}, false);
  EXPECT_EQ(out.verdict, TightnessVerdict::temperature);
  EXPECT_NEAR(out.fall, out.fall_expected, 1500);
  EXPECT_GT(out.fall_expected, 3e4);
}

TEST(StandingVerdict, DoesNotCallEqualisingALeak) {
  // Two bar apart at the start and read every half minute: alone that is a huge leak.
  const World w{.minutes = 6, .every = 0.5, .apart = 4e5};
  EXPECT_EQ(judged(w, false).verdict, TightnessVerdict::leaks);
  const auto out = judged(w, true);
  EXPECT_NE(out.verdict, TightnessVerdict::leaks);
  EXPECT_LT(out.probability_above, 0.95);
  // in its midst it says so
  const auto midst = judged({.minutes = 2, .every = 0.25, .apart = 8e5, .tube = {0.5e-3, 3, 0}}, true);
  EXPECT_EQ(midst.verdict, TightnessVerdict::equalising);
  EXPECT_GT(midst.still_apart, 0.9);
  EXPECT_GT(midst.seconds_to_equal, 10);
  // a day later the first hour no longer matters
  const auto late = judged(
      {.minutes = 1440, .every = 30, .apart = 8e5, .sides = {0.6e-3, 1.9e-3}, .tube = {0.35e-3, 4, 0}}, true);
  EXPECT_EQ(late.verdict, TightnessVerdict::equalised);
  EXPECT_LT(late.still_apart, 0.05);
}

TEST(StandingVerdict, SeesATubeThatIsPartlyBlocked) {
  // The world's tube passes about a tenth of what the test believes.
  World w{.minutes = 8, .every = 0.25, .apart = 4e5, .tube = {0.34e-3, 2.5, 0}};
  RandomStream random(8);
  auto test = as_test(w, course(w, random), true);
  test.joined->tube = {0.8e-3, 2.5, 1.5e-6};
  const auto out = judge_standing(test);
  ASSERT_TRUE(out);
  EXPECT_NE(out->verdict, TightnessVerdict::leaks);
  ASSERT_TRUE(out->tube_speed);
  EXPECT_LT(*out->tube_speed, 0.25);
}

TEST(StandingVerdict, FindsALeakBehindTheEqualising) {
  const auto out = judged({.leak = 3000 * kGrams, .minutes = 180, .apart = 4e5}, true);
  EXPECT_EQ(out.verdict, TightnessVerdict::leaks);
  EXPECT_LT(out.leak.low, 3000 * kGrams);
  EXPECT_GT(out.leak.high, 3000 * kGrams);
}

TEST(StandingVerdict, IsRightAsOftenAsItSays) {
  // Leaks of nothing, or of a size spread about the wanted one, with every nuisance: the stated probability
  // that the leak is above the wanted one has to be met by how often it is.
  RandomStream random(21);
  double stated = 0, brier = 0;
  int above = 0, covered = 0;
  const int trials = 60;
  for (int i = 0; i < trials; ++i) {
    World w{.leak = 2500 * kGrams * random.uniform(),
            .minutes = 60,
            .every = 4,
            .temperature_fall = 2 * random.normal(),
            .apart = random.uniform() < 0.3 ? 0 : 3e5 * random.uniform()};
    auto test = as_test(w, course(w, random), true);
    test.wanted = 1000 * kGrams;
    const auto out = judge_standing(test);
    ASSERT_TRUE(out);
    stated += out->probability_above;
    above += w.leak > test.wanted;
    brier += std::pow(out->probability_above - (w.leak > test.wanted), 2) / trials;
    covered += out->leak.low <= w.leak && w.leak <= out->leak.high;
  }
  std::printf("  measured: above %d, stated %.1f, Brier %.3f, covered %d of %d\n", above, stated, brier,
              covered, trials);
  EXPECT_NEAR(above, stated, 12);
  EXPECT_NEAR(covered, 54, 7);
  EXPECT_LT(brier, 0.08);
}

TEST(StandingVerdict, WidensWithAVolumeThatIsntKnown) {
  const World w{.leak = 3000 * kGrams, .minutes = 120};
  RandomStream random(9);
  auto test = as_test(w, course(w, random), false);
  const auto known = judge_standing(test);
  test.volume.sigma = 0.3 * test.volume.value;
  const auto guessed = judge_standing(test);
  ASSERT_TRUE(known && guessed);
  EXPECT_GT(guessed->leak.high - guessed->leak.low, 1.2 * (known->leak.high - known->leak.low));
}

TEST(StandingVerdict, AsksAboutReadingsOutOfOrder) {
  StandingTest test = as_test({}, {{0, 20e5, kRoom}, {600, 20e5, kRoom}, {300, 20e5, kRoom}}, false);
  auto out = judge_standing(test);
  ASSERT_FALSE(out);
  EXPECT_EQ(out.problem().field, "test reading 3");
  test.readings = {{0, 20e5, kRoom}};
  EXPECT_FALSE(judge_standing(test));
  test.readings = {{0, 20e5, kRoom}, {600, 20e5, kRoom}};
  test.volume.value = 0;
  EXPECT_EQ(judge_standing(test).problem().field, "volume");
}

TEST(SmallestLeak, IsWhatTheTestItselfWouldSay) {
  std::vector<TightnessReading> readings;
  for (int i = 0; i < 9; ++i) readings.push_back({450.0 * i, 20e5, kRoom});
  const TightnessGauge gauge{1e3, 0.1};
  const auto out = judge_tightness(nitrogen_fluid(), readings, gauge, 2e-3, 1e-4);
  ASSERT_TRUE(out);
  EXPECT_NEAR(smallest_leak(2e-3, reading_spread(gauge, 20e5, kRoom), 9, 3600), out->smallest_shown,
              1e-9 * out->smallest_shown);
}

TEST(StagedRise, GoesUpInThreeStops) {
  const auto stages = staged_rise(1e5, 21e5);
  ASSERT_EQ(stages.size(), 3u);
  EXPECT_DOUBLE_EQ(stages[0].pressure, 3e5);
  EXPECT_DOUBLE_EQ(stages[1].pressure, 11e5);
  EXPECT_DOUBLE_EQ(stages[2].pressure, 21e5);
  EXPECT_DOUBLE_EQ(staged_rise(1e5, 5e5)[0].pressure, 2e5);  // never past a quarter of the way
}

}  // namespace
}  // namespace coldwright::procedures

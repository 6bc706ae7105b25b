// Two sides that equalise: the one curve run through from any start, against two vessels emptied and filled
// step by step and against the time of the closed integral.
#include "procedures/equalising.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace coldwright::procedures {
namespace {

constexpr double kRoom = 293.15;
constexpr Tube kTube{0.7e-3, 3, 1.5e-6};
constexpr TwoSides kSides{0.9e-3, 2.1e-3};  // the gauge on the smaller

TEST(Equalising, IsWhatTwoVesselsDoStepByStep) {
  const Gas gas = nitrogen();
  const double RT = gas.gas_constant * kRoom;
  double a = 20e5, b = 8e5;  // Pa on the gauge's side and on the other
  const double p_end = (kSides.gauge * a + kSides.other * b) / (kSides.gauge + kSides.other);
  const auto course = Equalising::make(gas, kTube, kSides, p_end, kRoom, 13e5, 50);
  ASSERT_TRUE(course) << to_text(course.problem());
  const double dt = 0.02;
  int next = 1;
  for (double t = 0; next <= 6; t += dt) {
    if (t >= 20.0 * next) {
      EXPECT_NEAR(p_end + kSides.share() * course->later(12e5, t), a, 300) << t;
      ++next;
    }
    if (a - b < 100) break;
    const double half = 0.5 * dt * gas_flow(gas, kTube, a, kRoom, b)->flow * RT;
    const double m =
        gas_flow(gas, kTube, a - half / kSides.gauge, kRoom, b + half / kSides.other)->flow * RT * dt;
    a -= m / kSides.gauge;
    b += m / kSides.other;
  }
  EXPECT_GT(next, 3);
}

TEST(Equalising, TakesTheTimeOfTheIntegral) {
  const Gas gas = nitrogen();
  const double a = 20e5, b = 8e5,
               p_end = (kSides.gauge * a + kSides.other * b) / (kSides.gauge + kSides.other);
  const auto course = Equalising::make(gas, kTube, kSides, p_end, kRoom, 12e5, 50);
  ASSERT_TRUE(course);
  for (const double left : {3e5, 2e4, 1e3, 100.0}) {
    const auto time = time_to_equalise(gas, kTube, kSides.gauge, a, kSides.other, b, kRoom, left);
    ASSERT_TRUE(time);
    EXPECT_NEAR(course->time_at(left), *time, 3e-3 * *time) << left;
    EXPECT_NEAR(course->later(12e5, *time), left, 5e-3 * left);
  }
}

TEST(Equalising, IsOneCurveFromWhereverItStarts) {
  const auto course = Equalising::make(nitrogen(), kTube, kSides, 12e5, kRoom, 10e5, 50);
  ASSERT_TRUE(course);
  const double once = course->later(6e5, 60), twice = course->later(course->later(6e5, 25), 35);
  EXPECT_NEAR(once, twice, 1e-6 * once);
  EXPECT_NEAR(course->later(6e5, 30, 2), once, 1e-9 * once);  // twice the flow in half the time
  EXPECT_EQ(course->later(0, 10), 0);
}

TEST(Equalising, EndsWithPoiseuillesTimeConstant) {
  // laminar: flow = pi d^4 2 p dp/(256 mu L R T), so tau = V 128 mu L/(pi d^4 p) with V of both in a row
  const Tube narrow{0.4e-3, 4, 0};
  const double p = 15e5, V = 1 / (1 / kSides.gauge + 1 / kSides.other);
  const auto course = Equalising::make(nitrogen(), narrow, kSides, p, kRoom, 1e5, 20);
  ASSERT_TRUE(course);
  const double tau =
      V * 128 * nitrogen().viscosity * narrow.length / (3.14159265358979 * std::pow(narrow.bore, 4) * p);
  EXPECT_NEAR(course->time_constant(), tau, 0.01 * tau);
}

TEST(Equalising, RefusesWhatCannotBe) {
  EXPECT_FALSE(Equalising::make(nitrogen(), kTube, {0, 1e-3}, 12e5, kRoom, 1e5, 50));
  EXPECT_FALSE(Equalising::make(nitrogen(), kTube, kSides, 12e5, kRoom, 50, 50));
  EXPECT_FALSE(Equalising::make(nitrogen(), kTube, kSides, 2e5, kRoom, 10e5, 50));
}

}  // namespace
}  // namespace coldwright::procedures

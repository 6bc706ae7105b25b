// What must hold of gas in a tube whatever the numbers.
#include <gtest/gtest.h>

#include <cmath>

#include "procedures/gas_through_tube.hpp"

namespace coldwright::procedures {
namespace {

constexpr Tube kTube{0.8e-3, 2.5, 1.5e-6};
constexpr double kRoom = 293.15, kAir = 101325;

double flow(double p_from, double p_to = kAir, Tube tube = kTube) {
  const auto out = gas_flow(nitrogen(), tube, p_from, kRoom, p_to);
  EXPECT_TRUE(out) << to_text(out.problem());
  return out ? out->flow : 0;
}

TEST(GasThroughTube, IgnoresTheBackPressureOnceChoked) {
  const auto choked = gas_flow(nitrogen(), kTube, 30e5, kRoom, kAir);
  ASSERT_TRUE(choked);
  ASSERT_TRUE(choked->choked);
  EXPECT_GT(choked->pressure_out, kAir);
  EXPECT_DOUBLE_EQ(choked->flow, flow(30e5, 0.5 * choked->pressure_out));
  const auto slower = gas_flow(nitrogen(), kTube, 30e5, kRoom, 1.5 * choked->pressure_out);
  ASSERT_TRUE(slower);
  EXPECT_FALSE(slower->choked);
  EXPECT_LT(slower->flow, choked->flow);
  EXPECT_NEAR(slower->pressure_out, 1.5 * choked->pressure_out, 1e-6 * choked->pressure_out);
}

TEST(GasThroughTube, IsPoiseuillesFlowWhenSlow) {
  // pi d^4 (p1^2 - p2^2) / (256 mu L R T), laminar [roth1990, compressible Poiseuille]
  const Tube narrow{0.3e-3, 5, 0};
  const double p1 = 1.10e5, p2 = 1.0e5;
  const Gas n2 = nitrogen();
  const double poiseuille = 3.14159265358979 * std::pow(narrow.bore, 4) * (p1 * p1 - p2 * p2) /
                            (256 * n2.viscosity * narrow.length * n2.gas_constant * kRoom);
  EXPECT_NEAR(flow(p1, p2, narrow) / poiseuille, 1, 2e-3);
}

TEST(GasThroughTube, GrowsWithPressureAndBoreAndFallsWithLength) {
  EXPECT_GT(flow(12e5), flow(11e5));
  EXPECT_GT(flow(11e5, kAir, {0.85e-3, 2.5, 1.5e-6}), flow(11e5));
  EXPECT_LT(flow(11e5, kAir, {0.8e-3, 3, 1.5e-6}), flow(11e5));
}

TEST(TimeToFall, AddsUpAndIsInverseToTheFlow) {
  const Gas n2 = nitrogen();
  const auto t = [&](double from, double to) {
    const auto s = time_to_fall(n2, kTube, 1e-3, kRoom, from, to, kAir);
    EXPECT_TRUE(s) << to_text(s.problem());
    return s ? *s : 0;
  };
  EXPECT_NEAR(t(10e5, 4e5), t(10e5, 7e5) + t(7e5, 4e5), 1e-6 * t(10e5, 4e5));
  const double mid = 9.95e5;
  const double rate = flow(mid) * n2.gas_constant * kRoom / 1e-3;
  EXPECT_NEAR(t(10e5, 9.9e5), 0.1e5 / rate, 1e-4 * t(10e5, 9.9e5));
}

TEST(TimeToEqualise, IsThatOfTheDifferenceFalling) {
  // Where the flow is laminar it is proportional to p1^2 - p2^2, so the difference dies exponentially.
  const Gas n2 = nitrogen();
  const Tube narrow{0.3e-3, 5, 0};
  const auto time = [&](double difference) {
    const auto s = time_to_equalise(n2, narrow, 1e-3, 1.05e5, 0.5e-3, 1.0e5, kRoom, difference);
    EXPECT_TRUE(s);
    return s ? *s : 0;
  };
  EXPECT_NEAR(time(250) - time(500), time(500) - time(1000), 2e-3 * time(500));
  EXPECT_EQ(time(5e3), 0);
}

TEST(GasThroughTube, RefusesWhatCannotFlow) {
  EXPECT_FALSE(gas_flow(nitrogen(), kTube, 1e5, kRoom, 2e5));
  EXPECT_FALSE(gas_flow(nitrogen(), {0, 1, 0}, 2e5, kRoom, 1e5));
  EXPECT_FALSE(gas_flow(nitrogen(), {1e-3, -1, 0}, 2e5, kRoom, 1e5));
}

}  // namespace
}  // namespace coldwright::procedures

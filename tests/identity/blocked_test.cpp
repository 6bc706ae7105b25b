// The capillary check: what it says of tubes whose blockage is known, against plain error propagation, an
// independent stepwise emptying of a vessel, and its own forward calculation.
#include "procedures/blocked.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/normal.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kAir = 101325, kRoom = 293.15;

const fluids::Fluid& nitrogen_fluid() {
  static const auto fluid = service::load_fluid("R728");
  return *fluid;
}

LikelyTube likely(double bore_sigma = 0.01e-3) { return {{0.8e-3, bore_sigma}, {2.5, 0.02}, 1.5e-6}; }
NitrogenSupply supply(double gauge_bar, double sigma = 5e3) {
  return {{gauge_bar * 1e5 + kAir, sigma}, kAir, {kRoom, 1}};
}
double flow(const Tube& tube, double p, double T = kRoom) {
  const auto gas = real_nitrogen(nitrogen_fluid(), kRoom, p, kAir);
  const auto out = gas_flow(*gas, tube, p, T, kAir);
  EXPECT_TRUE(out);
  return out ? out->flow : 0;
}

TEST(Spread, IsHaltonsSequenceAsNormals) {
  // points 21, 22, 23 of base 2 by hand: 21 = 10101b -> .10101b = 21/32, 22 = 10110b -> .01101b = 13/32, 23
  // -> 29/32
  EXPECT_NEAR(spread_normal(0, 0), normal_quantile(21.0 / 32), 1e-12);
  EXPECT_NEAR(spread_normal(1, 0), normal_quantile(13.0 / 32), 1e-12);
  EXPECT_NEAR(spread_normal(2, 0), normal_quantile(29.0 / 32), 1e-12);
  // 21 = 210 in base 3 -> .012 = 1/9 + 2/27
  EXPECT_NEAR(spread_normal(0, 1), normal_quantile(5.0 / 27), 1e-12);
  for (int d = 0; d < 6; ++d) {
    double mean = 0, square = 0;
    for (int i = 0; i < 192; ++i)
      mean += spread_normal(i, d) / 192, square += std::pow(spread_normal(i, d), 2) / 192;
    EXPECT_NEAR(mean, 0, 0.06) << d;
    EXPECT_NEAR(square, 1, 0.08) << d;
  }
}

TEST(Blocked, IsZeroForTheClearTubesOwnFlow) {
  const double own = flow({0.8e-3, 2.5, 1.5e-6}, supply(10).pressure.value);
  const auto out = blocked_by_flow(nitrogen_fluid(), {likely()}, {supply(10), {own, 0.02 * own}});
  ASSERT_TRUE(out) << to_text(out.problem());
  EXPECT_NEAR(out->blocked.mid, 0, 0.01);
  EXPECT_LT(out->blocked.low, 0);
  EXPECT_GT(out->blocked.high, 0);
  EXPECT_GT(out->probability_clear, 0.85);
  EXPECT_NEAR(out->clear_flow.mid, own, 0.01 * own);
}

TEST(Blocked, SpreadsAsFirstOrderPropagationSays) {
  // d ln(flow)/d ln(x) by differences in the test, added in squares with the reading's and the model's 3 %.
  const double p = supply(10).pressure.value, own = flow({0.8e-3, 2.5, 1.5e-6}, p);
  const auto by = [&](double changed) { return std::log(changed / own); };
  const double bore = by(flow({0.81e-3, 2.5, 1.5e-6}, p)), length = by(flow({0.8e-3, 2.52, 1.5e-6}, p)),
               pressure = by(flow({0.8e-3, 2.5, 1.5e-6}, p + 5e3)),
               warm = by(flow({0.8e-3, 2.5, 1.5e-6}, p, kRoom + 1));
  const double expected = std::sqrt(bore * bore + length * length + pressure * pressure + warm * warm +
                                    0.02 * 0.02 + 0.03 * 0.03);
  const auto out = blocked_by_flow(nitrogen_fluid(), {likely()}, {supply(10), {0.7 * own, 0.014 * own}});
  ASSERT_TRUE(out);
  EXPECT_NEAR(out->spread, expected, 0.03 * expected);
  EXPECT_NEAR(out->blocked.mid, 0.3, 0.01);
  EXPECT_NEAR(out->blocked.high - out->blocked.low, 0.7 * 2 * 1.645 * expected,
              0.1 * 0.7 * 2 * 1.645 * expected);
  EXPECT_NEAR(out->smallest_shown, 1 - std::exp(-2 * 1.645 * expected), 0.01);
}

TEST(Blocked, AHundredthOfAMillimetreTwiceIsSevenPercent) {
  const double p = supply(10).pressure.value;
  EXPECT_NEAR(flow({0.82e-3, 2.5, 1.5e-6}, p) / flow({0.8e-3, 2.5, 1.5e-6}, p), 1.07, 0.01);
}

TEST(Blocked, CoversTheTruthNineTimesOfTen) {
  // Tubes, supplies and flow meters drawn as their spreads say; the share blocked drawn between 0 and 90 %.
  RandomStream random(11);
  const int trials = 200;
  int covered = 0;
  double brier = 0;
  for (int i = 0; i < trials; ++i) {
    const bool clear = random.uniform() < 0.5;
    const double s = clear ? 1 : 1 - 0.9 * random.uniform();
    const Tube true_tube{0.8e-3 + 0.01e-3 * random.normal(), 2.5 + 0.02 * random.normal(), 1.5e-6};
    const double p = supply(10).pressure.value + 5e3 * random.normal();
    const double T = kRoom + random.normal();
    const double passed = s * flow(true_tube, p, T) * std::exp(0.03 * random.normal());
    const double read = passed * (1 + 0.02 * random.normal());
    const auto out = blocked_by_flow(nitrogen_fluid(), {likely()}, {supply(10), {read, 0.02 * read}});
    ASSERT_TRUE(out);
    covered += out->blocked.low <= 1 - s && 1 - s <= out->blocked.high;
    brier += std::pow(out->probability_clear - (clear ? 1 : 0), 2) / trials;
  }
  EXPECT_NEAR(covered, 180, 13);  // three standard deviations
  EXPECT_LT(brier, 0.09);         // 0.25 is what knowing nothing gives
}

TEST(Blocked, ByFallAgreesWithAVesselEmptiedStepByStep) {
  // Forward in time with the equation of state's density, 1/40 s a step, nothing shared but the flow through
  // the tube.
  const double volume = 0.8e-3, p_start = 21e5, p_end = 6e5;
  const Tube tube{0.8e-3, 2.5, 1.5e-6};
  double p = p_start, seconds = 0;
  const double dt = 0.025;
  const auto density = [&](double at) { return nitrogen_fluid().at_Tp(kRoom, at)->rho; };
  double rho = density(p);
  while (p > p_end) {
    rho -= flow(tube, p) * dt / volume;
    const auto state = nitrogen_fluid().at_Trho(kRoom, rho);
    ASSERT_TRUE(state);
    const double before = p;
    p = state->p;
    seconds += p > p_end ? dt : dt * (before - p_end) / (before - p);
  }
  const MeasuredFall exact{{{p_start, 0}, kAir, {kRoom, 0}}, p_end, 0, {seconds, 0}, {volume, 0}};
  const auto out = blocked_by_fall(nitrogen_fluid(), {{{0.8e-3, 0}, {2.5, 0}, 1.5e-6}}, exact);
  ASSERT_TRUE(out) << to_text(out.problem());
  EXPECT_NEAR(out->clear_flow.mid, seconds, 2e-3 * seconds);
  EXPECT_NEAR(out->blocked.mid, 0, 3e-3);
  // taking three times as long is two thirds blocked
  const MeasuredFall slow{{{p_start, 0}, kAir, {kRoom, 0}}, p_end, 0, {3 * seconds, 0}, {volume, 0}};
  const auto two_thirds = blocked_by_fall(nitrogen_fluid(), {{{0.8e-3, 0}, {2.5, 0}, 1.5e-6}}, slow);
  ASSERT_TRUE(two_thirds);
  EXPECT_NEAR(two_thirds->blocked.mid, 2.0 / 3, 3e-3);
  EXPECT_LT(two_thirds->probability_clear, 1e-6);
}

TEST(Blocked, SaysWhenThePlausibleTubesDifferTooMuch) {
  const std::vector<LikelyTube> any{
      likely(), {{0.7e-3, 0.01e-3}, {2, 0.1}, 1.5e-6}, {{0.9e-3, 0.01e-3}, {3, 0.1}, 1.5e-6}};
  const double own = flow({0.8e-3, 2.5, 1.5e-6}, supply(10).pressure.value);
  const auto wide = blocked_by_flow(nitrogen_fluid(), any, {supply(10), {0.8 * own, 0.02 * own}});
  const auto narrow = blocked_by_flow(nitrogen_fluid(), {likely()}, {supply(10), {0.8 * own, 0.02 * own}});
  ASSERT_TRUE(wide && narrow);
  EXPECT_GT(wide->smallest_shown, 0.4);  // their bores alone differ by 12 % either way
  EXPECT_GT(wide->probability_clear, 0.1);
  EXPECT_LT(narrow->probability_clear, 0.05);
  EXPECT_GT(wide->blocked.high - wide->blocked.low, 3 * (narrow->blocked.high - narrow->blocked.low));
}

TEST(Blocked, NothingPassedIsAllBlocked) {
  const auto out = blocked_by_flow(nitrogen_fluid(), {likely()}, {supply(10), {0, 0}});
  ASSERT_TRUE(out);
  EXPECT_EQ(out->blocked.mid, 1);
  EXPECT_EQ(out->probability_clear, 0);
}

TEST(RemainingBore, PassesWhatWasMeasured) {
  const Gas gas = nitrogen();
  const Tube tube{0.8e-3, 2.5, 1.5e-6};
  const double p = 11e5;
  const double clear = gas_flow(gas, tube, p, kRoom, kAir)->flow;
  const auto left = remaining_bore(gas, tube, p, kRoom, kAir, 0.4 * clear);
  ASSERT_TRUE(left && left->hole);
  EXPECT_NEAR(gas_flow(gas, {left->bore, 2.5, 1.5e-6}, p, kRoom, kAir)->flow, 0.4 * clear, 1e-6 * clear);
  // hole and tube in a row: find the pressure between them anew by marching it down from the supply
  double best = HUGE_VAL, passed = 0;
  for (double between = kAir * 1.01; between < p; between += 200) {
    const double through_tube = gas_flow(gas, tube, between, kRoom, kAir)->flow;
    const double off = std::abs(through_tube - flow_of_hole(gas, *left->hole, p, kRoom, between));
    if (off < best) best = off, passed = through_tube;
  }
  EXPECT_NEAR(passed, 0.4 * clear, 2e-3 * clear);
  EXPECT_LT(*left->hole, left->bore);  // a short hole may be narrower than a long tube
  EXPECT_FALSE(remaining_bore(gas, tube, p, kRoom, kAir, 1.2 * clear)->hole);
}

TEST(FlowOfHole, IsTheChokedNozzlesFormula) {
  // p A sqrt(g/(R T)) (2/(g+1))^((g+1)/(2(g-1))), times the discharge coefficient 0.8
  const Gas gas = nitrogen();
  const double area = 0.25 * 3.14159265358979 * 0.3e-3 * 0.3e-3;
  const double choked = 0.8 * 8e5 * area * std::sqrt(1.4 / (gas.gas_constant * kRoom)) * std::pow(2 / 2.4, 3);
  EXPECT_NEAR(flow_of_hole(gas, 0.3e-3, 8e5, kRoom, kAir), choked, 1e-9 * choked);
  EXPECT_NEAR(flow_of_hole(gas, 0.3e-3, 8e5, kRoom, 4e5), choked, 1e-9 * choked);
  EXPECT_LT(flow_of_hole(gas, 0.3e-3, 8e5, kRoom, 6e5), choked);
}

TEST(ClearFlowTable, ChokesWhereItSays) {
  const Tube tube{0.8e-3, 2.5, 1.5e-6};
  const auto p = chokes_from(nitrogen(), tube, kRoom, kAir, 40e5);
  ASSERT_TRUE(p && *p);
  EXPECT_TRUE(gas_flow(nitrogen(), tube, **p * 1.001, kRoom, kAir)->choked);
  EXPECT_FALSE(gas_flow(nitrogen(), tube, **p * 0.999, kRoom, kAir)->choked);
  EXPECT_FALSE(*chokes_from(nitrogen(), tube, kRoom, kAir, 0.9 * **p));
  const auto rows = clear_flow_table(nitrogen_fluid(), tube, kRoom, kAir, {3e5, 11e5, 31e5});
  ASSERT_TRUE(rows);
  EXPECT_LT((*rows)[0].flow.flow, (*rows)[1].flow.flow);
  EXPECT_LT((*rows)[1].flow.flow, (*rows)[2].flow.flow);
}

TEST(Blocked, RefusesWhatIsNoCheck) {
  const auto& n2 = nitrogen_fluid();
  EXPECT_EQ(blocked_by_flow(n2, {}, {supply(10), {1e-4, 0}}).problem().field, "tube");
  EXPECT_EQ(blocked_by_flow(n2, {{{0, 0}, {2, 0}}}, {supply(10), {1e-4, 0}}).problem().field, "bore");
  EXPECT_EQ(blocked_by_flow(n2, {likely()}, {supply(-0.5), {1e-4, 0}}).problem().field, "supply pressure");
  EXPECT_EQ(blocked_by_flow(n2, {likely()}, {supply(10), {-1e-4, 0}}).problem().field, "flow");
  const auto fall = [&](double p_end, double seconds, double volume) {
    return blocked_by_fall(n2, {likely()}, {supply(10), p_end, 1e3, {seconds, 1}, {volume, 0}});
  };
  EXPECT_EQ(fall(12e5, 60, 1e-3).problem().field, "end pressure");
  EXPECT_EQ(fall(1e5, 60, 1e-3).problem().field, "end pressure");
  EXPECT_EQ(fall(5e5, 0, 1e-3).problem().field, "time");
  EXPECT_EQ(fall(5e5, 60, 0).problem().field, "volume");
}

}  // namespace
}  // namespace coldwright::procedures

// The trace in a leak search: what burns at no dilution, what is filled in, what it still shows, and what a
// search that found nothing means.
#include "procedures/tracer.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/normal.hpp"
#include "procedures/opening.hpp"
#include "procedures/pressure_test.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kAir = 101325;

fluids::Fluid fluid(const char* name) { return *service::load_fluid(name); }

// Whether some dilution with air leaves more fuel than the lower limit and more oxygen than its limit.
bool can_burn(double x, double lower, double oxygen) {
  for (int i = 1; i <= 20000; ++i) {
    const double f = i / 20000.0;
    if (f * x > lower && 0.21 * (1 - f) > oxygen) return true;
  }
  return false;
}

TEST(LargestShare, IsWhereNoDilutionBurns) {
  struct Row {
    double lower, oxygen;
  };
  for (const Row& row : {Row{0.021, 0.105}, Row{0.017, 0.115}, Row{0.018, 0.10}, Row{0.04, 0.046}}) {
    const double x = largest_fuel_share(row.lower, row.oxygen);
    EXPECT_FALSE(can_burn(0.999 * x, row.lower, row.oxygen));
    EXPECT_TRUE(can_burn(1.01 * x, row.lower, row.oxygen));
  }
}

TEST(LargestShare, LiesOnTheCautiousSideOfTheTabulatedOnes) {
  // ISO 10156's largest shares in nitrogen, from memory: propane 3.7 %, isobutane 3.4 %, hydrogen 5.5 %;
  // lower limits of [iec60079-20-1], oxygen limits of [astm-e2079] and [nfpa69]
  EXPECT_LE(largest_fuel_share(0.017, 0.105), 0.037);
  EXPECT_GT(largest_fuel_share(0.017, 0.105), 0.030);
  EXPECT_LE(largest_fuel_share(0.013, 0.100), 0.034);
  EXPECT_LE(largest_fuel_share(0.04, 0.046), 0.055);
  EXPECT_GT(largest_fuel_share(0.04, 0.046), 0.05) << "forming gas of 5 % stays below it";
}

TEST(Filling, IsDaltonsAtLowPressureAndRealAbove) {
  // 0.5 L at 20 C and 10 bar with 2 %: 0.2 bar of propane is p V M/(R T) = 0.18092 g, Z 0.9965
  const auto out = fill_with_trace(fluid("R290"), fluid("R728"), 0.5e-3, 293.15, 263.15, 10e5, 0.02);
  ASSERT_TRUE(out) << to_text(out.problem());
  EXPECT_NEAR(out->first_pressure, 0.2e5, 1e-6);
  EXPECT_NEAR(out->trace * 1e3, 0.18092, 0.0012);
  // nitrogen at 9.8 bar: Z 0.9976 [span2000nitrogen]
  EXPECT_NEAR(out->nitrogen * 1e3, 9.8e5 * 0.5e-3 * 0.0280134 / (8.314462618 * 293.15) * 1e3 / 0.9976, 0.006);
  EXPECT_NEAR(out->mass_share, out->trace / (out->trace + out->nitrogen), 1e-12);
}

TEST(Filling, RefusesATraceThatWouldCondense) {
  // isobutane at -30 C condenses at 0.47 bar; 3 % of 28 bar would be 0.84
  const auto cold = fill_with_trace(fluid("R600a"), fluid("R728"), 1e-3, 293.15, 243.15, 28e5, 0.03);
  ASSERT_FALSE(cold);
  EXPECT_EQ(cold.problem().field, "share");
  EXPECT_TRUE(fill_with_trace(fluid("R600a"), fluid("R728"), 1e-3, 293.15, 288.15, 28e5, 0.03));
  EXPECT_FALSE(fill_with_trace(fluid("R600a"), fluid("R728"), 1e-3, 293.15, 288.15, 28e5, 0));
  EXPECT_FALSE(fill_with_trace(fluid("R600a"), fluid("R728"), 0, 293.15, 288.15, 28e5, 0.01));
}

TEST(MixedViscosity, IsThatOfEitherGasAtTheEnds) {
  EXPECT_DOUBLE_EQ(mixed_viscosity(17.6e-6, 0.028, 8e-6, 0.044, 0), 17.6e-6);
  EXPECT_DOUBLE_EQ(mixed_viscosity(17.6e-6, 0.028, 8e-6, 0.044, 1), 8e-6);
  // a gas with itself
  EXPECT_NEAR(mixed_viscosity(8e-6, 0.044, 8e-6, 0.044, 0.3), 8e-6, 1e-18);
}

TEST(SmallestShown, IsTheInverseOfWhatTheSameHoleLoses) {
  // A hole that passes Q of nitrogen viscously passes nearly share x Q of a thin trace; yearly_loss() of that
  // Q is then the service leak which smallest_shown() names for what the detector smells.
  const auto n2 = fluid("R728"), propane = fluid("R290");
  const double Q = 1e-5, share = 1e-4, p_test = 10e5, p_service = 4e5, T = 293.15;
  const auto loss = yearly_loss(n2, propane, Q, p_test, p_service, T, kAir);
  ASSERT_TRUE(loss);
  const double smelled = kilograms_a_year(share * Q, propane.limits().M, T);
  const auto shown = smallest_shown(propane, n2, share, smelled, p_test, p_service, kAir, T);
  ASSERT_TRUE(shown);
  EXPECT_NEAR(shown->viscous / loss->viscous, 1, 1e-3);
}

TEST(SmallestShown, GetsFinerWithPressureAndShare) {
  const auto n2 = fluid("R728"), propane = fluid("R290");
  const auto at = [&](double share, double p) {
    const auto shown = smallest_shown(propane, n2, share, 5e-3, p, 4e5, kAir, 293.15);
    EXPECT_TRUE(shown);
    return *shown;
  };
  EXPECT_LT(at(0.03, 20e5).viscous, at(0.03, 10e5).viscous);
  EXPECT_LT(at(0.03, 10e5).viscous, at(0.01, 10e5).viscous);
  EXPECT_NEAR(at(0.03, 10e5).molecular, 5e-3 * 4e5 / (0.03 * 10e5), 1e-12);
  EXPECT_FALSE(smallest_shown(propane, n2, 0.03, 5e-3, 0.9e5, 4e5, kAir, 293.15));
  EXPECT_FALSE(smallest_shown(propane, n2, 0.03, 5e-3, 10e5, 0.9e5, kAir, 293.15));
}

TEST(HydrogenShown, IsTheSampledStreamThroughTheHole) {
  // 5 ppm in 1 cm3/s at 20 C and 101325 Pa: 2.0785e-10 mol/s of hydrogen
  const auto out = hydrogen_shown(fluid("R290"), fluid("R728"), 0.05, 5e-6, 1e-6, 10e5, 4e5, kAir, 293.15);
  ASSERT_TRUE(out);
  const double moles = 5e-6 * 1e-6 * kAir / (8.314462618 * 293.15);
  EXPECT_NEAR(moles, 2.0785e-10, 1e-14);
  const double molecular = moles * (4e5 / (0.05 * 10e5)) * std::sqrt(0.00201588 / 0.0440956) * 0.0440956;
  EXPECT_NEAR(out->molecular / molecular, 1, 1e-5);
  EXPECT_GT(out->viscous, 0);
}

TEST(ProbeSpeed, OfUsualDetectorsIsWhatTheProcedureSays) {
  // 25 to 50 mm/s at no more than 5 mm [sae-j1627]: a 6 mm tip whose detector takes 0.6 to 1 s
  EXPECT_LT(probe_speed(1.0, 6e-3, 5e-3, 2), 50e-3);
  EXPECT_GT(probe_speed(1.0, 6e-3, 5e-3, 2), 20e-3);
  EXPECT_GT(probe_speed(0.6, 6e-3, 5e-3, 2), 25e-3);
  // dwell by hand: -(1/2.302585) ln(1/2) = 0.30103 s over 6 + 2 x 0.2089 x 5 = 8.089 mm
  EXPECT_NEAR(probe_speed(1.0, 6e-3, 5e-3, 2), 8.089e-3 / 0.30103, 1e-5);
}

TEST(UsualLeaks, GoThroughTheCountedShares) {
  const LeakSizes sizes = usual_leaks();
  const auto below = [&](double kg) {
    return normal_cdf(std::log(kg / sizes.median) / std::log(sizes.ratio));
  };
  EXPECT_NEAR(below(5e-3), 0.57, 1e-9);
  EXPECT_NEAR(below(0.5), 0.96, 1e-9);
}

TEST(ClearResult, IsBayesOverDrawnLeaks) {
  // An independent way: draw machines, leaks and searches, and count.
  const LeakSizes sizes = usual_leaks();
  const double prior = 0.6, smallest = 4e-3, covered = 0.9, above = 5e-3;
  double clear = 0, above_and_clear = 0, any_and_clear = 0;
  RandomStream random(7);
  for (int i = 0; i < 400000; ++i) {
    const bool leaks = random.uniform() < prior;
    const double size = sizes.median * std::pow(sizes.ratio, random.normal());
    const bool found =
        leaks && random.uniform() < covered && std::log(size) > std::log(smallest) + 0.5 * random.normal();
    clear += !found;
    any_and_clear += leaks && !found;
    above_and_clear += leaks && !found && size > above;
  }
  const ClearResult out = clear_result(prior, sizes, smallest, covered, above);
  EXPECT_NEAR(out.after, above_and_clear / clear, 2e-3);
  EXPECT_NEAR(out.any_after, any_and_clear / clear, 3e-3);
  EXPECT_NEAR(out.before, prior * 0.43, 1e-3);
  EXPECT_LT(out.after, out.before);
  EXPECT_NEAR(clear_result(prior, sizes, smallest, 0, above).after, out.before, 1e-6) << "no search, no news";
}

TEST(SearchOrder, HasTheShortestExpectedTime) {
  const std::vector<Joint> joints{{10, 5}, {8, 1}, {20, 20}, {1, 0.5}, {8, 1}};
  const auto order = search_order(joints);
  const auto expected = [&](const std::vector<std::size_t>& o) {
    double time = 0, sum = 0;
    for (const std::size_t i : o) {
      time += joints[i].minutes;
      sum += joints[i].weight * time;
    }
    return sum;
  };
  std::vector<std::size_t> any{0, 1, 2, 3, 4};
  double best = 1e300;
  do best = std::min(best, expected(any));
  while (std::next_permutation(any.begin(), any.end()));
  EXPECT_NEAR(expected(order), best, 1e-9);
  EXPECT_EQ(order[0], 1u);
  EXPECT_EQ(order[1], 4u);
}

}  // namespace
}  // namespace coldwright::procedures

// What a leak must do whatever the blend: no component is made or lost, the phase that leaves is the one in
// equilibrium, volatile components go first with the vapour, the pressure falls, and an azeotrope hardly
// drifts.
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "fluids/leak.hpp"
#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;
using fluids::LeakFrom;

const fluids::FluidData& blend(const char* name) { return test::fluid(name).data(); }

fluids::LeakCourse course(const char* name, const fluids::LeakQuestion& question) {
  return test::must(fluids::leak(blend(name), question), name);
}

TEST(Leak, KeepsTheMassOfEachComponent) {
  for (const char* name : {"R407C", "R448A", "R404A", "R455A"})
    for (const LeakFrom from : {LeakFrom::vapour, LeakFrom::liquid}) {
      const auto out = course(name, {from, 298.15, 0.3, 0.6});
      const auto& first = out.steps.front();
      const auto& last = out.steps.back();
      for (std::size_t k = 0; k < first.left.size(); ++k) {
        double left = 0;  // what has left, by the trapezoid over the steps shown
        for (std::size_t i = 1; i < out.steps.size(); ++i)
          left += (out.steps[i].lost - out.steps[i - 1].lost) * 0.5 *
                  (out.steps[i].leaving[k] + out.steps[i - 1].leaving[k]);
        EXPECT_NEAR(left + (1 - last.lost) * last.left[k], first.left[k], 3e-4) << name << " component " << k;
        EXPECT_NEAR(out.topped_up[k], (1 - last.lost) * last.left[k] + last.lost * first.left[k], 1e-12);
      }
      for (const auto& step : out.steps)
        EXPECT_NEAR(std::accumulate(step.left.begin(), step.left.end(), 0.0), 1, 1e-12);
    }
}

TEST(Leak, VapourTakesTheVolatileFirstAndLiquidTheOthers) {
  const auto vapour = course("R407C", {LeakFrom::vapour, 298.15, 0.5, 0.4});
  const auto liquid = course("R407C", {LeakFrom::liquid, 298.15, 0.5, 0.4});
  EXPECT_LT(vapour.steps.back().left[0], vapour.steps.front().left[0] - 0.01);  // R32
  EXPECT_GT(vapour.steps.back().left[2], vapour.steps.front().left[2] + 0.02);  // R134a
  EXPECT_GT(liquid.steps.back().left[0], liquid.steps.front().left[0]);
  for (std::size_t i = 1; i < vapour.steps.size(); ++i) EXPECT_LT(vapour.steps[i].p, vapour.steps[i - 1].p);
}

TEST(Leak, AnAzeotropeHardlyDrifts) {
  const auto out = course("R507A", {LeakFrom::vapour, 298.15, 0.5, 0.8});
  EXPECT_NEAR(out.steps.back().left[0], out.steps.front().left[0], 0.02);
}

TEST(Leak, TheVapourIsTheOneOfTheBubblePointWhereLiquidFillsTheVolume) {
  const auto out = course("R407C", {LeakFrom::vapour, 298.15, 1.0, 0.1});
  const double bubble = test::must(test::fluid("R407C").bubble_pressure(298.15), "bubble");
  EXPECT_NEAR(out.steps.front().p / bubble, 1, 1e-6);
}

TEST(Leak, WithoutLiquidNothingDriftsAnyMore) {
  const auto out = course("R407C", {LeakFrom::vapour, 298.15, 0.02, 0.9});
  ASSERT_FALSE(out.steps.back().liquid_left);
  for (std::size_t k = 0; k < 3; ++k)
    EXPECT_NEAR(out.steps.back().leaving[k], out.steps.back().left[k], 1e-12);
}

TEST(Leak, RefusesWhatItCannotMean) {
  EXPECT_EQ(fluids::leak(blend("R134a"), {LeakFrom::vapour, 298.15, 0.5, 0.3}).problem().field,
            "refrigerant");
  EXPECT_EQ(fluids::leak(blend("R407C"), {LeakFrom::vapour, 400, 0.5, 0.3}).problem().field, "temperature");
  EXPECT_EQ(fluids::leak(blend("R407C"), {LeakFrom::vapour, 298.15, 0.5, 0.99}).problem().field, "lost");
  EXPECT_EQ(fluids::leak(blend("R407C"), {LeakFrom::vapour, 298.15, -0.1, 0.3}).problem().field, "liquid");
  EXPECT_EQ(fluids::leak(blend("R407C"), {LeakFrom::vapour, std::nan(""), 0.1, 0.3}).problem().field,
            "temperature");
}

}  // namespace

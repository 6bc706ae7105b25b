// Temperature compensation of a nitrogen test against rows computed with the published equation of state
// [span2000nitrogen] by an independent library, and leak units at 20 C against M Q/(R T) worked by hand.
#include "procedures/pressure_test.hpp"

#include <gtest/gtest.h>

#include "service/refrigerant_loader.hpp"

namespace coldwright::procedures {
namespace {

struct Row {
  double gauge_bar, T1, T2, after_bar;
};

TEST(NitrogenTest, FollowsTemperatureAsARealGas) {
  const auto n2 = service::load_fluid("R728");
  ASSERT_TRUE(n2);
  for (const Row& row : std::initializer_list<Row>{{10, 20, 30, 10.38568},
                                                   {10, 20, 10, 9.6142},
                                                   {20, 25, 15, 19.26054},
                                                   {28, 20, 35, 29.58794},
                                                   {30, 30, 10, 27.81097},
                                                   {42, 20, 30, 43.6185},
                                                   {10.3421, 35.0, 23.889, 9.92261}}) {
    const auto p = pressure_at(*n2, row.gauge_bar * 1e5 + 101325, row.T1 + 273.15, row.T2 + 273.15);
    ASSERT_TRUE(p) << to_text(p.problem());
    EXPECT_NEAR((*p - 101325) / 1e5, row.after_bar, 1e-4) << row.gauge_bar << ' ' << row.T2;
  }
}

TEST(LeakUnits, AreThoseWorkedByHand) {
  // 1 g/yr of propane is 1.7516e-6 Pa m3/s at 20 C, 1 g/yr of isobutane 1.3289e-6
  EXPECT_NEAR(kilograms_a_year(1.7516e-6, 0.04409562, 293.15) * 1e3, 1, 2e-4);
  EXPECT_NEAR(kilograms_a_year(1.3289e-6, 0.0581222, 293.15) * 1e3, 1, 2e-4);
}

}  // namespace
}  // namespace coldwright::procedures

// Nitrogen with a trace of refrigerant: against the equations of state asked directly, and published rows of
// the compressibility of nitrogen.
#include "procedures/test_gas.hpp"

#include <gtest/gtest.h>

#include "procedures/gas_through_tube.hpp"
#include "procedures/pressure_test.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::procedures {
namespace {

const fluids::Fluid& nitrogen_fluid() {
  static const auto fluid = service::load_fluid("R728");
  return *fluid;
}
const fluids::Fluid& propane() {
  static const auto fluid = service::load_fluid("R290");
  return *fluid;
}

// [span2000nitrogen] as an independent library evaluates it: p in bar absolute, Z at 0, 20 and 50 C.
TEST(RealNitrogen, HasThePublishedCompressibility) {
  struct Row {
    double bar, at_0, at_20, at_50;
  };
  for (const Row& row : {Row{1, 0.999549, 0.99976, 0.999983}, Row{10, 0.995737, 0.997815, 1.000005},
                         Row{30, 0.988902, 0.994892, 1.001154}, Row{50, 0.984472, 0.99397, 1.003832}}) {
    for (const auto& [C, z] : {std::pair{0.0, row.at_0}, {20.0, row.at_20}, {50.0, row.at_50}}) {
      const auto gas = real_nitrogen(nitrogen_fluid(), C + 273.15, row.bar * 1e5, 101325);
      ASSERT_TRUE(gas);
      EXPECT_NEAR(gas->compressibility, z, 3e-5) << row.bar << ' ' << C;
    }
  }
  const auto between = nitrogen_between(nitrogen_fluid(), 293.15, 1e5, 50e5, 101325);
  ASSERT_TRUE(between);
  EXPECT_NEAR((*between)(30e5).compressibility, 0.994892, 1e-4);
  EXPECT_NEAR((*between)(10e5).compressibility, 0.997815, 1e-4);
}

TEST(TestGas, WithoutATraceIsNitrogen) {
  const auto p = brought_to({&nitrogen_fluid()}, 29e5, {293.15, 293.15}, {308.15, 308.15});
  ASSERT_TRUE(p);
  EXPECT_EQ(*p, *pressure_at(nitrogen_fluid(), 29e5, 293.15, 308.15));
}

TEST(TestGas, AddsTheTracesOwnPressure) {
  // 1.5 bar of propane vapour and nitrogen up to 11 bar at 25 C, brought to 10 C: each by its own equation.
  const double T1 = 298.15, T2 = 283.15, trace_1 = 1.5e5;
  const double rho = propane().at_Tp(T1, trace_1)->rho;
  const double expected = nitrogen_fluid().at_Trho(T2, nitrogen_fluid().at_Tp(T1, 11e5 - trace_1)->rho)->p +
                          propane().at_Trho(T2, rho)->p;
  const auto density = trace_density(propane(), trace_1, T1);
  ASSERT_TRUE(density);
  EXPECT_NEAR(*density, rho, 1e-9 * rho);
  const auto p = brought_to({&nitrogen_fluid(), &propane(), *density}, 11e5, {T1, T1}, {T2, T2});
  ASSERT_TRUE(p) << to_text(p.problem());
  EXPECT_NEAR(*p, expected, 1e-6 * expected);
}

TEST(TestGas, HoldsTheTraceAtSaturationOnceItCondenses) {
  // 6 bar of propane at 25 C would press more at -5 C than its dew point there (4.06 bar): the rest lies as
  // liquid.
  const double T1 = 298.15, T2 = 268.15;
  const double rho = propane().at_Tp(T1, 6e5)->rho;
  const double dew = propane().saturation_at_T(T2)->vapour.p;
  ASSERT_GT(rho, propane().saturation_at_T(T2)->vapour.rho);
  const auto held = trace_pressure(propane(), rho, {T2, T2});
  ASSERT_TRUE(held);
  EXPECT_NEAR(*held, dew, 1e-6 * dew);
  // A cold wall holds it down even where the gas is warm.
  EXPECT_NEAR(*trace_pressure(propane(), rho, {T1, T2}), dew, 1e-6 * dew);
  EXPECT_NEAR(*trace_pressure(propane(), rho, {T1, T1}), 6e5, 1);
  const double nitrogen_after = *pressure_at(nitrogen_fluid(), 14e5, T1, T2);
  const auto p = brought_to({&nitrogen_fluid(), &propane(), rho}, 20e5, {T1, T1}, {T2, T2});
  ASSERT_TRUE(p);
  EXPECT_NEAR(*p, nitrogen_after + dew, 10);
  // and back again: what condensed hasn't left
  EXPECT_NEAR(*brought_to({&nitrogen_fluid(), &propane(), rho}, *p, {T2, T2}, {T1, T1}), 20e5, 20);
  EXPECT_NEAR(*trace_condenses_above(propane(), 20e5, T2), dew / 20e5, 1e-9);
}

TEST(TestGas, RefusesMoreTraceThanPressure) {
  const double rho = propane().at_Tp(298.15, 3e5)->rho;
  const auto p = brought_to({&nitrogen_fluid(), &propane(), rho}, 2e5, {298.15, 298.15}, {290, 290});
  ASSERT_FALSE(p);
  EXPECT_EQ(p.problem().field, "trace");
}

// M Q/(R T) at 20 C worked by an independent script: g of each gas a year, and its Pa m3/s.
TEST(LeakUnits, HoldForEveryGas) {
  struct Row {
    double M, grams, leak;
  };
  for (const Row& row :
       {Row{0.04409562, 5, 8.7578e-6}, Row{0.0581222, 5, 6.6443e-6}, Row{0.102032, 5, 3.7849e-6},
        Row{0.0280134, 10, 2.7571e-5}, Row{0.04409562, 500, 8.7578e-4}})
    EXPECT_NEAR(kilograms_a_year(row.leak, row.M, 293.15) * 1e3 / row.grams, 1, 2e-4) << row.M;
}

}  // namespace
}  // namespace coldwright::procedures

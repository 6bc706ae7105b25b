// Transport by residual entropy scaling against values that its papers print. Density, s+ and heat capacities
// at the printed T and p are those of the same equations of state as CoolProp 8.0.0 [bell2014] evaluates
// them.
#include "support/transport_rows.hpp"

namespace {

using namespace coldwright;
using fluids::NearCritical;
using fluids::ScaledPart;
using fluids::ScaledState;

TEST(TransportPublished, LiquidR11Viscosity) {
  // 1388.935 uPa s at 209.08 K and 932 Pa [martinek2025], as a test of an open library cites it. Its equation
  // of state may be another edition: 1e-4, as there.
  const std::array part{ScaledPart{&test::scaling_component("R11"), 1, 0}};
  const auto eta = test::must(fluids::scaled_viscosity(part, test::scaling_tables().blends,
                                                       {209.08, 12178.061747771737, 6.685186933792959}),
                              "R11");
  EXPECT_NEAR(eta.value, 1388.935e-6, 1e-4 * 1388.935e-6);
}

TEST(TransportPublished, LiquidR13Conductivity) {
  // 0.0886 W/(m K) at 193.10 K and 0.109 MPa [yang2021], as a test of an open library cites it. Printed to
  // four digits; our internal part of the dilute gas is another (see data/transport.json), worth 0.5 % of the
  // liquid.
  const std::array part{ScaledPart{&test::scaling_component("R13"), 1, 52.008062851447406}};
  const NearCritical near{92.18110700971111,     54.308170724000206, 3.2967195965215976e-05,
                          8.375667916559661e-06, 3973109.0447470606, 5516.058838821017};
  const auto lambda =
      test::must(fluids::scaled_conductivity(part, test::scaling_tables().blends,
                                             {193.10, 14503.290341493332, 4.408920465462865}, &near),
                 "R13");
  EXPECT_NEAR(lambda.value, 0.0886, 0.0006);
}

TEST(TransportPublished, LiquidBlendConductivity) {
  // 0.0879 W/(m K) for 0.504 R134a + 0.496 R1234yf at 254.86 K and 1.01 MPa [yang2021], as a test of an open
  // library cites it, which allows 0.001: the papers' mixture model is another.
  const std::array parts{ScaledPart{&test::scaling_component("R134a"), 0.504, 76.9385199134076},
                         ScaledPart{&test::scaling_component("R1234yf"), 0.496, 91.71059106646956}};
  const auto lambda = test::must(fluids::scaled_conductivity(parts, test::scaling_tables().blends,
                                                             {254.86, 11905.009593027684, 4.806125042433974}),
                                 "R134a + R1234yf");
  EXPECT_NEAR(lambda.value, 0.0879, 0.001);
}

// Other values that papers print, each within what we state; the source stands before the row.
TEST(TransportPublished, PrintedValues) {
  const auto& tables = test::scaling_tables();
  const auto rows = test::read_named_rows("transport_printed.csv");
  ASSERT_EQ(rows.size(), 22u);
  for (const auto& [name, row] : rows) {
    const std::array part{ScaledPart{&test::scaling_component(name), 1, row.at("cp0")}};
    const auto state = test::scaled_state(row);
    const auto near = test::near_critical(row);
    const auto eta = test::must(fluids::scaled_viscosity(part, tables.blends, state), name);
    const auto lambda = test::must(fluids::scaled_conductivity(part, tables.blends, state, &near), name);
    for (const auto& [ours, printed] :
         {std::pair{eta, row.at("viscosity")}, std::pair{lambda, row.at("conductivity")}}) {
      if (std::isnan(printed)) continue;
      const double deviation = ours.value / printed - 1;
      std::printf("  measured: %s at %.2f K, %.1f mol/m3: %+.1f %%, stated %.0f %%\n", name.c_str(), state.T,
                  state.rho, 100 * deviation, 100 * ours.uncertainty);
      EXPECT_LT(std::abs(deviation), ours.uncertainty) << name << " at " << state.T << " K";
    }
  }
}

}  // namespace

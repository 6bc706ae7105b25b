// Water's vapour pressure against the verification values that the equations' publishers print.
#include <gtest/gtest.h>

#include "procedures/water.hpp"

namespace coldwright::procedures {
namespace {

TEST(Water, OverIceIsAsPrinted) {
  // IAPWS R14-08(2011), Table 3: 230 K
  EXPECT_NEAR(*water_pressure(230), 8.94735, 5e-6);
}

TEST(Water, OverLiquidIsAsPrinted) {
  // triple point and normal boiling point [wagner1993], and IAPWS-IF97, Table 35: 300 K (another equation,
  // which differs by up to 3e-5)
  EXPECT_NEAR(*water_pressure(273.16), 611.657, 0.02);
  EXPECT_NEAR(*water_pressure(373.1243), 101325, 12);
  EXPECT_NEAR(*water_pressure(300), 3536.58941, 0.2);
}

TEST(Water, BoilsWhereAVacuumGaugeSaysSo) {
  // computed with other published equations (Murphy and Koop over ice, IAPWS-95 over liquid): micron, C
  for (const auto& [micron, celsius] :
       {std::pair{50.0, -45.66}, std::pair{200.0, -33.36}, std::pair{500.0, -24.48},
        std::pair{1000.0, -17.31}, std::pair{5000.0, 1.20}, std::pair{20000.0, 22.13}})
    EXPECT_NEAR(*water_temperature(micron * 0.1333224) - 273.15, celsius, 0.02) << micron;
}

TEST(Water, GoesBothWays) {
  for (double T = 180; T < 373; T += 7.3) EXPECT_NEAR(*water_temperature(*water_pressure(T)), T, 1e-7);
  EXPECT_FALSE(water_pressure(100));
  EXPECT_FALSE(water_temperature(1e7));
}

}  // namespace
}  // namespace coldwright::procedures

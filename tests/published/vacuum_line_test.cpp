// Conductances as vacuum texts give them for air at 20 C [roth1990, Chapter 3]: 12.1 D^3/L and 135 D^4 p/L in
// l/s with cm and mbar; the tube of 5 cm by 100 cm passes 15.1 l/s in molecular flow.
#include "procedures/vacuum_line.hpp"

#include <gtest/gtest.h>

namespace coldwright::procedures {
namespace {

constexpr double kRoom = 293.15;

TEST(Conductance, MolecularIsThatOfTheTexts) {
  const Line tube{0.05, 100};  // so long that its ends don't count
  EXPECT_NEAR(conductance(tube, air(), kRoom, 1e-6) * 1e3, 12.1 * 125 / 1e4, 0.005 * 12.1 * 125 / 1e4);
  const Line shorter{0.05, 1};
  EXPECT_NEAR(conductance(shorter, air(), kRoom, 1e-6) * 1e3, 15.125 / (1 + 4.0 * 5 / 300), 0.08);
}

TEST(Conductance, ViscousIsThatOfTheTexts) {
  const Line hose{0.0048, 1.5};
  const double mbar = 50, cm = 0.48;
  const double viscous = 135 * cm * cm * cm * cm * mbar / 150;  // l/s
  EXPECT_NEAR(conductance(hose, air(), kRoom, mbar * 100) * 1e3, viscous, 0.02 * viscous);
}

}  // namespace
}  // namespace coldwright::procedures

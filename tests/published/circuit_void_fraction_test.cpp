// Void fraction: the published slip model's value, and its mean over a zone against numeric quadrature.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "circuit/charge.hpp"

namespace {

using namespace coldwright::circuit;

constexpr double kRhoL = 800, kRhoV = 2.5;  // kg/m3, the case below

// [zivi1964] at x = 0.4, densities 800 and 2.5 kg/m3: value carried by the tests of an open general-purpose
// library of fluid-mechanics correlations, eight digits.
TEST(ZiviVoid, MeetsThePublishedValue) { EXPECT_NEAR(zivi_void(0.4, kRhoL, kRhoV), 0.96893399, 5e-9); }

// The slip it stands for: S = (rho_l / rho_v)^(1/3) [zivi1964].
TEST(ZiviVoid, HasItsSlipRatio) {
  for (double x : {0.01, 0.2, 0.5, 0.9}) {
    const double a = zivi_void(x, kRhoL, kRhoV);
    const double slip = x / (1 - x) * kRhoL / kRhoV * (1 - a) / a;
    EXPECT_NEAR(slip, std::cbrt(kRhoL / kRhoV), 1e-9) << x;
  }
  EXPECT_EQ(zivi_void(0, kRhoL, kRhoV), 0);
  EXPECT_EQ(zivi_void(1, kRhoL, kRhoV), 1);
}

// Gauss-Legendre, five points in each of 4000 equal parts (nodes and weights from memory).
double quadrature(double xa, double xb, double rho_l, double rho_v) {
  const double node[] = {0, 0.5384693101056831, 0.9061798459386640};
  const double weight[] = {0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
  constexpr int parts = 4000;
  const double half = (xb - xa) / parts / 2;
  double sum = 0;
  for (int i = 0; i < parts; ++i) {
    const double middle = xa + (2 * i + 1) * half;
    sum += weight[0] * zivi_void(middle, rho_l, rho_v);
    for (int j = 1; j < 3; ++j)
      sum += weight[j] * (zivi_void(middle - node[j] * half, rho_l, rho_v) +
                          zivi_void(middle + node[j] * half, rho_l, rho_v));
  }
  return sum / (2 * parts);
}

TEST(ZiviMean, IsTheQuadrature) {
  double worst = 0;
  for (double rho_v : {0.5, 2.5, 15.0, 60.0})
    for (double rho_l : {480.0, 550.0, 1200.0})
      for (double xa : {0.0, 0.02, 0.25, 0.6})
        for (double xb : {0.01, 0.3, 0.7, 1.0}) {
          if (std::abs(xb - xa) < 1e-3) continue;
          const double off = zivi_void_mean(xa, xb, rho_l, rho_v) - quadrature(xa, xb, rho_l, rho_v);
          worst = std::max(worst, std::abs(off));
          EXPECT_NEAR(off, 0, 1e-11) << xa << " to " << xb << ", " << rho_l << "/" << rho_v;
        }
  std::printf("  measured: worst %.1e\n", worst);
}

TEST(ZiviMean, ShrinksToThePoint) {
  for (double x : {0.05, 0.4, 0.95}) {
    EXPECT_NEAR(zivi_void_mean(x, x, kRhoL, kRhoV), zivi_void(x, kRhoL, kRhoV), 1e-12);
    EXPECT_NEAR(zivi_void_mean(x, x + 1e-5, kRhoL, kRhoV), zivi_void(x + 5e-6, kRhoL, kRhoV), 1e-8);
    EXPECT_NEAR(zivi_void_mean(x + 0.2 * (1 - x), x, kRhoL, kRhoV),
                zivi_void_mean(x, x + 0.2 * (1 - x), kRhoL, kRhoV), 1e-12);
  }
}

// More hold-up is more liquid, never more than liquid; without any it is the slip model alone.
TEST(ZoneDensity, RisesWithHoldUpAndStaysBetweenThePhases) {
  for (double xa : {0.0, 0.2, 0.9}) {
    double before = 0;
    for (double hold_up : {1.0, 1.5, 2.2, 4.0, 9.0}) {
      const double rho = two_phase_mean_density(xa, 1, kRhoL, kRhoV, hold_up);
      EXPECT_GT(rho, before);
      EXPECT_GT(rho, kRhoV);
      EXPECT_LT(rho, kRhoL);
      before = rho;
    }
    const double a = zivi_void_mean(xa, 1, kRhoL, kRhoV);
    EXPECT_NEAR(two_phase_mean_density(xa, 1, kRhoL, kRhoV, 1), a * kRhoV + (1 - a) * kRhoL, 1e-9);
  }
}

TEST(DissolvedInOil, RisesWithPressureAndNeverExceedsItsLimit) {
  EXPECT_EQ(dissolved_in_oil(0, 0.2), 0);
  double before = 0;
  for (double r : {0.05, 0.1, 0.3, 0.6, 1.0}) {
    const double kg = dissolved_in_oil(r, 0.3);
    EXPECT_GT(kg, before);
    EXPECT_LT(kg, 1.5 + 1e-12);  // 60 % of the mixture
    before = kg;
  }
  EXPECT_EQ(dissolved_in_oil(3, 0.2), dissolved_in_oil(1, 0.2));
}

}  // namespace

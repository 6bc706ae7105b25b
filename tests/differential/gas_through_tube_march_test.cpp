// The closed form against a stepwise march of momentum and energy along the tube, which knows no Mach number.
#include <gtest/gtest.h>

#include <cmath>

#include "circuit/capillary.hpp"
#include "procedures/gas_through_tube.hpp"

namespace coldwright::procedures {
namespace {

// Static pressure at the end of a tube that passes `flux`, from a vessel at p0, T0; negative once it chokes
// before the end. dp (1/flux^2 - ...) solved as dp/dz from momentum and energy with T = T0 - u^2/(2 cp).
double end_pressure(const Gas& gas, const Tube& tube, double flux, double p0, double T0, bool isothermal) {
  const double R = gas.gas_constant * gas.compressibility, g = gas.heat_ratio, cp = g * R / (g - 1);
  const double f = circuit::churchill_friction(flux * tube.bore / gas.viscosity, tube.roughness / tube.bore);
  // into the tube: isentropic, by bisection on the static pressure
  double low = 0.53 * p0, high = p0;
  for (int i = 0; i < 100; ++i) {
    const double p = 0.5 * (low + high), T = T0 * std::pow(p / p0, (g - 1) / g);
    (p / (R * T) * std::sqrt(2 * cp * (T0 - T)) < flux ? high : low) = p;
  }
  double p = 0.5 * (low + high);
  const double length = tube.length + 0.5 * tube.bore / f;
  const int steps = 20000;
  const auto slope = [&](double at) -> double {
    // u = flux R T / p with T = T0 - u^2/(2 cp)
    const double a = flux * R / (at * 2 * cp), b = at / (flux * R);
    const double u = isothermal ? flux * R * T0 / at : (-b + std::sqrt(b * b + 4 * a * b * T0)) / (2 * a * b);
    const double T = isothermal ? T0 : T0 - u * u / (2 * cp);
    const double m2 = u * u / ((isothermal ? 1.0 : g) * R * T);
    if (m2 >= 1) return -HUGE_VAL;
    const double grow = isothermal ? 1 : 1 + (g - 1) * m2;
    return -f / (2 * tube.bore) * flux * u * grow / (1 - m2);
  };
  const double h = length / steps;
  for (int i = 0; i < steps; ++i) {
    const double half = p + 0.5 * h * slope(p);
    const double s = half > 0 ? slope(half) : -HUGE_VAL;
    p += h * s;
    if (!(p > 0) || !std::isfinite(p)) return -1;
  }
  return p;
}

double march(const Gas& gas, const Tube& tube, double p0, double T0, double p_to, bool isothermal = false) {
  double low = 0, high = p0 / std::sqrt(T0 * gas.gas_constant);
  for (int i = 0; i < 36; ++i) {
    const double mid = 0.5 * (low + high);
    (end_pressure(gas, tube, mid, p0, T0, isothermal) > p_to ? low : high) = mid;
  }
  return 0.5 * (low + high) * 0.25 * 3.14159265358979 * tube.bore * tube.bore;
}

struct Case {
  double bore, length, p_from;
};

TEST(GasThroughTube, AgreesWithAStepwiseMarch) {
  for (const Case& c : {Case{0.8e-3, 2.5, 11e5}, Case{0.66e-3, 3.5, 4e5}, Case{1.1e-3, 1.0, 30e5}}) {
    const Tube tube{c.bore, c.length, 1.5e-6};
    const auto closed = gas_flow(nitrogen(), tube, c.p_from, 293.15, 101325);
    ASSERT_TRUE(closed) << to_text(closed.problem());
    EXPECT_NEAR(closed->flow, march(nitrogen(), tube, c.p_from, 293.15, 101325), 2e-3 * closed->flow)
        << c.bore << ' ' << c.length;
  }
}

TEST(GasThroughTube, ChangesLittleWhenTheWallKeepsItWarm) {
  for (const Case& c : {Case{0.8e-3, 2.5, 11e5}, Case{0.66e-3, 3.5, 4e5}}) {
    const Tube tube{c.bore, c.length, 1.5e-6};
    const auto closed = gas_flow(nitrogen(), tube, c.p_from, 293.15, 101325);
    ASSERT_TRUE(closed);
    EXPECT_NEAR(march(nitrogen(), tube, c.p_from, 293.15, 101325, true) / closed->flow, 1, 0.03);
  }
}

}  // namespace
}  // namespace coldwright::procedures

// What lets a charge out dilutes as physics says: perfect-gas closed forms where the gas is nearly perfect,
// hand-worked bodies of gas, and independent integrations.
#include "procedures/release.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "procedures/room_air.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kPi = 3.14159265358979, kAir = 101325;

Outflow outflow(const char* name, double p0, double T0, double bore = 1e-3, double p_air = kAir) {
  const auto out = vapour_outflow(*service::load_fluid(name), {bore, 1}, p0, T0, p_air);
  EXPECT_TRUE(out) << to_text(out.problem());
  return out ? *out : Outflow{};
}

TEST(Outflow, IsTheChokedNozzleOfAPerfectGas) {
  // nitrogen at 4 bar, 300 K: Z = 0.9995, g = 1.402; m = A p0 sqrt(g/(R T)) (2/(g+1))^((g+1)/(2(g-1)))
  const double g = 1.402, R = 8.314462618 / 0.0280134, p0 = 4e5, T0 = 300;
  const Outflow out = outflow("R728", p0, T0);
  const double area = 0.25 * kPi * 1e-6;
  const double flow = area * p0 * std::sqrt(g / (R * T0)) * std::pow(2 / (g + 1), (g + 1) / (2 * (g - 1)));
  EXPECT_TRUE(out.choked);
  EXPECT_NEAR(out.flow / flow, 1, 2e-3);
  EXPECT_NEAR(out.p / p0, std::pow(2 / (g + 1), g / (g - 1)), 2e-3);
}

TEST(Outflow, IsNotChokedALittleAboveTheAir) {
  // p0/p = 1.2: isentropic expansion to the air's pressure
  const double g = 1.402, R = 8.314462618 / 0.0280134, T0 = 300, r = 1 / 1.2;
  const Outflow out = outflow("R728", 1.2 * kAir, T0);
  EXPECT_FALSE(out.choked);
  EXPECT_NEAR(out.velocity, std::sqrt(2 * g / (g - 1) * R * T0 * (1 - std::pow(r, (g - 1) / g))), 0.5);
  EXPECT_NEAR(out.p, kAir, 1);
}

TEST(Outflow, RunsAtTheSpeedOfSoundOfTheRealVapourWhenChoked) {
  const auto propane = service::load_fluid("R290");
  ASSERT_TRUE(propane);
  const Outflow out = outflow("R290", 6e5, 298.15);
  ASSERT_TRUE(out.choked);
  const auto there = propane->at_Tp(out.T, out.p);
  ASSERT_TRUE(there && there->single);
  EXPECT_NEAR(out.velocity / there->single->sound_speed, 1, 1e-3);
  EXPECT_GT(outflow("R290", 7e5, 298.15).flow, out.flow);
  EXPECT_NEAR(outflow("R290", 6e5, 298.15, 2e-3).flow, 4 * out.flow, 1e-9);
}

TEST(HoseOutflow, IsHeldBackByTheWall) {
  const auto propane = service::load_fluid("R290");
  ASSERT_TRUE(propane);
  const auto through = [&](double length, double bore = 4.8e-3) {
    const auto out = hose_outflow(*propane, {bore, 1}, length, 8e5, 298.15, kAir);
    EXPECT_TRUE(out) << to_text(out.problem());
    return out ? *out : Outflow{};
  };
  EXPECT_DOUBLE_EQ(through(0).flow, outflow("R290", 8e5, 298.15, 4.8e-3).flow);
  EXPECT_LT(through(1.5).flow, 0.6 * through(0).flow);
  EXPECT_LT(through(3).flow, through(1.5).flow);
  // long and narrow: isothermal flow with friction, m^2 = A^2 (p0^2 - p^2)/(Z R T (f L/d + 2 ln(p0/p))), f
  // marched to its Reynolds number here by the smooth-pipe law of Blasius
  const double d = 2e-3, L = 30, R = 8.314462618 / 0.04409562, area = 0.25 * kPi * d * d;
  const auto start = propane->at_Tp(298.15, 8e5);
  ASSERT_TRUE(start);
  const double Z = 8e5 / (start->rho * R * 298.15), mu = propane->transport(*start)->viscosity;
  double m = 1e-3;
  for (int i = 0; i < 50; ++i) {
    const double f = 0.3164 / std::pow(m * d / (area * mu), 0.25);
    m = area * std::sqrt((64e10 - kAir * kAir) / (Z * R * 298.15 * (f * L / d + 2 * std::log(8e5 / kAir))));
  }
  EXPECT_NEAR(through(L, d).flow / m, 1, 0.06);
}

TEST(Jet, HasTheEquivalentSourceOfTheChokedRelease) {
  // [birch1984] for a perfect gas: d_eff = d sqrt((p0/p_a) (2/(g+1))^((g+1)/(2(g-1)))) at the vessel's
  // temperature
  const double g = 1.402, p0 = 4e5;
  const auto n2 = service::load_fluid("R728");
  ASSERT_TRUE(n2);
  const auto jet = expanded(*n2, outflow("R728", p0, 300), 300, kAir);
  ASSERT_TRUE(jet);
  const double wanted = 1e-3 * std::sqrt(p0 / kAir * std::pow(2 / (g + 1), (g + 1) / (2 * (g - 1))));
  EXPECT_NEAR(jet->bore / wanted, 1, 3e-3);
}

TEST(Jet, ThinsWithTheDistance) {
  const Jet jet{1e-3, 1.8, 250};
  const double air = 1.184;
  const double near = jet_distance(jet, air, 0.02, kJetMid), far = jet_distance(jet, air, 0.01, kJetMid);
  // thin: mass fraction is density over the air's, so half the density lies twice as far
  EXPECT_NEAR(far / near, 2, 0.02);
  EXPECT_NEAR(far, kJetMid * 1e-3 * std::sqrt(1.8 / air) * air / 0.01, 0.01 * far);
  EXPECT_LT(jet_distance(jet, air, 0.01, kJetLow), far);
  EXPECT_GT(momentum_reach({1e-3, 1.2, 250}, air), momentum_reach(jet, air));
}

TEST(Jet, RefusesWhatWouldRunOutAsLiquid) {
  const auto isobutane = service::load_fluid("R600a");
  ASSERT_TRUE(isobutane);
  const auto cold = expanded(*isobutane, outflow("R600a", 2e5, 293.15), 255, kAir);  // boils at 261.4 K
  ASSERT_FALSE(cold);
  EXPECT_EQ(cold.problem().field, "temperature");
  EXPECT_FALSE(vapour_outflow(*isobutane, {1e-3, 1}, 0.9e5, 293.15, kAir));
  EXPECT_FALSE(vapour_outflow(*isobutane, {0, 1}, 2e5, 293.15, kAir));
}

TEST(Calm, IsTheHalfSphereWorkedByHand) {
  // 150 g of propane at a quarter of 0.038 kg/m3 fills 15.789 m3: r = (3 x 15.789/(2 pi))^(1/3) = 1.9607 m
  EXPECT_NEAR(half_sphere(0.150, 0.25 * 0.038), 1.9607, 2e-4);
}

TEST(Wind, ThinsThroughTheSectionAndThePlume) {
  // 1 g/s in 2 m/s to 0.0095 kg/m3: half a circle of 0.052632 m2, r = 0.18305 m
  EXPECT_NEAR(wind_section(1e-3, 2, 0.0095), 0.18305, 1e-5);
  for (const Air air : {Air::neutral, Air::still_night}) {
    const double x = plume_distance(5e-3, 1, 0.0095, air);
    const double sy = (air == Air::neutral ? 0.08 : 0.04) * x / std::sqrt(1 + 1e-4 * x);
    const double sz = air == Air::neutral ? 0.06 * x / std::sqrt(1 + 1.5e-3 * x) : 0.016 * x / (1 + 3e-4 * x);
    EXPECT_NEAR(5e-3 / (kPi * 1 * sy * sz), 0.0095, 1e-8);
  }
  EXPECT_GT(plume_distance(5e-3, 1, 0.0095, Air::still_night), plume_distance(5e-3, 1, 0.0095, Air::neutral));
}

TEST(LeftCold, IsWhatABoilingBodyKeeps) {
  // an independent march: in each of 4000 small steps the vapour that leaves takes its heat from the liquid
  const auto propane = service::load_fluid("R290");
  ASSERT_TRUE(propane);
  const double boiling = *propane->bubble_temperature(kAir), T = 298.15;
  double mass = 1;
  const int steps = 4000;
  for (int i = 0; i < steps; ++i) {
    const double here = T - (T - boiling) * i / steps, next = T - (T - boiling) * (i + 1) / steps;
    const auto a = propane->saturation_at_T(here), b = propane->saturation_at_T(next);
    ASSERT_TRUE(a && b);
    const double heat = 0.5 * (a->vapour.h - a->liquid.h + b->vapour.h - b->liquid.h);
    mass *= 1 - (a->liquid.h - b->liquid.h) / heat;
  }
  const auto left = left_cold(*propane, T, kAir);
  ASSERT_TRUE(left);
  EXPECT_NEAR(*left, mass, 1e-3);
  EXPECT_GT(*left, 0.55);  // about 2.5 kJ/(kg K) x 67 K / 390 kJ/kg
  EXPECT_LT(*left, 0.70);
  EXPECT_EQ(*left_cold(*propane, boiling - 5, kAir), 1);
}

TEST(Indoors, FollowsTheBalanceOfARoom) {
  // dC/dt = m/(tau V) - n C, marched with a thousandth of a minute
  const double charge = 0.15, seconds = 300, volume = 30, n = 2 / 3600.0;
  double C = 0, dt = 0.06;
  for (double t = 0; t < seconds - 1e-9; t += dt) {
    const double mid = C + 0.5 * dt * (charge / seconds / volume - n * C);
    C += dt * (charge / seconds / volume - n * mid);
  }
  const double peak = room_peak(charge, seconds, volume, n);
  EXPECT_NEAR(peak, C, 1e-6 * C);
  EXPECT_NEAR(room_peak(charge, 0, volume, n), charge / volume, 1e-15);
  double t = 0;
  for (; C > 0.001; t += dt) C -= dt * n * (C - 0.5 * dt * n * C);
  EXPECT_NEAR(airing_time(peak, 0.001, n), t, 0.2);
  EXPECT_EQ(airing_time(0.001, 0.002, n), 0);
}

}  // namespace
}  // namespace coldwright::procedures

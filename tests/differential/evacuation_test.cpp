// The evacuation's course against other ways of reckoning it: the logarithm where nothing throttles, a plain
// implicit march of two volumes with Knudsen's formula written out again, and the water's heat alone.
#include "procedures/evacuation.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "procedures/water.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kRoom = 293.15, kAir = 101325;
constexpr Pump kPump{1.0e-3, 2};
constexpr Line kHose{0.0048, 1.5}, kTube{0.8e-3, 2.5};

TEST(EvacuationCourse, WithoutLinesIsTheLogarithm) {
  Evacuation e;
  e.pump = kPump;
  e.near_volume = 2e-3;
  const auto course = evacuate(e, kAir, 50);
  ASSERT_TRUE(course) << to_text(course.problem());
  ASSERT_TRUE(course->near_time);
  EXPECT_NEAR(*course->near_time, 2 * std::log((kAir - 2) / 48.0), 0.02 * *course->near_time);
  EXPECT_EQ(*course->dry_time, 0);
}

TEST(EvacuationCourse, ThroughAHoseIsPumpDownTime) {
  Evacuation e;
  e.pump = kPump;
  e.near_volume = 3e-3;
  e.near = {kHose};
  const auto course = evacuate(e, kAir, 40);
  const auto quadrature = pump_down_time(kPump, e.near, 3e-3, kRoom, kAir, 40);
  ASSERT_TRUE(course && quadrature && course->near_time);
  // The quadrature takes the line's mean pressure as that to the pump's ultimate, the course to its inlet.
  EXPECT_NEAR(*course->near_time, *quadrature, 0.15 * *quadrature);
}

// Knudsen's conductance of a long tube for air at 20 C by the texts' numbers [roth1990, Chapter 3]: 135 D^4
// p/L and 12.1 D^3/L in l/s with cm and mbar, joined by his factor.
double text_throughput(const Line& line, double p1, double p2) {
  const double D = line.bore * 100, L = line.length * 100, mbar = 0.5 * (p1 + p2) / 100;
  const double b = 0.5 * (p1 + p2) * line.bore / (18.2e-6 * std::sqrt(287.05 * kRoom));
  const double litres =
      135 * std::pow(D, 4) * mbar / L + 12.1 * std::pow(D, 3) / L * (1 + b) / (1 + 1.24 * b);
  return litres * 1e-3 * (p1 - p2);
}

// Near side behind the hose, far side behind the capillary: backward Euler in small steps, each implicit
// equation by bisection, the pump's inlet by bisection inside.
TEST(EvacuationCourse, TwoVolumesAreThoseOfAnIndependentMarch) {
  Evacuation e;
  e.pump = kPump;
  e.near = {kHose};
  e.capillary = kTube;
  e.near_volume = 2.0e-3;
  e.far_volume = 0.8e-3;
  const auto course = evacuate(e, kAir, 100);
  ASSERT_TRUE(course && course->far_time && course->near_time);
  const auto bisect = [](auto rising, double low, double high) {
    for (int i = 0; i < 60; ++i) {
      const double x = 0.5 * (low + high);
      (rising(x) < 0 ? low : high) = x;
    }
    return 0.5 * (low + high);
  };
  const auto pumped = [&](double near) {
    const double inlet =
        bisect([&](double x) { return kPump.speed * (x - kPump.ultimate) - text_throughput(kHose, near, x); },
               0, near);
    return text_throughput(kHose, near, inlet);
  };
  double near = kAir, far = kAir, t = 0, near_time = 0;
  while (far > 100) {
    const double h = t < 60 ? 0.05 : 2;
    // far from its own equation with the near side of the step before, then near with the new far
    far = bisect([&](double x) { return e.far_volume * (x - far) / h + text_throughput(kTube, x, near); }, 1,
                 far);
    near = bisect(
        [&](double x) { return e.near_volume * (x - near) / h + pumped(x) - text_throughput(kTube, far, x); },
        1, near);
    t += h;
    if (near > 100) near_time = t;
  }
  EXPECT_NEAR(*course->far_time, t, 0.03 * t);
  EXPECT_NEAR(*course->near_time, near_time, 0.05 * near_time);
  EXPECT_GT(t, 20 * near_time);  // the capillary is what it waits for
}

TEST(EvacuationCourse, BothSidesCoresOutIsTheQuickest) {
  Evacuation e;
  e.pump = kPump;
  e.capillary = kTube;
  e.near_volume = 2.0e-3;
  e.far_volume = 0.8e-3;
  const auto longest = [&](std::vector<Line> near, std::vector<Line> far) {
    e.near = std::move(near);
    e.far = std::move(far);
    const auto c = evacuate(e, kAir, 100);
    EXPECT_TRUE(c && c->near_time && c->far_time);
    return c ? std::max(*c->near_time, *c->far_time) : 0;
  };
  const double open = longest({kHose}, {kHose}), cores = longest({kValveCore, kHose}, {kValveCore, kHose});
  const double one = longest({kHose}, {});
  EXPECT_LT(open, cores);
  EXPECT_LT(cores, one);
}

TEST(EvacuationCourse, WaterIsBoiledByTheHeatThatReachesIt) {
  // A pump so large that the water stands at its ultimate: E = G (T - T_boil)/L.
  Evacuation e;
  e.pump = {1, 50};
  e.near_volume = 1e-3;
  e.water = 1e-3;
  const auto course = evacuate(e, kAir, 100);
  ASSERT_TRUE(course && course->dry_time);
  const double colder = kRoom - *water_temperature(50.5);
  const double expected = 0.99e-3 * 2.83e6 / (kWaterConductance * colder);
  EXPECT_NEAR(*course->dry_time, expected, 0.05 * expected);
  // and never faster than the least time, with heat at once
  const auto least = drying_time(e.pump, {}, e.water, *water_pressure(kRoom), kRoom);
  ASSERT_TRUE(least);
  EXPECT_GT(*course->dry_time, *least);
}

TEST(EvacuationCourse, ATraceOfWaterIsSoonGone) {
  Evacuation e;
  e.pump = kPump;
  e.near = {kHose};
  e.near_volume = 2e-3;
  const double dry = *evacuate(e, kAir, 60)->near_time;
  for (double water : {1e-8, 1e-6}) {
    e.water = water;
    const auto course = evacuate(e, kAir, 60);
    ASSERT_TRUE(course && course->dry_time && course->near_time) << water;
    EXPECT_NEAR(*course->near_time, dry, 0.02 * dry);
  }
}

TEST(EvacuationCourse, OilGasHoldsThePressureUp) {
  Evacuation e;
  e.pump = kPump;
  e.near = {kHose};
  e.near_volume = 2e-3;
  const double dry = *evacuate(e, kAir, 60)->near_time;
  e.oil_gas = 5e-3;
  e.oil_gas_constant = 188.6;  // propane
  const auto with = evacuate(e, kAir, 60);
  ASSERT_TRUE(with && with->near_time);
  EXPECT_GT(*with->near_time, 5 * dry);
  // The level it holds is the gas it gives over the speed that draws it, once the rest is gone.
  const EvacuationPoint& last = with->points.back();
  const double given = last.oil_gas / e.oil_time * e.oil_gas_constant * kRoom;
  EXPECT_NEAR(given, throughput(e.near, air(), kRoom, last.near, kPump.ultimate + given / kPump.speed),
              0.05 * given);
}

TEST(BrokenVacuums, ShareOfTheFirstAirIsTheProductOfTheirRatios) {
  Evacuation e;
  e.pump = kPump;
  e.near = {kHose};
  e.near_volume = 2e-3;
  const Breaks three{3, 200, 200, 101325, 60};
  const auto b = broken_vacuums(e, kAir, three);
  ASSERT_TRUE(b) << to_text(b.problem());
  // air let in at first, marched through by hand: pump, fill, pump, fill, pump
  double air_left = 1;
  for (int i = 0; i < 3; ++i) air_left *= 200.0 / 101325;
  EXPECT_NEAR(b->air_share, air_left, 1e-12);
  EXPECT_FALSE(b->single_time);  // 0.0008 Pa: below what this pump reaches
  ASSERT_EQ(b->pumping.size(), 3u);
  ASSERT_EQ(b->breaking.size(), 2u);
  EXPECT_NEAR(b->pumping[1], b->pumping[0], 0.02 * b->pumping[0]);
  const auto two = broken_vacuums(e, kAir, {2, 2000, 1000, 20000, 60});
  ASSERT_TRUE(two);
  EXPECT_NEAR(two->single, 2000 * 1000.0 / 20000, 1e-9);
  EXPECT_TRUE(two->single_time);
}

TEST(BrokenVacuums, CarriedWaterIsThatOfSaturatedGas) {
  // 20 C: 17.3 g/m3 in every handbook of moist air
  EXPECT_NEAR(carried_water(1, *water_pressure(kRoom), kRoom), 17.3e-3, 0.05e-3);
}

TEST(EvacuationCourse, RefusesWhatCantBe) {
  Evacuation e;
  e.pump = kPump;
  e.near_volume = 2e-3;
  EXPECT_FALSE(evacuate(e, kAir, 1.5));
  e.far_volume = 1e-3;
  EXPECT_FALSE(evacuate(e, kAir, 50));  // no way out of the far side
  e.far_volume = 0;
  EXPECT_FALSE(broken_vacuums(e, kAir, {3, 200, 200, 150, 60}));
  EXPECT_FALSE(broken_vacuums(e, kAir, {0, 200, 200, 101325, 60}));
  e.near_volume = 0;
  EXPECT_FALSE(evacuate(e, kAir, 50));
}

}  // namespace
}  // namespace coldwright::procedures

// Faults that show in motion: they come and go by the cabinet's own physics.
#include <gtest/gtest.h>

#include <algorithm>

#include "support/lab_cabinet.hpp"

namespace coldwright::lab {
namespace {

Life in_use(const Designed& unit, double room, std::vector<Fault> faults) {
  Life life;
  life.start = life.outside.ambient = room;
  life.start_box = unit.set_point + 2;
  life.outside.voltage = unit.plate_voltage;
  life.faults = std::move(faults);
  life.doors = false;
  return life;
}

TEST(LabFaults, LossOfPumpingLeavesCurrentAtAFloorWhileSuctionRises) {
  const Designed unit = lab_cooler();
  Simulation run(unit.cabinet, lab_refrigerant("R290"),
                 on_bench(unit, 300, {{"not_pumping", 1, 0.5, 1800, 0}}), RandomStream(1));
  ASSERT_TRUE(run.advance(1795));
  const Readable before = run.read();
  ASSERT_TRUE(run.advance(35));
  const Readable after = run.read();
  EXPECT_TRUE(after.motor_turns);
  EXPECT_GT(after.current, 0.2 * before.current);
  EXPECT_LT(after.current, 0.75 * before.current);
  EXPECT_GT(after.suction_pressure, before.suction_pressure + 0.3e5);
  EXPECT_LT(after.discharge_pressure, before.discharge_pressure);
}

TEST(LabFaults, PumpingLostAtTimesComesBack) {
  const Designed unit = lab_cooler();
  Simulation run(unit.cabinet, lab_refrigerant("R290"),
                 on_bench(unit, 300, {{"pumping_lost_at_times", 1, 0.7, 0, 0}}), RandomStream(2));
  int changes = 0;
  bool low = false;
  for (int i = 0; i < 180; ++i) {
    ASSERT_TRUE(run.advance(60));
    const Readable r = run.read();
    const bool now = r.current < 0.7 * unit.cabinet.motor.design_current;
    changes += now != low;
    low = now;
  }
  EXPECT_GE(changes, 3);
}

TEST(LabFaults, WaterFreezesInTheCapillaryAndThawsWhenTheCoilIsWarm) {
  const Designed unit = lab_cooler();
  Life life = in_use(unit, 298, {{"moisture_freeze", 0.95, 0.5, 0, 0}});
  Simulation run(unit.cabinet, lab_refrigerant("R290"), life, RandomStream(3));
  const auto plug = [&] { return run.state()[static_cast<std::size_t>(run.plant().layout().plug)]; };
  double most = 0, least_after = 1;
  for (int i = 0; i < 10 * 60; ++i) {
    ASSERT_TRUE(run.advance(60));
    most = std::max(most, plug());
    if (most > 0.5) least_after = std::min(least_after, plug());
  }
  EXPECT_GT(most, 0.5);
  EXPECT_LT(least_after, 0.2);  // a defrost let it go
}

TEST(LabFaults, ALeakTakesWhatItSays) {
  const Designed unit = lab_cooler();
  const double grams_a_day = 24;
  Life life = in_use(unit, 298, {{"low_charge", grams_a_day * 1e-3 / 86400, 0.5, 0, 1}});
  life.tolerance = 1e-4;
  Simulation run(unit.cabinet, lab_refrigerant("R290"), life, RandomStream(3));
  ASSERT_TRUE(run.advance(8 * 3600));
  const double gone = run.state()[static_cast<std::size_t>(run.plant().layout().gone_mass)];
  EXPECT_NEAR(gone, grams_a_day * 1e-3 / 3, 0.5 * grams_a_day * 1e-3 / 3);
  double inside = 0;
  for (int i = 0; i < run.plant().layout().cells; ++i) inside += run.state()[static_cast<std::size_t>(2 * i)];
  inside += run.state()[static_cast<std::size_t>(run.plant().layout().dissolved)];
  EXPECT_NEAR(inside + gone, run.plant().cabinet().charge, 1e-8);
}

TEST(LabFaults, AStuckRotorTripsItsOverloadAgainAndAgain) {
  const Designed unit = lab_cooler();
  Simulation run(unit.cabinet, lab_refrigerant("R290"),
                 in_use(unit, 300, {{"start_or_winding", 1, 0.2, 0, 0}}), RandomStream(3));
  ASSERT_TRUE(run.advance(3600));
  EXPECT_GE(run.trips().size(), 5u);
  EXPECT_LT(run.trips().front(), 60);
  EXPECT_GT(run.read().box_air, unit.set_point + 2);
}

TEST(LabFaults, ADeadCondenserFanOnAHotDayRaisesTheHead) {
  const Designed unit = lab_cooler();
  const Readable sound = settled(unit, "R290", 311),
                 dead = settled(unit, "R290", 311, {{"condenser_fan", 0.9, 0.5, 0, 0}}, 25);
  EXPECT_GT(dead.discharge_pressure, 1.3 * sound.discharge_pressure);
}

TEST(LabFaults, DoorsWarmTheBoxAndFeedFrost) {
  const Designed unit = lab_cooler();
  Life quiet = in_use(unit, 300, {}), busy = in_use(unit, 300, {{"high_load", 3, 0.5, 0, 0}});
  busy.doors = true;
  Simulation a(unit.cabinet, lab_refrigerant("R290"), quiet, RandomStream(3)),
      b(unit.cabinet, lab_refrigerant("R290"), busy, RandomStream(3));
  ASSERT_TRUE(a.advance(3 * 3600));
  ASSERT_TRUE(b.advance(3 * 3600));
  const auto electricity = [](const Simulation& s) {
    return s.state()[static_cast<std::size_t>(s.plant().layout().electricity)];
  };
  EXPECT_GT(electricity(b), 1.05 * electricity(a));
  EXPECT_GT(b.look().frost, a.look().frost);
}

TEST(LabFaults, ASwingingFeedShowsInTheSuction) {
  const Designed unit = lab_cooler();
  const auto swing = [&](std::vector<Fault> faults) {
    Simulation run(unit.cabinet, lab_refrigerant("R290"), on_bench(unit, 300, std::move(faults)),
                   RandomStream(3));
    EXPECT_TRUE(run.advance(2400));
    double low = 1e9, high = 0;
    for (int i = 0; i < 60; ++i) {
      EXPECT_TRUE(run.advance(10));
      low = std::min(low, run.read().suction_pressure);
      high = std::max(high, run.read().suction_pressure);
    }
    return (high - low) / high;
  };
  EXPECT_LT(swing({}), 0.02);
  EXPECT_GT(swing({{"hunting", 0.5, 0.5, 0, 0}}), 0.05);
}

}  // namespace
}  // namespace coldwright::lab

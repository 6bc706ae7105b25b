// The virtual cabinet neither makes nor loses mass or energy: within 1e-6 over a day of doors, cycles,
// defrosts and a fault that comes on.
#include <gtest/gtest.h>

#include "support/lab_cabinet.hpp"

namespace coldwright::lab {
namespace {

TEST(LabBalance, OverADayOfUse) {
  const Designed unit = lab_cooler();
  Life life;
  life.start = 296;
  life.start_box = 290;  // a pull-down to begin with
  life.outside.ambient = 298;
  life.outside.swing = 4;
  life.outside.voltage = unit.plate_voltage;
  life.faults = {{"dirty_condenser", 0.5, 0.5, 6 * 3600, 12 * 3600}};
  Simulation run(unit.cabinet, lab_refrigerant("R290"), life, RandomStream(3));
  const Balance before = run.plant().balance(run.state().data());
  double worst_mass = 0, worst_energy = 0;
  for (int hour = 1; hour <= 24; ++hour) {
    const auto done = run.advance(3600);
    ASSERT_TRUE(done) << to_text(done.problem());
    const Balance now = run.plant().balance(run.state().data());
    worst_mass = std::max(worst_mass, std::abs(now.mass - before.mass) / now.mass_scale);
    worst_energy = std::max(worst_energy, std::abs(now.energy - before.energy) / now.energy_scale);
  }
  EXPECT_LT(worst_mass, 1e-6);
  EXPECT_LT(worst_energy, 1e-6);
  EXPECT_GT(run.starts().size(), 10u);  // it did cycle
}

TEST(LabBalance, WithForeignGasAndALeak) {
  const Designed unit = lab_cooler();
  Life life;
  life.start = life.outside.ambient = 300;
  life.start_box = 280;
  life.outside.voltage = unit.plate_voltage;
  // 3 g a day, choked at the design's suction pressure
  life.faults = {{"noncondensable", 1.5e5, 0.5, 0, 0}, {"low_charge", 3e-3 / 86400, 0.5, 600, 1}};
  Simulation run(unit.cabinet, lab_refrigerant("R290"), life, RandomStream(4));
  const Balance before = run.plant().balance(run.state().data());
  const auto done = run.advance(4 * 3600);
  ASSERT_TRUE(done) << to_text(done.problem());
  const Balance now = run.plant().balance(run.state().data());
  EXPECT_LT(std::abs(now.mass - before.mass) / now.mass_scale, 1e-6);
  EXPECT_LT(std::abs(now.energy - before.energy) / now.energy_scale, 1e-6);
  const double gone = run.state()[static_cast<std::size_t>(run.plant().layout().gone_mass)];
  EXPECT_GT(gone, 1e-4);
  double gas = 0;
  for (int i = 0; i < run.plant().layout().cells; ++i)
    gas += run.state()[static_cast<std::size_t>(run.plant().layout().gas_at + i)];
  EXPECT_NEAR(gas / run.plant().cabinet().foreign_gas, 1, 1e-6);
}

}  // namespace
}  // namespace coldwright::lab

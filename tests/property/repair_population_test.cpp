// What the repair's procedures take from the population of machines: directions over whole populations, and
// the machine that a synthetic call came from among those believed.
#include <cmath>

#include "procedures/missing_charge.hpp"
#include "procedures/parts.hpp"
#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using enum ReadingKind;

TEST(MissingCharge, RaisesSuperheatAndLowersSuctionAndCapacity) {
  for (const char* cabinet : {"reach_in_cooler", "undercounter_cooler", "reach_in_freezer"}) {
    const Desk desk(cabinet);
    const auto out = procedures::missing_charge(desk.plate, desk.kind(), desk.working(),
                                                {desk.ambient, desk.kind().set_point_K}, 5e-3, 120, 3);
    ASSERT_TRUE(out) << to_text(out.problem());
    EXPECT_GT(out->machines, 90) << cabinet;
    EXPECT_GT(out->superheat.mid, 0) << cabinet;
    EXPECT_LT(out->suction_pressure.mid, 0) << cabinet;
    EXPECT_LT(out->capacity.mid, 0) << cabinet;
    EXPECT_LE(out->superheat.low, out->superheat.mid);
    EXPECT_GT(out->capacity.low, -1 / (0.2 * *desk.plate.charge))
        << "no machine loses all it does with a fifth";
  }
}

TEST(MissingCharge, IsTheDifferenceOfTwoMachinesSolvedApart) {
  // one machine, solved here without the procedure
  const Desk desk("reach_in_cooler");
  RandomStream own = RandomStream(3).fork(0);
  const auto machine =
      circuit::machine_from(circuit::draw_latents(own), desk.plate, desk.kind(), desk.working());
  ASSERT_TRUE(machine);
  const circuit::Conditions c{desk.ambient, desk.box, machine->compressor.rated_voltage, 1};
  circuit::Departure lacking;
  lacking.charge = 1 - 4e-3 / machine->charge;
  const auto whole = circuit::operate(*machine, desk.working(), c, {});
  const auto less = circuit::operate(*machine, desk.working(), c, lacking);
  const auto out = procedures::missing_charge(desk.plate, desk.kind(), desk.working(),
                                              {desk.ambient, desk.box}, 4e-3, 1, 3);
  ASSERT_TRUE(out);
  EXPECT_NEAR(out->suction_pressure.mid, (less.p_suction - whole.p_suction) / 4e-3, 5e3);
  EXPECT_NEAR(out->superheat.mid, (less.superheat - whole.superheat) / 4e-3, 5);
}

TEST(MissingCharge, RefusesHalfOfTheCharge) {
  const Desk desk("reach_in_cooler");
  EXPECT_FALSE(procedures::missing_charge(desk.plate, desk.kind(), desk.working(), {desk.ambient, desk.box},
                                          0.6 * *desk.plate.charge, 5, 1));
  EXPECT_FALSE(
      procedures::missing_charge(desk.plate, desk.kind(), desk.working(), {desk.ambient, desk.box}, 0, 5, 1));
}

procedures::Belief belief(Desk& desk, const std::string& cause, std::uint64_t seed) {
  Case c = desk.blank();
  desk.read(c, desk.machine(cause, seed), clamps(), seed);
  desk.single_causes_only();
  diagnosis::Options options;
  options.population = 40;
  auto out = procedures::believe(c, desk.fluid(), desk.knowledge(), options, 80);
  EXPECT_TRUE(out) << to_text(out.problem());
  return std::move(*out);
}

TEST(Believed, AreDrawnAsOftenAsTheirCausesAreProbable) {
  Desk desk("reach_in_cooler");
  const auto b = belief(desk, "low_charge", 2);
  EXPECT_GE(b.machines.size(), 70u);
  const double n = static_cast<double>(b.machines.size());
  for (const auto& cause : b.answer.causes) {
    double seen = 0;
    for (const auto& m : b.machines) seen += m.causes == cause.cause;
    EXPECT_NEAR(seen / n, cause.probability, 0.06) << cause.cause;
  }
  for (const auto& m : b.machines) {
    if (m.causes == "low_charge") {
      EXPECT_LT(m.effects.departure.charge, 1);
    }
  }
}

TEST(PartSizes, HoldThePlatesDisplacementAndTheSetPointsClass) {
  for (const auto& [cabinet, expected] : {std::pair{"reach_in_cooler", procedures::BackPressure::medium},
                                          std::pair{"reach_in_freezer", procedures::BackPressure::low}}) {
    Desk desk(cabinet);
    const auto free = belief(desk, "restriction", 1);
    const auto sizes = procedures::part_sizes(free, desk.ambient, 101325);
    ASSERT_TRUE(sizes) << to_text(sizes.problem());
    EXPECT_GT(sizes->back_pressure[static_cast<std::size_t>(expected)], 0.8) << cabinet;
    EXPECT_LT(sizes->evaporating.high, desk.kind().set_point_K);
    EXPECT_GT(sizes->capillary_bore.low, 0.3e-3);
    EXPECT_LT(sizes->capillary_bore.high, 2e-3);
    EXPECT_NEAR(sizes->charge.mid, *desk.plate.charge, 0.05 * *desk.plate.charge);
    desk.plate.displacement = 1.1 * sizes->displacement.mid;
    const auto told = procedures::part_sizes(belief(desk, "restriction", 1), desk.ambient, 101325);
    ASSERT_TRUE(told);
    EXPECT_NEAR(told->displacement.mid, *desk.plate.displacement, 0.05 * *desk.plate.displacement);
    EXPECT_LT(told->displacement.high / told->displacement.low, 1.15);
  }
}

TEST(BackPressure, IsTheNearestRating) {
  using procedures::back_pressure_of, procedures::BackPressure;
  EXPECT_EQ(back_pressure_of(273.15 - 30), BackPressure::low);
  EXPECT_EQ(back_pressure_of(273.15 - 16), BackPressure::low);
  EXPECT_EQ(back_pressure_of(273.15 - 14), BackPressure::medium);
  EXPECT_EQ(back_pressure_of(273.15 + 5), BackPressure::high);
  EXPECT_EQ(procedures::start_of(200), procedures::StartKind::resistance);
  EXPECT_EQ(procedures::start_of(400), procedures::StartKind::capacitor_start);
  EXPECT_EQ(procedures::start_of(700), procedures::StartKind::capacitor_start_run);
}

TEST(YearlyEnergy, RisesWithAFaultAndWithHeat) {
  Desk desk("reach_in_cooler");
  const auto b = belief(desk, "dirty_condenser", 2);
  const auto mild = procedures::yearly_energy_of(b, 273.15 + 20, 101325);
  const auto hot = procedures::yearly_energy_of(b, 273.15 + 28, 101325);
  ASSERT_TRUE(mild && hot);
  EXPECT_GT(mild->now.mid, mild->sound.mid);
  EXPECT_GT(hot->sound.mid, mild->sound.mid);
  EXPECT_LE(hot->holds, mild->holds);
  EXPECT_GT(mild->share_sound.mid, 0.2);
  EXPECT_LE(mild->share_now.high, 1);
  // even a fouled one stays below half as much again as the plate's current for a whole year
  EXPECT_LT(mild->now.high, 1.5 * 8766 * 0.115 * *desk.plate.rated_current);
}

}  // namespace
}  // namespace coldwright::test

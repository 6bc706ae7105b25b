// Over many seeds every machine of every level can be drawn, read everywhere, and is one that somebody would
// have called for; what happens to it is physical.
#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "practice/walk.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::practice {
namespace {

using circuit::ReadingKind;

struct World {
  diagnosis::Knowledge knowledge = service::load_knowledge().value();
  std::map<std::string, std::shared_ptr<const circuit::WorkingFluid>> fluids;
  Visit visit(std::uint64_t seed, Level level) {
    const std::string kind = kind_drawn(seed, level, knowledge);
    std::string name;
    for (const auto& a : knowledge.archetypes)
      if (a.id == kind) name = a.refrigerant;
    auto& fluid = fluids[name];
    if (!fluid)
      fluid = std::make_shared<const circuit::WorkingFluid>(
          circuit::WorkingFluid::make(service::load_fluid(name).value()).value());
    auto drawn = draw_visit(seed, level, kind, fluid, knowledge);
    EXPECT_TRUE(drawn) << seed << to_word(level) << to_text(drawn.problem());
    return std::move(*drawn);
  }
};

constexpr Level kLevels[] = {Level::first, Level::working_day, Level::hard};

TEST(PracticeSeeds, EverythingOfferedAnswersWithAFiniteReading) {
  World world;
  for (const Level level : kLevels) {
    for (std::uint64_t seed = 0; seed < 60; ++seed) {
      const Visit v = world.visit(seed, level);
      const Walk door = arrive(v);
      for (const Action& action : actions(world.knowledge)) {
        const auto walk = advance(door, v, action);
        ASSERT_TRUE(walk) << seed << action.id;
        const Step& step = walk->steps.back();
        if (action.reading) {
          ASSERT_TRUE(step.value && std::isfinite(*step.value)) << seed << action.id;
          EXPECT_GE(*step.value, 0) << seed << " " << action.id;
        }
        if (action.look != nullptr) {
          EXPECT_NE(std::find(action.look->values.begin(), action.look->values.end(), step.seen),
                    action.look->values.end());
        }
        EXPECT_GT(step.box, v.plate.set_point.value() - 2) << seed << action.id;
        EXPECT_LT(step.box, v.ambient + 2) << seed << action.id;
      }
    }
  }
}

TEST(PracticeSeeds, ManyCausesAreDrawnAndEachLevelKeepsToItsOwn) {
  World world;
  std::map<Level, std::map<std::string, int>> seen;
  for (const Level level : kLevels) {
    int pairs = 0;
    for (std::uint64_t seed = 0; seed < 120; ++seed) {
      const Visit v = world.visit(seed, level);
      ++seen[level][v.truth.id];
      pairs += v.faults.size() > 1;
      for (const Fault& fault : v.faults) {
        EXPECT_GE(fault.share, level == Level::first ? 0.69 : 0.0) << seed;
        EXPECT_LE(fault.share, level == Level::hard ? 0.51 : 1.0) << seed;
      }
    }
    if (level == Level::hard) {
      EXPECT_GT(pairs, 20);
    } else {
      EXPECT_EQ(pairs, 0);
    }
    EXPECT_GE(seen[level].size(), 10U) << to_word(level);
  }
  EXPECT_EQ(seen[Level::first].count("sound"), 0U);
  EXPECT_GT(seen[Level::working_day].count("sound"), 0U);
}

TEST(PracticeSeeds, GramsLetOutAreMissingAndTheMachineStartsAnew) {
  World world;
  const Visit v = [&] {
    for (std::uint64_t seed = 0;; ++seed) {
      Visit one = world.visit(seed, Level::first);
      if (one.truth.id == "low_charge" && one.at({}).sim.mode == diagnosis::Mode::running) return one;
    }
  }();
  const Moment before = v.at({10, {}, 0}), after = v.at({10, {}, 0.002});
  EXPECT_NEAR(before.sim.charge - after.sim.charge, 0.002, 1e-9);
  // Switched off for ten minutes and just started: its suction still stands near the equalised pressure.
  const auto suction = [](const Moment& m) {
    return m.sim.readings[static_cast<std::size_t>(ReadingKind::suction_pressure)];
  };
  const Moment started = v.at({20.5, {{10, 20}}, 0}), settled = v.at({60, {{10, 20}}, 0});
  EXPECT_NEAR(started.minutes_running.value(), 0.5, 1e-12);
  EXPECT_GT(suction(started), 1.3 * suction(settled));
  EXPECT_GT(v.at({20, {{10, 20}}, 0}).sim.true_box, v.at({10, {}, 0}).sim.true_box);
}

TEST(PracticeSeeds, APathReplaysWhateverElseIsDoneBetween) {
  // The n-th time of one reading shows the same error whatever stands between, at the same moment of the
  // visit.
  World world;
  const Visit v = world.visit(3, Level::working_day);
  const auto named = [&](const char* id) { return action_named(id, world.knowledge).value(); };
  const Walk one =
      advance(advance(arrive(v), v, named("condenser_face")).value(), v, named("supply_voltage")).value();
  const Walk other =
      advance(advance(arrive(v), v, named("door_gasket")).value(), v, named("supply_voltage")).value();
  EXPECT_EQ(one.steps.back().value, other.steps.back().value);
}

}  // namespace
}  // namespace coldwright::practice

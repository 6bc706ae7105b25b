// Phases against a known truth over traces of many shapes: sampling, size of machine, heater, floor, faults.
#include <gtest/gtest.h>

#include "support/made_trace.hpp"
#include "traces/align.hpp"
#include "traces/events.hpp"
#include "traces/findings.hpp"
#include "traces/fits.hpp"

namespace coldwright::traces {
namespace {

using tests::agreement;
using tests::Made;
using tests::make_trace;
using tests::Making;

int count(const Phases& phases, State state) {
  int n = 0;
  for (const Phase& p : phases.phases) n += p.state == state;
  return n;
}

TEST(TracePhases, AreFoundOverManyShapesOfMachine) {
  struct Row {
    const char* name;
    Making making;
    double least;
  };
  const Row rows[] = {
      {"small, one second", {.interval = 1, .days = 1, .run = 65}, 0.99},
      {"six seconds", {.interval = 6}, 0.99},
      {"a minute", {.interval = 60, .days = 7, .inrush = 1.4}, 0.97},
      {"five minutes", {.interval = 300, .days = 14, .heater = 0, .inrush = 1.4}, 0.93},
      {"a quarter hour",
       {.interval = 900, .days = 20, .heater = 0, .on = 2400, .off = 3600, .inrush = 1.4},
       0.9},
      {"a fan that always runs",
       {.run = 300, .floor = 35, .heater = 1000, .lights = 80, .on = 2400, .off = 1200},
       0.98},
      {"a heater near the compressor's level", {.run = 120, .floor = 3, .heater = 230}, 0.97},
      {"coarse watts", {.interval = 30, .run = 80, .lights = 0, .step = 10}, 0.97},
      {"much noise", {.run = 100, .noise = 6}, 0.97},
      {"mostly running", {.run = 150, .on = 3000, .off = 400}, 0.97},
      {"seldom running", {.run = 90, .heater = 0, .on = 300, .off = 4000}, 0.97},
  };
  for (const Row& row : rows)
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
      Making making = row.making;
      making.seed = seed;
      const Made made = make_trace(making);
      const auto found = phases_of(made.trace());
      ASSERT_TRUE(found) << row.name;
      EXPECT_GT(agreement(made, *found), row.least) << row.name << " seed " << seed;
      EXPECT_EQ(count(*found, State::not_pumping), 0) << row.name;
      EXPECT_EQ(count(*found, State::overload), 0) << row.name << " seed " << seed;
      if (making.heater > 0) {
        EXPECT_EQ(count(*found, State::defrost), made.defrosts) << row.name << " seed " << seed;
      }
    }
}

TEST(TracePhases, AMotorThatStopsPumpingIsToldByThePressureBesideAndOnlyThen) {
  Making making;
  making.interval = 5;
  making.days = 1;
  making.heater = 0;
  making.lights = 0;
  making.not_pumping_at = 40000;
  const Made made = make_trace(making);
  const auto with = phases_of(made.trace(true));
  ASSERT_TRUE(with);
  ASSERT_GE(count(*with, State::not_pumping), 1);
  for (const Phase& p : with->phases)
    if (p.state == State::not_pumping) {
      EXPECT_GT(p.from, 40000 - 60);
      EXPECT_LT(p.to, 40000 + 500);
    }
  const auto without = phases_of(made.trace(false));
  ASSERT_TRUE(without);
  EXPECT_FALSE(without->told_pumping);
  EXPECT_EQ(count(*without, State::not_pumping), 0);
}

TEST(TracePhases, AnOverloadsCycleIsOnePhaseWithItsTries) {
  Making making;
  making.interval = 3;
  making.days = 1;
  making.heater = 0;
  making.overload_at = 30000;
  const Made made = make_trace(making);
  const Trace trace = made.trace();
  const auto found = phases_of(trace);
  ASSERT_TRUE(found);
  int tries = 0;
  for (const Phase& p : found->phases)
    if (p.state == State::overload) {
      tries += p.tries;
      EXPECT_NEAR(p.from, 30000, 400);
    }
  EXPECT_GE(tries, 8);
  EXPECT_LE(tries, 11);
  const auto events = events_of(trace, *found);
  const Findings findings = findings_of(trace, *found, events);
  bool said = false;
  for (const Observed& o : findings.observed) said = said || o.value == "cycling_on_overload";
  EXPECT_TRUE(said);
}

TEST(TracePhases, ATemperatureAloneTellsCyclesLessSurely) {
  Making making;
  making.interval = 30;
  making.heater = 0;
  making.lights = 0;
  const Made made = make_trace(making);
  Trace trace = made.trace(false, true);
  trace.series.erase(trace.series.begin());
  const auto found = phases_of(trace);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->method, Method::swing);
  EXPECT_NEAR(count(*found, State::running), made.starts, 2);
  EXPECT_GT(agreement(made, *found), 0.9);
  for (const Phase& p : found->phases) EXPECT_LE(p.probability, 0.95);
}

TEST(TracePhases, OneLevelIsJudgedByItsSizeAndSaidSo) {
  Trace trace = make_trace({}).trace();
  for (float& v : trace.series.front().value) v = 120 + std::fmod(v, 2.0F);
  const auto running = phases_of(trace);
  ASSERT_TRUE(running);
  EXPECT_TRUE(running->levels.one_level);
  EXPECT_EQ(running->phases.front().state, State::running);
  for (float& v : trace.series.front().value) v = 2 + std::fmod(v, 1.0F);
  const auto off = phases_of(trace);
  ASSERT_TRUE(off);
  EXPECT_EQ(off->phases.front().state, State::off);
}

TEST(TraceFigures, HoldWhatWasPutIn) {
  Making making;
  making.heater = 0;
  making.lights = 0;
  const Made made = make_trace(making);
  const Trace trace = made.trace(true, true);
  const auto found = phases_of(trace);
  ASSERT_TRUE(found);
  for (const Figure& f : figures_of(trace, *found)) {
    if (f.key == "on_time") {
      EXPECT_NEAR(f.interval.mid, 16 * 60 * 1.02, 70);
    }
    if (f.key == "off_time") {
      EXPECT_NEAR(f.interval.mid, 28 * 60 * 1.02, 110);
    }
    if (f.key == "start_decay") {
      EXPECT_NEAR(f.interval.mid, 400, 120);
    }
    if (f.key == "equalising_tau") {
      EXPECT_NEAR(f.interval.mid, 120, 15);
    }
    if (f.key == "warming_rate") {
      EXPECT_NEAR(f.interval.mid, 2.4, 0.3);
    }
    if (f.key == "running_level") {
      EXPECT_NEAR(f.interval.mid, 108, 8);
    }
  }
}

TEST(TraceClocks, AnOffsetIsFoundWithItsInterval) {
  for (const double offset : {-3600.0, 437.0, 7200.0}) {
    Making making;
    making.heater = 0;
    making.seed = 3;
    const Made made = make_trace(making);
    const Trace power = made.trace();
    Trace other = made.trace(true);
    other.series.erase(other.series.begin());
    // The other clock shows `offset` less than the first.
    for (double& t : other.t) t += 0;
    Trace first = power, second = other;
    first.dated = second.dated = true;
    first.start = 1772582400;
    second.start = first.start - offset;
    const auto phases = phases_of(first);
    ASSERT_TRUE(phases);
    const auto clock = align(first, *phases, second);
    ASSERT_TRUE(clock);
    EXPECT_TRUE(clock->trusted) << offset;
    EXPECT_LE(clock->low, offset + 90) << offset;
    EXPECT_GE(clock->high, offset - 90) << offset;
    EXPECT_EQ(clock->whole_hours, std::fmod(offset, 3600) == 0) << clock->offset;
  }
}

}  // namespace
}  // namespace coldwright::traces

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

/// A pressure logger beside a power logger; its clock is `offset` behind in the middle of the first record
/// and gains `ppm`.
struct Loggers {
  Trace first, second;
};
Loggers two_loggers(double days, double offset, double ppm, double begins = 0, double ends = 1e9) {
  Making making;
  making.heater = 0;
  making.days = days;
  making.seed = 3;
  const Made made = make_trace(making);
  Loggers out{made.trace(), made.trace(true)};
  out.second.series.erase(out.second.series.begin());
  Trace& other = out.second;
  std::vector<double> t;
  std::vector<float> v;
  const double middle = 0.5 * made.t.back();
  for (std::size_t i = 0; i < made.t.size(); ++i) {
    if (made.t[i] < begins || made.t[i] > ends) continue;
    t.push_back(made.t[i] - offset + ppm * 1e-6 * (made.t[i] - middle));
    v.push_back(other.series.front().value[i]);
  }
  const double start = t.front();
  for (double& at : t) at -= start;
  other.t = t;
  other.series.front().value = v;
  out.first.dated = other.dated = true;
  out.first.start = 1772582400;
  other.start = out.first.start + start;
  return out;
}

TEST(TraceClocks, ADriftIsFoundWithItsInterval) {
  for (const double ppm : {0.0, 60.0, -150.0}) {
    const Loggers two = two_loggers(10, 437, ppm);
    const auto phases = phases_of(two.first);
    ASSERT_TRUE(phases);
    const auto clock = align(two.first, *phases, two.second);
    ASSERT_TRUE(clock);
    ASSERT_TRUE(clock->trusted && clock->drift_tried) << ppm;
    // What the other clock gains has to be taken off again.
    const double true_drift = -ppm * 0.0864;
    EXPECT_LE(clock->drift_low, true_drift + 0.5) << ppm;
    EXPECT_GE(clock->drift_high, true_drift - 0.5) << ppm;
    EXPECT_LT(clock->drift_high - clock->drift_low, 8) << ppm;
    EXPECT_EQ(clock->drift == 0, ppm == 0) << clock->drift;
    EXPECT_LE(clock->low, 437 + 60) << ppm;
    EXPECT_GE(clock->high, 437 - 60) << ppm;
  }
}

// Six days of two machines that have nothing to do with each other: many parts, each with a line of its own,
// must not add up to a tie.
TEST(TraceClocks, UnrelatedMachinesAreNotTied) {
  for (const int seed : {11, 12, 13}) {
    Loggers two = two_loggers(6, 0, 0);
    Making making;
    making.heater = 0;
    making.days = 6;
    making.seed = static_cast<std::uint64_t>(seed);
    making.on *= 1.17;
    Trace other = make_trace(making).trace(true);
    other.series.erase(other.series.begin());
    other.dated = true;
    other.start = two.first.start;
    const auto phases = phases_of(two.first);
    ASSERT_TRUE(phases);
    const auto clock = align(two.first, *phases, other);
    ASSERT_TRUE(clock);
    EXPECT_FALSE(clock->trusted) << seed;
    // The best of some 7,200 offsets (26 h either way in steps of 26 s), each half a chi-square by chance:
    // ln 7200, and 4.6 more once in a hundred.
    EXPECT_LT(clock->gain, 13.5) << seed;
  }
}

TEST(TraceClocks, AFileWithoutDatesIsFoundAnywhereInTheOther) {
  Loggers two = two_loggers(8, 0, 0, 4 * 86400, 6 * 86400);
  two.second.dated = false;
  two.second.start = 0;
  const auto phases = phases_of(two.first);
  ASSERT_TRUE(phases);
  const auto clock = align(two.first, *phases, two.second);
  ASSERT_TRUE(clock);
  EXPECT_TRUE(clock->trusted);
  EXPECT_NEAR(clock->offset, 4 * 86400, 90);
  EXPECT_FALSE(clock->whole_hours);
}

TEST(TraceEvents, ACoilThatThawsAtEachRestIsNoRowOfDefrosts) {
  Making making;
  making.heater = 0;
  making.lights = 0;
  Trace trace = make_trace(making).trace();
  const auto phases = phases_of(trace);
  ASSERT_TRUE(phases);
  Series coil;
  coil.what = What::coil_temp;
  double c = 268;
  std::size_t p = 0;
  for (const double t : trace.t) {
    while (p + 1 < phases->phases.size() && phases->phases[p].to <= t) ++p;
    const bool off = phases->phases[p].state == State::off;
    c += ((off ? 276.5 : 259) - c) * trace.interval / 500;
    coil.value.push_back(static_cast<float>(c));
  }
  trace.series.push_back(coil);
  int defrosts = 0;
  for (const Event& e : events_of(trace, *phases)) defrosts += e.what == Happening::defrost;
  EXPECT_EQ(defrosts, 0);
  bool said = false;
  for (const Figure& f : figures_of(trace, *phases))
    if (f.key == "rests_thawing") {
      said = true;
      EXPECT_GT(f.interval.mid, 0.9);
    }
  EXPECT_TRUE(said);
}

TEST(TraceEvents, AnotherMachineOnTheMeterIsNoHunting) {
  Making small{.interval = 5, .heater = 0, .lights = 0, .on = 600, .off = 900, .seed = 4};
  Making large{.interval = 5, .run = 210, .heater = 0, .lights = 0, .on = 4000, .off = 2000, .seed = 9};
  const Made a = make_trace(small), b = make_trace(large);
  Trace trace = a.trace();
  for (std::size_t i = 0; i < trace.t.size(); ++i)
    trace.series.front().value[i] += static_cast<float>(b.power[i]);
  const auto phases = phases_of(trace);
  ASSERT_TRUE(phases);
  for (const Event& e : events_of(trace, *phases)) EXPECT_NE(e.what, Happening::hunting);
}

}  // namespace
}  // namespace coldwright::traces

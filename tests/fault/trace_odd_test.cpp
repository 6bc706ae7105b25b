// Files as meters and plugs write them: the machine among other columns, energies, dates that only later rows
// settle, loggers that leave out or mix up. Each is made from a known course and has to come out as it.
#include <gtest/gtest.h>

#include "support/read_trace.hpp"
#include "traces/phases.hpp"

namespace coldwright::traces {
namespace {

using namespace coldwright::tests;

/// The course is found: its share of running, its starts and its defrosts.
void expect_course(const ReadTrace& read, const Made& made, double within, const char* name) {
  const auto found = phases_of(read.trace);
  ASSERT_TRUE(found) << name;
  EXPECT_NEAR(found_share(*found), true_share(made), within) << name;
  EXPECT_NEAR(count_of(*found, State::running), made.starts, 2) << name;
  EXPECT_EQ(count_of(*found, State::defrost), made.defrosts) << name;
  EXPECT_EQ(count_of(*found, State::overload), 0) << name;
}

Made usual(double interval = 10, double days = 2) {
  return make_trace({.interval = interval, .days = days, .lights = 0});
}

TEST(OddTraces, TheMachineIsFoundAmongOtherColumns) {
  const Made made = usual();
  const ReadTrace house = read_trace(
      lines("Row,Time,Unix,House total,Fridge,Washer,Flag\n", made, [](std::size_t i, double t, double x) {
        return std::to_string(i) + "," + date_text(t) + "," + digits(t, 0) + "," +
               digits(x + 400 + 300 * std::sin(t / 7000), 0) + "," + digits(x, 1) + "," +
               digits(i % 500 < 50 ? 800 : 0, 0) + ",0";
      }));
  for (const std::size_t c : {0U, 2U, 3U, 5U, 6U}) EXPECT_EQ(house.what(c), What::other) << c;
  EXPECT_EQ(house.what(4), What::power);
  expect_course(house, made, 0.01, "house");
  const ReadTrace meter = read_trace(lines("Time,Apparent (VA),Active (W),Energy (Wh),Pressure (hPa)\n", made,
                                           [](std::size_t i, double t, double x) {
                                             return date_text(t) + "," + digits(x * 1.4, 1) + "," +
                                                    digits(x, 1) + "," + std::to_string(i) + ",1013.2";
                                           }));
  for (const std::size_t c : {1U, 3U, 4U}) EXPECT_EQ(meter.what(c), What::other) << c;
  EXPECT_EQ(meter.what(2), What::power);
}

TEST(OddTraces, AMachinesNameIsNoKindOfReading) {
  const Made fine = usual(10, 4), made = averaged(fine, 6);
  const ReadTrace power =
      read_trace(lines("utc,kitchen_refrigerator\n", made, [](std::size_t, double t, double x) {
        return date_text(t) + "," + digits(x / 1000, 4);
      }));
  ASSERT_EQ(power.what(1), What::power);
  EXPECT_EQ(power.guess.layout.columns[1].unit, "kW");
  expect_course(power, fine, 0.02, "kW");
  const ReadTrace air =
      read_trace(lines("utc,kitchen_refrigerator\n", made, [](std::size_t, double t, double) {
        return date_text(t) + "," + digits(4 + 2 * std::sin(t / 400), 1);
      }));
  EXPECT_EQ(air.what(1), What::box_temp);
  // A heading of one letter is no unit where its numbers can't be it.
  EXPECT_EQ(read_trace(lines("t,v\n", usual(), plain)).what(1), What::power);
}

/// A meter's file: what was used in each interval (in Wh), or the counter (in kWh), moving by `step`.
ReadTrace metered(const Made& made, bool counts, double step, int decimals, std::size_t reset = 0) {
  double sum = 1234.5;
  const double lasts = made.t[1] - made.t[0];
  const std::string head = counts ? "time,total_kwh\n" : "time,energy (Wh)\n";
  return read_trace(lines(head, made, [&](std::size_t i, double t, double x) {
    const double used = x * lasts / 3.6e6;
    if (reset > 0 && i == reset) sum = 0;
    const double shown = counts ? std::floor(sum / step) * step : used * 1000;
    sum += used;
    return date_text(t) + "," + digits(shown, decimals);
  }));
}

TEST(OddTraces, EnergiesBecomePowers) {
  const Made fine = usual(10, 6), minutes = averaged(fine, 6), fives = averaged(fine, 30);
  const ReadTrace each = metered(fives, false, 0, 2);
  EXPECT_EQ(each.what(1), What::energy);
  expect_course(each, fine, 0.02, "Wh in 5 min");
  const ReadTrace counter = metered(minutes, true, 1e-5, 5, 3000);
  EXPECT_EQ(counter.what(1), What::energy_counter);
  ASSERT_NE(counter.aside(Reason::counter_reset), nullptr);
  EXPECT_EQ(counter.aside(Reason::counter_reset)->count, 1U);
  EXPECT_TRUE(counter.trace.series.front().derived);
  expect_course(counter, fine, 0.02, "counter");
  // A watt-hour at a time still shows cycles in samples of five minutes; a hundred don't.
  const ReadTrace steps = metered(fives, true, 1e-3, 3);
  const auto found = phases_of(steps.trace);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found_share(*found), true_share(fine), 0.03);
  const ReadTrace coarse = metered(minutes, true, 0.1, 1);
  ASSERT_NE(coarse.aside(Reason::coarse_counter), nullptr);
  EXPECT_EQ(coarse.aside(Reason::coarse_counter)->text, "100 Wh");
  const auto none = phases_of(coarse.trace);
  ASSERT_TRUE(none);
  EXPECT_TRUE(none->phases.empty());
}

TEST(OddTraces, MeansOfIntervalsTellWhereInThemTheStateChanged) {
  const Made fine = make_trace({.days = 8, .heater = 0, .lights = 0});
  const auto found = phases_of(read_trace(lines("time,power (W)\n", averaged(fine, 30), plain)).trace);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found_share(*found), true_share(fine), 0.015);  // whole samples alone give 0.06 more
  // Where each sample mixes run and rest nothing is said of either.
  const Made longer = averaged(make_trace({.days = 20, .heater = 0, .lights = 0}), 360);
  const auto none = phases_of(read_trace(lines("time,power (W)\n", longer, plain)).trace);
  ASSERT_TRUE(none);
  EXPECT_TRUE(none->levels.unparted);
  EXPECT_TRUE(none->phases.empty());
}

TEST(OddTraces, ThousandsAreNoDecimals) {
  const Made made = make_trace({.run = 2400, .floor = 40, .heater = 0, .lights = 0});
  const ReadTrace read = read_trace(lines("time;power (W)\n", made, [](std::size_t, double t, double x) {
    std::string text = digits(x, 0);
    if (text.size() > 3) text.insert(text.size() - 3, ",");
    return date_text(t) + ";" + text;
  }));
  EXPECT_EQ(read.guess.layout.decimal, '.');
  expect_course(read, made, 0.01, "thousands");
  const ReadTrace decimals = read_trace(lines("time;power (kW)\n", made, [](std::size_t, double t, double x) {
    std::string text = digits(x / 1000, 3);
    text.replace(text.find('.'), 1, ",");
    return date_text(t) + ";" + text;
  }));
  EXPECT_EQ(decimals.guess.layout.decimal, ',');
  expect_course(decimals, made, 0.01, "decimals");
}

TEST(OddTraces, LaterRowsSettleDayAndMonth) {
  for (const bool day_first : {true, false})
    for (const double days : {5.0, 20.0}) {
      const Made made = usual(10, days);
      const ReadTrace read = read_trace(lines("Date,Time,W\n", made, [&](std::size_t, double t, double x) {
        const std::string iso = date_text(t), day = iso.substr(8, 2), month = iso.substr(5, 2);
        return (day_first ? day + "/" + month : month + "/" + day) + "/" + iso.substr(0, 4) + "," +
               iso.substr(11) + "," + digits(x, 0);
      }));
      EXPECT_EQ(read.layout.time.form, day_first ? TimeForm::day_first : TimeForm::month_first) << days;
      EXPECT_FALSE(read.layout.time.open);
      EXPECT_EQ(read.trace.t.size(), made.t.size());
      EXPECT_NEAR(read.trace.t.back(), made.t.back(), 1) << days;
      EXPECT_EQ(read.trace.start, kBegin);
    }
}

TEST(OddTraces, OneSensorByNameIsEnough) {
  const Made made = usual();
  const ReadTrace read = read_trace(lines("time,topic,value\n", made, [](std::size_t i, double t, double x) {
    const std::string at = date_text(t) + "Z,";
    return at + "shop/cooler/power," + digits(x, 1) + (i == 9000 ? "\n" + at + "shop/door,1" : "");
  }));
  EXPECT_EQ(read.what(1), What::sensor_name);
  EXPECT_EQ(read.what(2), What::sensor_value);
  ASSERT_EQ(read.guess.layout.sensors.size(), 1U);
  EXPECT_EQ(read.guess.layout.sensors.front().what, What::power);
  ASSERT_NE(read.aside(Reason::unknown_sensor), nullptr);
  EXPECT_EQ(read.aside(Reason::unknown_sensor)->count, 1U);
  expect_course(read, made, 0.01, "topic");
}

TEST(OddTraces, DisturbedPowers) {
  const Made made = usual();
  const auto file = [&](const char* head,
                        const std::function<std::string(std::size_t, double, double)>& row) {
    return read_trace(lines(head, made, row));
  };
  const ReadTrace negative = file(
      "time,W\n", [](std::size_t i, double t, double x) { return plain(i, t, i % 701 == 700 ? -250 : x); });
  ASSERT_NE(negative.aside(Reason::impossible_value), nullptr);
  expect_course(negative, made, 0.01, "negative");
  const ReadTrace turned =
      file("time,W\n", [](std::size_t i, double t, double x) { return plain(i, t, -x); });
  ASSERT_NE(turned.aside(Reason::turned_sign), nullptr);
  expect_course(turned, made, 0.01, "turned");
  const ReadTrace empty = file("time,W\n", [](std::size_t i, double t, double x) {
    return x > 20 ? plain(i, t, x) : date_text(t) + ",";
  });
  ASSERT_NE(empty.aside(Reason::empty_rest), nullptr);
  EXPECT_EQ(file("time,W\n", [](std::size_t i, double t,
                                double x) { return x > 20 ? plain(i, t, x) : date_text(t) + ",9999"; })
                .aside(Reason::empty_rest),
            nullptr);  // not where the logger wrote that its sensor was lost
  expect_course(empty, made, 0.01, "empty");
  const ReadTrace kettle = file("time,W\n", [](std::size_t i, double t, double x) {
    return plain(i, t, x + (i % 2000 < 18 ? 2200 : 0));
  });
  expect_course(kettle, made, 0.01, "kettle");
  const ReadTrace mixed = file("time,power\n", [](std::size_t i, double t, double x) {
    return date_text(t) + "," + (i / 3000 % 2 == 1 ? digits(x / 1000, 3) : digits(x, 1));
  });
  ASSERT_NE(mixed.aside(Reason::unit_changed), nullptr);
  expect_course(mixed, made, 0.01, "mixed units");
}

TEST(OddTraces, RowsBeforeTheClockWasSetAreSetAside) {
  std::string text = "time,W\n";
  for (int i = 0; i < 9; ++i) text += date_text(i * 10) + ",0\n";
  const ReadTrace read = read_trace(text + lines("", usual(), plain));
  ASSERT_NE(read.aside(Reason::unset_clock), nullptr);
  EXPECT_EQ(read.aside(Reason::unset_clock)->count, 9U);
  EXPECT_EQ(read.trace.start, kBegin);
}

TEST(OddTraces, ATimeBeyondTheCalendarIsUnreadable) {
  const ReadTrace read = read_trace(lines("time,W\n", usual(), [](std::size_t i, double t, double x) {
    return (i == 700 ? "99999999999999999999" : digits(t, 0)) + "," + digits(x, 1);
  }));
  ASSERT_NE(read.aside(Reason::unreadable_time), nullptr);
  EXPECT_LT(read.trace.t.back(), 2 * 86400);
}

TEST(OddTraces, AClockWithTheYearLast) {
  const ReadTrace read = read_trace(
      "when,W\nFri Mar  1 00:00:00 2024,2\nFri Mar  1 00:00:10 2024,90\nFri Mar  1 00:00:20 2024,91\n");
  EXPECT_EQ(read.trace.start, kBegin);
  EXPECT_EQ(read.trace.interval, 10);
}

TEST(OddTraces, ASpeedThatChangesIsNoCycle) {
  Dice dice(5);
  double level = 60;
  std::string text = "time,power W\n";
  for (int i = 0; i < 30000; ++i) {
    if (i % 240 == 0) level = std::clamp(level + 10 * std::floor(5 * dice.uniform() - 2), 25.0, 120.0);
    text += date_text(kBegin + 5 * i) + "," + digits(level + 0.8 * dice.normal(), 1) + "\n";
  }
  const auto found = phases_of(read_trace(text).trace);
  ASSERT_TRUE(found);
  EXPECT_TRUE(found->levels.speeds);
  ASSERT_EQ(found->phases.size(), 1U);
  EXPECT_EQ(found->phases.front().state, State::running);
}

TEST(OddTraces, WhatIsNoTableIsCalledByItsName) {
  const auto given = [](const std::string& text) {
    const auto found = guess(text);
    return found ? std::string("a table") : found.problem().given;
  };
  EXPECT_EQ(given("{\"time\": 1, \"power\": 5}\n{\"time\": 2, \"power\": 6}\n"), "JSON");
  EXPECT_EQ(given("[\n {\"time\": 1, \"power\": 5},\n {\"time\": 2, \"power\": 6}\n]\n"), "JSON");
  EXPECT_EQ(given("<?xml version=\"1.0\"?>\n<log><row t=\"1\" p=\"2\"/></log>\n"), "XML or HTML");
  EXPECT_EQ(given(std::string("\x1F\x8B\x08\0\0\0", 6)), "a packed file or a spreadsheet's own format");
  EXPECT_EQ(given("\x01\x02\x03\x04 abc, 1, 2\n3, 4\n"), "a binary file");
  EXPECT_EQ(given(" \r\n\r\n"), "an empty file");
  EXPECT_EQ(given("time,power,temp\n2024-03-01 00:00:00,85,2,4,5\n2024-03-01 00:00:10,85,3,4,5\n"
                  "2024-03-01 00:00:20,85,1,4,6\n"),
            "commas that part cells and decimals alike");
  EXPECT_EQ(given("time,power\n2024-03-01 00:00:00,85\n2024-03-01 00:00:10,86\n"), "a table");
}

}  // namespace
}  // namespace coldwright::traces

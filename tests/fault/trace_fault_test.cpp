// Files of odd shape: what was used, what was set aside and why, nothing lost; or one clear message.
#include <gtest/gtest.h>

#include "support/read_trace.hpp"
#include "traces/phases.hpp"

namespace coldwright::traces {
namespace {

using tests::digits;
using Read = tests::ReadTrace;

Read read(const std::string& text) { return tests::read_trace(text); }

std::vector<std::pair<double, double>> rows(double days = 0.5) {
  tests::Making making;
  making.days = days;
  const tests::Made made = tests::make_trace(making);
  std::vector<std::pair<double, double>> out;
  for (std::size_t i = 0; i < made.t.size(); ++i) out.emplace_back(1772582400 + made.t[i], made.power[i]);
  return out;
}

std::string number(double v) { return digits(v, 3); }

template <class Row>
std::string file(const std::string& head, const std::vector<std::pair<double, double>>& data, Row row) {
  std::string out = head;
  std::size_t i = 0;
  for (const auto& [t, x] : data) out += row(i++, t, x) + "\n";
  return out;
}

std::string plain(std::size_t, double t, double x) { return date_text(t) + "," + number(x); }

TEST(TraceFaults, ShuffledRowsAreSorted) {
  auto data = rows();
  tests::Dice dice(4);
  for (std::size_t i = data.size() - 1; i > 0; --i)
    std::swap(data[i], data[static_cast<std::size_t>(dice.uniform() * static_cast<double>(i + 1))]);
  const Read r = read(file("time,power (W)\n", data, plain));
  ASSERT_NE(r.aside(Reason::shuffled), nullptr);
  EXPECT_EQ(r.trace.t.size(), data.size());
  EXPECT_TRUE(std::is_sorted(r.trace.t.begin(), r.trace.t.end()));
}

TEST(TraceFaults, OneRowOutOfPlaceIsNoClockThatWasSet) {
  for (const auto& [a, b] : {std::pair{100U, 3000U}, {3000U, 100U}}) {
    auto data = rows();
    std::swap(data[a], data[b]);
    const Read r = read(file("time,power (W)\n", data, plain));
    EXPECT_EQ(r.aside(Reason::clock_step), nullptr);
    EXPECT_NE(r.aside(Reason::shuffled), nullptr);
    EXPECT_EQ(r.trace.t.size(), data.size());
  }
}

TEST(TraceFaults, NewestFirstIsTurned) {
  auto data = rows();
  std::reverse(data.begin(), data.end());
  const Read r = read(file("time,power (W)\n", data, plain));
  EXPECT_NE(r.aside(Reason::newest_first), nullptr);
  EXPECT_EQ(r.aside(Reason::shuffled), nullptr);
}

TEST(TraceFaults, DuplicatesAreCountedByKind) {
  const Read r = read(file("time,power (W)\n", rows(), [](std::size_t i, double t, double x) {
    std::string out = plain(i, t, x);
    if (i % 1000 == 5) out += "\n" + plain(i, t, x);
    if (i % 2000 == 7) out += "\n" + plain(i, t, x + 50);
    return out;
  }));
  ASSERT_NE(r.aside(Reason::duplicate_same), nullptr);
  EXPECT_EQ(r.aside(Reason::duplicate_same)->count, 5U);
  ASSERT_NE(r.aside(Reason::duplicate_other), nullptr);
  EXPECT_EQ(r.aside(Reason::duplicate_other)->count, 3U);
  EXPECT_EQ(r.trace.t.size(), rows().size());
}

TEST(TraceFaults, AClockSetBackIsMovedOn) {
  const Read r = read(file("time,power (W)\n", rows(), [](std::size_t i, double t, double x) {
    return plain(i, i > 2000 ? t - 3600 : t, x);
  }));
  ASSERT_NE(r.aside(Reason::clock_step), nullptr);
  EXPECT_NEAR(r.aside(Reason::clock_step)->seconds, 3600, 1);
  EXPECT_NEAR(r.trace.t.back(), 43190, 1);
}

TEST(TraceFaults, StampsOfAMinuteAreSpread) {
  const Read r = read(file("time,power (W)\n", rows(), [](std::size_t, double t, double x) {
    return date_text(std::floor(t / 60) * 60).substr(0, 16) + "," + number(x);
  }));
  ASSERT_NE(r.aside(Reason::coarse_stamps), nullptr);
  EXPECT_NEAR(r.trace.interval, 10, 0.1);
}

TEST(TraceFaults, AStuckSensorIsFound) {
  std::string text = "Time (s),Box Temp (C)\n";
  for (int i = 0; i < 8640; ++i)
    text += std::to_string(i * 10) + "," + number(i > 3000 && i < 6000 ? 3.3 : 3 + 1.5 * std::sin(i / 60.0)) +
            "\n";
  const Read r = read(text);
  ASSERT_NE(r.aside(Reason::stuck_sensor), nullptr);
  EXPECT_EQ(r.aside(Reason::stuck_sensor)->count, 2999U);
}

TEST(TraceFaults, UnitsThatChangeOnTheWayAreConverted) {
  const Read watts = read(file("time,power\n", rows(1), [](std::size_t i, double t, double x) {
    return plain(i, t, i < 4000 ? x : x / 1000);
  }));
  ASSERT_NE(watts.aside(Reason::unit_changed), nullptr);
  const auto& v = watts.trace.series.front().value;
  EXPECT_GT(*std::max_element(v.begin() + 4100, v.end()), 90);
  std::string text = "min  T_box\n";
  for (int i = 0; i < 8640; ++i) {
    const double c = 3 + 1.5 * std::sin(i / 60.0);
    text += number(i / 6.0) + "  " + number(i < 4000 ? c : c * 1.8 + 32) + "\n";
  }
  const Read degrees = read(text);
  ASSERT_NE(degrees.aside(Reason::unit_changed), nullptr);
  for (const float k : degrees.trace.series.front().value) {
    EXPECT_GT(k, 273.15 + 1.4);
    EXPECT_LT(k, 273.15 + 4.7);
  }
}

TEST(TraceFaults, CellsWithTheirOwnUnitAreConverted) {
  const Read r = read(file("time,power\n", rows(), [](std::size_t i, double t, double x) {
    return date_text(t) + "," + (i % 2 == 0 ? number(x) + " W" : number(x / 1000) + " kW");
  }));
  EXPECT_NE(r.aside(Reason::unit_in_cell), nullptr);
  const auto& v = r.trace.series.front().value;
  EXPECT_GT(*std::max_element(v.begin(), v.end()), 90);
  EXPECT_LT(*std::max_element(v.begin(), v.end()), 1000);
}

TEST(TraceFaults, RubbishBetweenRowsIsCountedWithItsLine) {
  std::string text = file("time,power\n", rows(), plain);
  const std::size_t at = text.find('\n', text.size() / 2) + 1;
  text.insert(at, "time,power\n\n# a remark\ngarbage line;;\n2026-13-45 00:00:00,5\n");
  const Read r = read(text);
  EXPECT_NE(r.aside(Reason::repeated_header), nullptr);
  EXPECT_NE(r.aside(Reason::comment_row), nullptr);
  ASSERT_NE(r.aside(Reason::unreadable_row), nullptr);
  EXPECT_NE(r.aside(Reason::unreadable_row)->text.find("garbage"), std::string::npos);
  EXPECT_GT(r.aside(Reason::unreadable_row)->lines[0], 1000U);
  EXPECT_NE(r.aside(Reason::unreadable_time), nullptr);
  EXPECT_EQ(r.trace.rows, rows().size() + 4);
}

TEST(TraceFaults, ManySpellingsOfNothing) {
  const Read r = read(
      "time,power W,box C\n2026-01-01 00:00,5,NaN\n2026-01-01 00:01,,4\n2026-01-01 00:02,---,4\n"
      "2026-01-01 00:03,n/a,-127\n2026-01-01 00:04,5,4\n2026-01-01 00:05,5,4\n");
  ASSERT_NE(r.aside(Reason::missing_value), nullptr);
  EXPECT_NE(r.aside(Reason::sentinel_value), nullptr);
  EXPECT_EQ(r.trace.t.size(), 6U);
}

TEST(TraceFaults, SeparatorsDecimalsEncodingsAndHeadings) {
  const auto comma = [](double v) {
    std::string text = number(v);
    text.replace(text.find('.'), 1, ",");
    return text;
  };
  const Read semicolon = read("\xEF\xBB\xBFLogger 7\r\nSerial;123\r\n\r\n" +
                              file("Datum/Zeit;Leistung [kW];Innen [\xC2\xB0"
                                   "C]\r\n",
                                   rows(), [&](std::size_t, double t, double x) {
                                     const std::string iso = date_text(t);
                                     return iso.substr(8, 2) + "." + iso.substr(5, 2) + "." +
                                            iso.substr(0, 4) + iso.substr(10) + ";" + comma(x / 1000) +
                                            ";4,2\r";
                                   }));
  EXPECT_EQ(semicolon.guess.layout.separator, ';');
  EXPECT_EQ(semicolon.guess.layout.decimal, ',');
  EXPECT_EQ(semicolon.guess.layout.time.form, TimeForm::day_first);
  EXPECT_EQ(semicolon.guess.layout.columns[1].unit, "kW");
  EXPECT_EQ(semicolon.trace.t.size(), rows().size());
  std::string wide = "\xFF\xFE";
  for (const char c : file("time\tpower\n", rows(), [](std::size_t, double t, double x) {
         return std::to_string(static_cast<long long>(t) * 1000) + "\t" + number(x);
       }))
    (wide += c) += '\0';
  const Read utf16 = read(wide);
  EXPECT_EQ(utf16.guess.layout.encoding, Encoding::utf16_le);
  EXPECT_EQ(utf16.guess.layout.time.form, TimeForm::epoch);
  EXPECT_DOUBLE_EQ(utf16.guess.layout.time.seconds_per_unit, 1e-3);
  EXPECT_EQ(utf16.trace.start, 1772582400);
  const Read bare =
      read(file("", rows(), [](std::size_t, double t, double x) { return date_text(t) + " " + number(x); }));
  EXPECT_EQ(bare.guess.layout.separator, ' ');
  EXPECT_TRUE(bare.asks("what_is_it"));
  const Read named = read(file("time,sensor,value\n", rows(), [](std::size_t, double t, double x) {
    return date_text(t) + ",Compressor Power," + number(x) + "\n" + date_text(t) + ",Box temp C,4.1";
  }));
  EXPECT_EQ(named.trace.t.size(), rows().size());
  EXPECT_NE(named.trace.find(What::power), nullptr);
  EXPECT_NE(named.trace.find(What::box_temp), nullptr);
}

TEST(TraceFaults, AnAmbiguousDateIsAsked) {
  std::string text = "when,power W\n";
  for (int i = 0; i < 50; ++i)
    text += "3/4/2026 10:" + std::to_string(10 + i) + "," + std::to_string(i % 9) + "\n";
  EXPECT_TRUE(read(text).asks("day_or_month"));
  EXPECT_EQ(read("when,power W\n25/4/2026 10:00,3\n25/4/2026 10:01,4\n").guess.layout.time.form,
            TimeForm::day_first);
}

TEST(TraceFaults, WhatIsNoTableIsRefused) {
  for (const char* text : {"", "hello world", "no table\nin these lines\nat all", "a,b\nc,d\ne,f\n"})
    EXPECT_FALSE(guess(text)) << text;
  EXPECT_FALSE(guess(std::string(5000, '\0')));
}

TEST(TraceFaults, WhatAPersonSaysOfTheSignsIsFollowed) {
  std::string text = "when;power W\n";
  for (int i = 0; i < 50; ++i)
    text += "2026-03-04 10:" + std::to_string(10 + i) + ":00;1" + std::to_string(i % 9) + ".125\n";
  const auto alone = guess(text);
  ASSERT_TRUE(alone);
  EXPECT_EQ(alone->layout.separator, ';');
  EXPECT_EQ(alone->layout.decimal, '.');
  const auto comma = guess(text, {.decimal = ','});
  ASSERT_TRUE(comma);
  EXPECT_EQ(comma->layout.decimal, ',');
  EXPECT_EQ(comma->layout.columns.size(), 2U);
  const auto blanks = guess(text, {.separator = ' '});
  ASSERT_TRUE(blanks);
  EXPECT_EQ(blanks->layout.separator, ' ');
  EXPECT_FALSE(guess(text, {.separator = '|'})) << "nothing is parted by a bar here";
}

TEST(TraceFaults, EveryUnitOfferedForAColumnIsOneOfIt) {
  for (const WhatInfo& row : what_table()) {
    EXPECT_EQ(units_of(row.what).empty(), !row.dimension) << row.word;
    for (const std::string_view unit : units_of(row.what))
      EXPECT_TRUE(scale_of(unit, row.what, base::sea_level)) << row.word << " in " << unit;
  }
}

TEST(TraceFaults, ThousandthsOfAnEnergyAreNotTakenForMillions) {
  for (const What what : {What::energy, What::energy_counter}) {
    EXPECT_TRUE(scale_of("MWh", what, base::sea_level));
    EXPECT_FALSE(scale_of("mWh", what, base::sea_level));
    EXPECT_FALSE(scale_of("mJ", what, base::sea_level));
  }
}

TEST(TraceFaults, ALineWithoutEndDoesNotGrowForEver) {
  std::string text = file("time,power (W)\n", rows(), plain);
  const std::size_t at = text.find('\n', text.size() / 2) + 1;
  text.insert(at, std::string(500000, 'x') + "\n");
  const Read r = read(text);
  ASSERT_NE(r.aside(Reason::unreadable_row), nullptr);
  EXPECT_EQ(r.trace.t.size(), rows().size());
}

}  // namespace
}  // namespace coldwright::traces

// Traces from the command line, end to end: a messy file told as text and as JSON, put into a call that the
// diagnosis then reads, pictures and layouts, and what a bad file is answered with.
#include <gtest/gtest.h>

#include <cctype>
#include <nlohmann/json.hpp>

#include "contract/program.hpp"
#include "contract/schema_check.hpp"
#include "service/use_cases.hpp"
#include "support/read_trace.hpp"

namespace coldwright::tests {
namespace {

using nlohmann::json;

/// Lines are broken where the page ends: blanks of any kind count alike.
bool has(const std::string& text, const std::string& part) {
  std::string flat;
  for (const char c : text)
    if (!std::isspace(static_cast<unsigned char>(c)))
      flat += c;
    else if (!flat.ends_with(' '))
      flat += ' ';
  return flat.find(part) != std::string::npos;
}

/// Half a day with what goes wrong in real files: a heading of three lines, a heading again, remarks,
/// rubbish, rows twice and out of order, empty cells, a negative number, and an end cut off.
std::string messy(const Made& made) {
  std::string out = "Meter;plug 12\nExported;01.03.2024\nDate;Power (W);Suction (psig)\n";
  std::string late;
  for (std::size_t i = 0; i < made.t.size(); ++i) {
    const std::string at = traces::date_text(kBegin + made.t[i]);
    std::string row = at + "Z;" + digits(i % 997 == 996 ? -120 : made.power[i], 1) + ";" +
                      digits((made.suction[i] - 101325) / 6894.757, 1) + "\n";
    if (i == 700) out += "Date;Power (W);Suction (psig)\n# a remark\nrubbish\n" + row;
    if (i == 1000) row = at + "Z;;\n";
    if (i == 1500) std::swap(row, late);
    out += row;
    if (i == 1510) out += late;
  }
  return out + "2024-03-01 1";
}

Made half_day() { return make_trace({.days = 0.6, .heater = 0, .lights = 0}); }

TEST(TraceCommand, TellsAMessyFile) {
  const Folder folder;
  const std::string log = folder.write("log.csv", messy(half_day()));
  const Outcome told = coldwright("trace " + log);
  ASSERT_EQ(told.status, 0) << told.err;
  for (const char* part :
       {"5184 / 5189", "Power (W) power W", "Suction (psig) suction pressure psig", "1 rows are remarks",
        "stand out of order", "are beyond what such a sensor reads", "2 rows are no rows of this table",
        "The heading stands again 1 times", "1 rows repeat the same time", "say that nothing was read",
        "ln likelihood", "share of time running", "starts a day", "time constant of equalising",
        "compressor: running"})
    EXPECT_TRUE(has(told.out, part)) << part << "\n" << told.out;
  const Outcome spanish = coldwright("trace " + log + " --language es");
  EXPECT_TRUE(has(spanish.out, "marcha")) << spanish.out;
}

TEST(TraceCommand, AnswersAsItsSchemaSays) {
  const Folder folder;
  const Made made = half_day();
  const Outcome told = coldwright("trace " + folder.write("log.csv", messy(made)) + " --json");
  ASSERT_EQ(told.status, 0) << told.err;
  const json answer = json::parse(told.out);
  const auto schema = service::bundled_schema("trace.answer");
  ASSERT_TRUE(schema);
  EXPECT_EQ(SchemaCheck(json::parse(*schema))(answer), "");
  std::size_t runs = 0;
  for (const json& phase : answer["phases"]) runs += phase["state"] == "running";
  EXPECT_NEAR(static_cast<double>(runs), made.starts, 1);
  // Nothing is lost: every row of the file is used or accounted for.
  EXPECT_EQ(answer["files"][0]["rows"].get<std::size_t>(), made.t.size() + 5);
  EXPECT_GT(answer["method"]["log_likelihood"].get<double>(),
            answer["method"]["log_likelihood_one_state"].get<double>() + 100);
}

TEST(TraceCommand, GoesIntoACallThatTheDiagnosisReads) {
  const Folder folder;
  const std::string log = folder.write("log.csv", messy(half_day()));
  const std::string call =
      folder.write("call.json",
                   R"({"call": "Skarrvik, a cooler with a logger", "units": "us", "entries": [
          {"kind": "nameplate", "cabinet": "reach_in_cooler", "refrigerant": "R134a", "charge": "12 oz"},
          {"kind": "site", "ambient": "77 F", "box": "40 F"},
          {"kind": "observation", "subject": "condenser_fan", "value": "running"}]})");
  const json before =
      json::parse(coldwright("diagnose " + call + " --population 40 --json").out, nullptr, false);
  ASSERT_TRUE(before.is_object());
  const Outcome put = coldwright("trace " + log + " --into " + call + " --picture " + folder.file("a.svg"));
  ASSERT_EQ(put.status, 0) << put.err;
  EXPECT_TRUE(has(Folder::read(folder.file("a.svg")), "<svg"));
  const json written = json::parse(Folder::read(call));
  ASSERT_GE(written["entries"].size(), 5U);
  std::string kinds;
  for (const json& entry : written["entries"]) kinds += entry.value("what", entry.value("subject", "")) + " ";
  EXPECT_TRUE(has(kinds, "suction_pressure")) << kinds;
  EXPECT_TRUE(has(kinds, "compressor")) << kinds;
  const Outcome after = coldwright("diagnose " + call + " --population 40 --json");
  ASSERT_EQ(after.status, 0) << after.err;
  EXPECT_TRUE(has(after.out, "suction_pressure"));
  EXPECT_NE(json::parse(after.out)["causes"], before["causes"]);
}

TEST(TraceCommand, FollowsALayoutThatWasCorrected) {
  const Folder folder;
  const std::string log = folder.write("log.csv", lines("t,v\n", half_day(), plain));
  json layout = json::parse(coldwright("trace_layout " + log + " --json").out)["layout"];
  ASSERT_EQ(layout["columns"][1]["what"], "power");
  layout["columns"][1]["what"] = "current";
  layout["columns"][1]["unit"] = "mA";
  const std::string changed = folder.write("layout.json", layout.dump());
  const json answer = json::parse(coldwright("trace " + log + " --json --layout " + changed).out);
  EXPECT_EQ(answer["files"][0]["guessed"], false);
  EXPECT_TRUE(answer["questions"].empty());
  EXPECT_EQ(answer["method"]["what"], "current");
  EXPECT_NEAR(answer["method"]["levels"].back()["value"]["si"].get<double>(), 0.1, 0.05);
}

// The first rows can't tell day from month. A person who gives the guess back unchanged has not said it
// either: later rows still do.
TEST(TraceCommand, AGuessGivenBackStaysOpenToLaterRows) {
  for (const bool day_first : {true, false}) {
    const Folder folder;
    Making making;
    making.days = 20;
    making.interval = 20;
    const Made made = make_trace(making);
    const std::string log = folder.write(
        "log.csv", lines("time,W\n", made, [&](std::size_t, double t, double x) {
          const std::string iso = traces::date_text(t), day = iso.substr(8, 2), month = iso.substr(5, 2);
          return (day_first ? day + "/" + month : month + "/" + day) + "/" + iso.substr(0, 4) +
                 iso.substr(10) + "," + digits(x, 0);
        }));
    json layout = json::parse(coldwright("trace_layout " + log + " --json").out)["layout"];
    ASSERT_EQ(layout["time"]["open"], true);
    const auto used = [&] {
      const Outcome told =
          coldwright("trace " + log + " --json --layout " + folder.write("l.json", layout.dump()));
      return told.status == 0 ? json::parse(told.out)["files"][0]["used"].get<std::size_t>() : 0;
    };
    EXPECT_EQ(used(), made.t.size());
    layout["time"]["open"] = false;
    layout["time"]["form"] = day_first ? "month_first" : "day_first";  // said, and wrong
    EXPECT_LT(used(), made.t.size());
  }
}

TEST(TraceCommand, WhatListenWritesIsRead) {
  const Folder folder;
  const std::string log = folder.write(
      "live.csv", lines("time,sensor,value\n", half_day(), [](std::size_t i, double t, double x) {
        return traces::date_text(t).replace(10, 1, "T") + ".123Z,kitchen/cooler/power," + digits(x, 1) +
               (i == 50 ? "\n# 2024-03-01T00:08:20.000Z the broker is back; what it kept is stamped as it "
                          "comes now"
                        : "");
      }));
  const Outcome told = coldwright("trace " + log);
  ASSERT_EQ(told.status, 0) << told.err;
  EXPECT_TRUE(has(told.out, "kitchen/cooler/power")) << told.out;
  EXPECT_TRUE(has(told.out, "starts a day")) << told.out;
}

TEST(TraceCommand, ABadFileEndsWithTwoAndSaysWhy) {
  const Folder folder;
  const auto refused = [&](const std::string& name, const std::string& text, const char* why) {
    const Outcome told = coldwright("trace " + folder.write(name, text));
    EXPECT_EQ(told.status, 2) << name;
    EXPECT_EQ(told.out, "") << name;
    EXPECT_TRUE(has(told.err, why)) << told.err;
    EXPECT_TRUE(has(told.err, name)) << told.err;
  };
  refused("empty.csv", "", "an empty file");
  refused("log.json", "{\"time\": 1, \"power\": 2}\n", "JSON");
  refused("log.xml", "<?xml version=\"1.0\"?><log/>\n", "XML");
  refused("log.xlsx", std::string("PK\x03\x04\x14\0", 6), "spreadsheet's own format");
  refused("heading.csv", "time,power\n", "no row of numbers");
  refused("words.txt", "the fridge is warm\nplease come\n", "allowed:");
  EXPECT_EQ(coldwright("trace " + folder.file("none.csv")).status, 2);
  EXPECT_EQ(coldwright("trace /tmp").status, 2);
  // One row is a table, of which nothing can be said.
  const Outcome one = coldwright("trace " + folder.write("one.csv", "time,power\n2024-03-01 00:00:00,5\n"));
  EXPECT_EQ(one.status, 0);
  EXPECT_TRUE(has(one.out, "nothing can be said")) << one.out;
}

}  // namespace
}  // namespace coldwright::tests

// The real program, driven as a technician would: what it prints, what it exits with.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <sstream>

#include "contract/program.hpp"
#include "contract/schema_check.hpp"
#include "service/use_cases.hpp"

namespace coldwright::tests {
namespace {

using nlohmann::json;

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// "" when every line fits 80 columns.
std::string too_wide(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    const auto width = std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; });
    if (width > 80) return line;
  }
  return "";
}

SchemaCheck schema_printed(const std::string& name) {
  const Outcome printed = coldwright("schema " + name);
  EXPECT_EQ(printed.status, 0) << printed.err;
  return SchemaCheck(json::parse(printed.out));
}

/// Saturation pressures in field units: R290 at 22 °F and R600a, R134a at 0 °C from tests' own independent
/// rows are checked elsewhere; here only that both directions agree and units come out as asked.
struct Point {
  const char* refrigerant;
  const char* at;
  double kPa;
  const char* source;
};

/// Saturation pressure, kPa, as the cited equation gives it in an independent library, to the digits shown.
TEST(Saturation, MeetsTheReferenceEquations) {
  for (const Point& p :
       {Point{"R290", "-25C", 203.43, "lemmon2009"}, Point{"R290", "32F", 474.46, "lemmon2009"},
        Point{"R290", "77F", 952.08, "lemmon2009"}, Point{"R290", "40C", 1369.4, "lemmon2009"},
        Point{"R600a", "-25C", 58.43, "buecker2006"}, Point{"R600a", "32F", 156.96, "buecker2006"},
        Point{"R600a", "104F", 531.21, "buecker2006"}, Point{"R134a", "-13F", 106.40, "tillnerroth1994"},
        Point{"R134a", "0C", 292.80, "tillnerroth1994"}, Point{"R134a", "40C", 1016.6, "tillnerroth1994"}}) {
    const Outcome out = coldwright(std::string("saturation ") + p.refrigerant + " " + p.at + " --json");
    ASSERT_EQ(out.status, 0) << out.err;
    const double pascal = json::parse(out.out)["rows"][0]["pressure"]["si"].get<double>();
    EXPECT_NEAR(pascal / 1000, p.kPa, p.kPa < 1000 ? 0.006 : 0.06)
        << p.refrigerant << " " << p.at << " " << p.source;
  }
}

TEST(Saturation, BothWays) {
  const Outcome there = coldwright("saturation R290 22F --json");
  ASSERT_EQ(there.status, 0) << there.err;
  const json row = json::parse(there.out)["rows"][0];
  const Outcome back =
      coldwright("saturation R290 '" + row["pressure"]["text"].get<std::string>() + "' --json");
  ASSERT_EQ(back.status, 0) << back.err;
  EXPECT_NEAR(json::parse(back.out)["rows"][0]["temperature"]["value"].get<double>(), 22.0, 0.01);
}

TEST(Saturation, TakesNegativeAndUnquotedAndUnicodeValues) {
  const Outcome many = coldwright("saturation R290 41 psig -5C '-3 inHg' -3inHg '\u22125 \u00B0C'");
  EXPECT_EQ(many.status, 0) << many.err;
  EXPECT_TRUE(has(many.out, "41.00 psig") && has(many.out, "-3.00 inHg")) << many.out;
}

TEST(Saturation, AGaugeHighUpReadsAgainstThinnerAir) {
  const json low = json::parse(coldwright("saturation R290 22F --json").out),
             high = json::parse(coldwright("saturation R290 22F --altitude 5000ft --json").out);
  EXPECT_NEAR(
      high["rows"][0]["pressure"]["value"].get<double>() - low["rows"][0]["pressure"]["value"].get<double>(),
      14.696 - 12.228, 0.01);
  EXPECT_EQ(high["rows"][0]["pressure"]["si"], low["rows"][0]["pressure"]["si"]);
  const json barometer = json::parse(coldwright("saturation R290 22F --barometer 24.9inHg --json").out);
  EXPECT_NEAR(barometer["rows"][0]["pressure"]["value"].get<double>(),
              high["rows"][0]["pressure"]["value"].get<double>(), 0.02);
}

TEST(Saturation, TakesTheCataloguesNames) {
  for (const char* name : {"propane", "HC-290", "C3H8", "290", "'R 290'"})
    EXPECT_TRUE(has(coldwright(std::string("saturation ") + name + " 22F").out, "R290")) << name;
}

TEST(Saturation, UnitsFollowWhatWasTypedOrAskedFor) {
  EXPECT_TRUE(has(coldwright("saturation R290 -5C").out, "bar(g)"));
  EXPECT_TRUE(has(coldwright("saturation R290 -5C --units us").out, "psig"));
  EXPECT_TRUE(has(coldwright("saturation R290 22F --units metric").out, "°C"));
}

TEST(State, ShowsSuperheatAndSubcooling) {
  EXPECT_TRUE(has(coldwright("state R290 --p 41psig --t 60F").out, "superheat"));
  EXPECT_TRUE(has(coldwright("state R290 --p 200psig --t 60F").out, "subcooling"));
  EXPECT_TRUE(has(coldwright("state R290 --t -5C --quality 0.3").out, "vapour share"));
  EXPECT_TRUE(has(coldwright("state R290 --p '41 psig' --t 60F").out, "R290 burns"));
}

TEST(Refrigerant, ShowsItsSheetAndSaysWhatIsRecalled) {
  const Outcome sheet = coldwright("refrigerant r-448a");
  ASSERT_EQ(sheet.status, 0) << sheet.err;
  for (const char* part : {"R448A, a blend", "26.0 %", "+0.5 %, -2.0 %", "A1: lower toxicity", "1387", "POE"})
    EXPECT_TRUE(has(sheet.out, part)) << part;
  EXPECT_FALSE(has(sheet.out, "burns"));
  EXPECT_TRUE(has(coldwright("refrigerant propane").out, "(from memory)"));
  EXPECT_TRUE(has(coldwright("refrigerant carbon dioxide").out, "R744"));
  EXPECT_TRUE(has(coldwright("refrigerant R32/R125/R134a 23/25/52").out, "this is R407C"));
  EXPECT_TRUE(has(coldwright("refrigerants").out, "R1336mzz(Z)"));
}

TEST(Output, FitsEightyColumns) {
  for (const char* command : {"saturation R290 22F -5C", "state R134a --p 2barg --t 20C", "example --words",
                              "refrigerants", "refrigerant R448A", "refrigerant propane"})
    EXPECT_EQ(too_wide(coldwright(command).out), "") << command;
}

TEST(Json, HoldsToTheSchemaTheProgramPrints) {
  for (const auto& [command, schema] :
       {std::pair<std::string, std::string>{"saturation R290 22F 41psig --json", "saturation.answer"},
        {"state R600a --p 1bara --t 20C --json", "state.answer"},
        {"refrigerant R448A --json", "refrigerant.answer"},
        {"refrigerants --json", "refrigerants.answer"},
        {"saturation R448A 41psig 22F --json", "saturation.answer"},
        {"state R448A --t 40F --p 30psig --json", "state.answer"},
        {"leak R448A --lost 40% --from liquid --t 20C --liquid 0.5 --json", "leak.answer"},
        {"chart R448A --low 2barg --condensing 40C --point 20C@2barg --json", "chart.answer"},
        {"card R290 R448A --step 10F --json", "card.answer"},
        {"example --json", "example.answer"},
        {"schema call --json", "schema.answer"}}) {
    const Outcome outcome = coldwright(command);
    ASSERT_EQ(outcome.status, 0) << command << outcome.err;
    EXPECT_EQ(schema_printed(schema)(json::parse(outcome.out)), "") << command;
  }
}

TEST(Schema, ListsAndPrintsEachOne) {
  std::istringstream names(coldwright("schema").out);
  std::set<std::string> listed, wanted = {"call", "record.data"};
  for (std::string name; std::getline(names, name);) {
    EXPECT_TRUE(json::parse(coldwright("schema " + name).out).is_object()) << name;
    EXPECT_TRUE(listed.insert(name).second) << name << " stands twice";
  }
  for (const service::UseCase& row : service::use_cases()) {
    wanted.emplace(row.request_schema);
    wanted.emplace(row.answer_schema);
  }
  EXPECT_EQ(listed, wanted);
}

TEST(Help, IsThereForEveryCommand) {
  EXPECT_EQ(coldwright("--help").status, 0);
  for (const char* command : {"saturation", "state", "leak", "refrigerant", "refrigerants", "chart", "card",
                              "expect", "diagnose", "vocabulary", "example", "schema"}) {
    EXPECT_TRUE(has(coldwright("--help").out, command));
    EXPECT_EQ(coldwright(std::string(command) + " --help").status, 0);
  }
  EXPECT_TRUE(has(coldwright("--version").out, "data "));
}

TEST(Example, IsAFileTheProgramTakes) {
  const Folder folder;
  const Outcome example = coldwright("example");
  ASSERT_EQ(example.status, 0);
  EXPECT_EQ(schema_printed("call")(json::parse(example.out)), "");
  EXPECT_EQ(too_wide(example.out).substr(0, 0), "");
  const std::string file = folder.write("call.json", example.out);
  const Outcome diagnosis = coldwright("diagnose " + file + " --json");
  ASSERT_EQ(diagnosis.status, 0) << diagnosis.err;
  const json answer = json::parse(diagnosis.out);
  EXPECT_EQ(schema_printed("diagnose.answer")(answer), "");
  EXPECT_FALSE(has(diagnosis.out, "[no ")) << "a wording is missing";
  double sum = 0;
  for (const json& cause : answer["causes"]) sum += cause["probability"].get<double>();
  EXPECT_NEAR(sum, 1, 1e-6);
}

TEST(Diagnose, ReadsStandardInputAndRepeatsItselfBitForBit) {
  const std::string call = coldwright("example").out;
  const Outcome one = coldwright("diagnose - --json --seed 5", call),
                two = coldwright("diagnose - --json --seed 5", call);
  ASSERT_EQ(one.status, 0) << one.err;
  EXPECT_EQ(one.out, two.out);
}

TEST(Diagnose, PlainAnswerIsReadable) {
  for (const char* units : {"us", "metric"}) {
    const Outcome plain = coldwright(std::string("diagnose - --units ") + units, coldwright("example").out);
    ASSERT_EQ(plain.status, 0) << plain.err;
    EXPECT_EQ(too_wide(plain.out), "");
    for (const char* part : {"Causes", "[#", "Before a hand goes near it", "R290 burns", "Worth reading next",
                             "effective sample size", "Sources"})
      EXPECT_TRUE(has(plain.out, part)) << part << "\n" << plain.out;
    EXPECT_FALSE(has(plain.out, "[no ")) << plain.out;
  }
}

/// Calls that bring out as many different statements as they can; each must be worded and hold to the
/// schemas.
TEST(Diagnose, WordsWhateverItSays) {
  const auto one = [](const std::string& what, const std::string& value) {
    return R"(, {"kind": "reading", "what": ")" + what + R"(", "value": ")" + value + "\"}";
  };
  const std::string plate =
      R"({"entries": [{"kind": "nameplate", "cabinet": "reach_in_cooler", "refrigerant": "R290", "charge": "3.9 oz",
      "rated_current": "2.5 A", "rated_voltage": "115 V"})";
  const std::string site = R"(, {"kind": "site", "ambient": "81 F", "box": "52 F"})";
  const SchemaCheck diagnosis = schema_printed("diagnose.answer"),
                    expectation = schema_printed("expect.answer");
  for (const std::string& entries :
       {std::string(), site + one("compressor_current", "0 A") + one("terminal_voltage", "2 V"),
        site + one("compressor_current", "14 A"),
        site + one("compressor_current", "1.0 A") + one("suction_pressure", "75 psig"),
        site + one("compressor_current", "1.0 A") + one("evaporator_inlet_temp", "50 F"),
        site + one("supply_voltage", "96 V") + one("run_winding_ohms", "OL"),
        site + one("suction_pressure", "-5 inHg") + one("discharge_pressure", "450 psig") +
            one("condenser_middle_temp", "100 F") + one("discharge_line_temp", "280 F"),
        site + one("suction_pressure", "60 psig") + one("evaporator_outlet_temp", "30 F") +
            one("liquid_line_temp", "82 F") + one("condenser_middle_temp", "125 F")}) {
    const std::string call = plate + entries + "]}";
    for (const auto& [command, schema] : {std::pair{"diagnose", &diagnosis}, {"expect", &expectation}}) {
      const Outcome out = coldwright(std::string(command) + " - --json --population 20", call);
      ASSERT_EQ(out.status, 0) << call << out.err;
      EXPECT_EQ((*schema)(json::parse(out.out)), "") << call;
      const std::size_t missing = out.out.find("[no ");
      EXPECT_EQ(missing, std::string::npos) << call << "\n"
                                            << out.out.substr(missing == std::string::npos ? 0 : missing, 80);
    }
    EXPECT_EQ(too_wide(coldwright("diagnose - --population 20", call).out), "");
  }
}

TEST(Expect, AnswersForNowAndForTheSetPoint) {
  const std::string call = coldwright("example").out;
  const Outcome out = coldwright("expect - --json", call);
  ASSERT_EQ(out.status, 0) << out.err;
  EXPECT_EQ(schema_printed("expect.answer")(json::parse(out.out)), "");
  EXPECT_FALSE(has(out.out, "[no "));
  const Outcome plain = coldwright("expect -", call);
  EXPECT_EQ(too_wide(plain.out), "");
  EXPECT_TRUE(has(plain.out, "at the set point") && has(plain.out, "Rules of thumb")) << plain.out;
}

}  // namespace
}  // namespace coldwright::tests

// Bad input to the real program: exit status 2, nothing on standard output, one message on standard error.
#include <gtest/gtest.h>

#include <algorithm>

#include "contract/program.hpp"

namespace coldwright::tests {
namespace {

struct Bad {
  const char* name;
  std::string arguments;
  std::string input;
  std::vector<std::string> says;
};

std::string name_of(const testing::TestParamInfo<Bad>& row) { return row.param.name; }

class BadInput : public testing::TestWithParam<Bad> {};

TEST_P(BadInput, EndsWithTwoAndOneMessage) {
  const Outcome outcome = coldwright(GetParam().arguments, GetParam().input);
  EXPECT_EQ(outcome.status, 2) << outcome.err;
  EXPECT_EQ(outcome.out, "");
  EXPECT_EQ(outcome.err.rfind("coldwright: ", 0), 0u) << outcome.err;
  EXPECT_EQ(std::count(outcome.err.begin(), outcome.err.end(), '\n'), 1) << outcome.err;
  for (const std::string& part : GetParam().says)
    EXPECT_NE(outcome.err.find(part), std::string::npos) << part << " in: " << outcome.err;
}

INSTANTIATE_TEST_SUITE_P(
    Properties, BadInput,
    testing::Values(
        Bad{"no_command", "", "", {"subcommand"}},
        Bad{"wrong_command", "diagnos -", "", {"diagnos", "did you mean \"diagnose\""}},
        Bad{"wrong_option", "saturation R290 22F --loud", "", {"--loud"}},
        Bad{"unknown_refrigerant", "saturation R999 22F", "", {"R999", "such as R404A"}},
        Bad{"near_name", "saturation R135a 22F", "", {"R135a", "R134a", "nearest"}},
        Bad{"ambiguous_refrigerant",
            "state R407 --t 60F --p 41psig",
            "",
            {"R407A", "different refrigerants"}},
        Bad{"unknown_name", "refrigerant R448C", "", {"R448C", "R448A, R448B or R449C"}},
        Bad{"ambiguous_name", "refrigerant 410", "", {"\"410\"", "R410A or R410B"}},
        Bad{"no_name", "refrigerant", "", {"refrigerant"}},
        Bad{"composition", "refrigerant R32/R125 50/40", "", {"100 %", "90 %"}},
        Bad{"no_unit", "saturation R290 22", "", {"\"22\"", "unit is missing"}},
        Bad{"psi", "saturation R290 41psi", "", {"41psi", "psig or psia"}},
        Bad{"gauge_and_absolute", "saturation R290 '41 psig abs'", "", {"gauge and absolute"}},
        Bad{"wrong_unit", "saturation R290 3oz", "", {"3oz", "a mass"}},
        Bad{"below_zero", "saturation R290 -500F", "", {"-500F", "absolute zero"}},
        Bad{"above_critical", "saturation R290 250F", "", {"250F", "critical point"}},
        Bad{"pressure_above_critical", "saturation R290 900psig", "", {"900psig", "critical point"}},
        Bad{"below_vacuum", "saturation R290 -31inHg", "", {"-31inHg", "perfect vacuum"}},
        Bad{"nan", "saturation R290 nanpsig", "", {"nanpsig", "number"}},
        Bad{"altitude_and_barometer",
            "saturation R290 22F --altitude 100m --barometer 1000hPa",
            "",
            {"not both"}},
        Bad{"too_high", "saturation R290 22F --altitude 9000m", "", {"altitude", "6000 m"}},
        Bad{"altitude_unit", "saturation R290 22F --altitude 5000", "", {"altitude", "unit is missing"}},
        Bad{"units", "saturation R290 22F --units imperial", "", {"imperial", "us or metric"}},
        Bad{"one_property", "state R290 --t 60F", "", {"exactly two"}},
        Bad{"three_properties", "state R290 --t 60F --p 41psig --quality 0.5", "", {"exactly two"}},
        Bad{"pair_not_offered", "state R290 --t 60F --h 260Btu/lb", "", {"t with p"}},
        Bad{"swapped", "state R290 --t 41psig --p 60F", "", {"41psig", "a pressure"}},
        Bad{"too_hot", "state R290 --t 900F --p 41psig", "", {"900F", "650 K"}},
        Bad{"quality", "state R290 --t 60F --quality 1.5", "", {"1.5", "share"}},
        Bad{"no_such_schema", "schema diagnos.answer", "", {"did you mean \"diagnose.answer\""}},
        Bad{"bytes", "saturation R290 $(printf '\\377\\376F')", "", {"number"}}),
    name_of);

const std::string plate = R"({"kind": "nameplate", "cabinet": "reach_in_cooler", "refrigerant": "R290"})";
std::string call(const std::string& entries) {
  return R"({"call": "Skarrvik clinic", "entries": [)" + entries + "]}";
}
std::string reading(const std::string& what, const std::string& value) {
  return call(plate + R"(, {"kind": "reading", "what": ")" + what + R"(", "value": ")" + value + "\"}");
}

INSTANTIATE_TEST_SUITE_P(
    Calls, BadInput,
    testing::Values(
        Bad{"no_such_file",
            "diagnose /nonexistent/call.json",
            "",
            {"/nonexistent/call.json", "No such file"}},
        Bad{"a_folder", "diagnose /", "", {"folder"}}, Bad{"no_file", "diagnose", "", {"call"}},
        Bad{"empty", "diagnose -", "", {"empty"}},
        Bad{"truncated", "diagnose -", call(plate).substr(0, 70), {"cut off"}},
        Bad{"latin1", "diagnose -", "{\"call\": \"K\xE4lte\", \"entries\": []}", {"UTF-8", "line 1"}},
        Bad{"deep", "diagnose -", std::string(500000, '['), {"32 levels"}},
        Bad{"nameplate_missing",
            "diagnose -",
            call(R"({"kind": "note", "text": "x"})"),
            {"nameplate", "reach_in_cooler"}},
        Bad{"nameplate_contradicts",
            "diagnose -",
            call(plate +
                 R"(, {"kind": "nameplate", "charge": "90 g"}, {"kind": "nameplate", "charge": "95 g"})"),
            {"90 g", "95 g", "replaces"}},
        Bad{"refrigerant",
            "expect -",
            call(R"({"kind": "nameplate", "cabinet": "reach_in_cooler", "refrigerant": "R999"})"),
            {"R999", "such as R404A"}},
        Bad{"impossible_pressure",
            "diagnose -",
            reading("discharge_pressure", "4000 psig"),
            {"4000 psig", "638 psig"}},
        Bad{"impossible_temperature", "diagnose -", reading("shell_temp", "900 F"), {"900 F", "392.0 °F"}},
        Bad{"unit", "expect -", reading("suction_pressure", "1.84 A"), {"1.84 A", "a current"}},
        Bad{"no_gauge_or_absolute", "diagnose -", reading("suction_pressure", "41 psi"), {"psig or psia"}},
        Bad{"nan_reading", "diagnose -", reading("suction_pressure", "NaN"), {"NaN"}},
        Bad{"future",
            "diagnose -",
            call(
                plate +
                R"(, {"kind": "reading", "what": "shell_temp", "value": "90 F", "at": "2999-01-01T00:00:00Z"})"),
            {"2999-01-01", "future"}},
        Bad{"unknown_observation",
            "diagnose -",
            call(plate + R"(, {"kind": "observation", "subject": "weather", "value": "fine"})"),
            {"weather", "condenser_fan"}},
        Bad{"negative_seed", "diagnose - --seed -1", call(plate), {"seed"}},
        Bad{"no_population", "diagnose - --population 0", call(plate), {"population", "10"}}),
    name_of);

TEST(LargeFile, FiftyMegabytesAreRefusedBySize) {
  const Folder folder;
  const std::string file = folder.write("large.json", std::string(50u << 20, ' '));
  const Outcome by_name = coldwright("diagnose " + file);
  EXPECT_EQ(by_name.status, 2);
  EXPECT_NE(by_name.err.find("50.0 MB"), std::string::npos) << by_name.err;
  EXPECT_NE(by_name.err.find("at most 1.0 MB"), std::string::npos) << by_name.err;
  const Outcome by_pipe = coldwright("diagnose - < " + file);
  EXPECT_EQ(by_pipe.status, 2);
}

}  // namespace
}  // namespace coldwright::tests

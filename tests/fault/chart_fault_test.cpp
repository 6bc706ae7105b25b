// Bad input to "chart" and "card": exit status 2, nothing on standard output, one message that names the
// field.
#include <gtest/gtest.h>

#include <algorithm>

#include "contract/program.hpp"

namespace coldwright::tests {
namespace {

struct Bad {
  const char* name;
  std::string arguments;
  std::vector<std::string> says;
};

class BadDrawing : public testing::TestWithParam<Bad> {};

TEST_P(BadDrawing, EndsWithTwoAndOneMessage) {
  const Outcome outcome = coldwright(GetParam().arguments);
  EXPECT_EQ(outcome.status, 2) << outcome.err;
  EXPECT_EQ(outcome.out, "");
  EXPECT_EQ(outcome.err.rfind("coldwright: ", 0), 0u) << outcome.err;
  EXPECT_EQ(std::count(outcome.err.begin(), outcome.err.end(), '\n'), 1) << outcome.err;
  for (const std::string& part : GetParam().says)
    EXPECT_NE(outcome.err.find(part), std::string::npos) << part << " in: " << outcome.err;
}

std::string name_of(const testing::TestParamInfo<Bad>& row) { return row.param.name; }

INSTANTIATE_TEST_SUITE_P(
    Chart, BadDrawing,
    testing::Values(
        Bad{"unknown", "chart R999", {"refrigerant", "R999"}}, Bad{"nothing", "chart", {"refrigerant"}},
        Bad{"no_such_call", "chart /nonexistent/call.json", {"/nonexistent/call.json"}},
        Bad{"call_with_states",
            "chart " SOURCE_DIR "/data/demo/3-fish-hall-freezer.json --low 41psig",
            {"call", "low"}},
        Bad{"one_side", "chart R290 --low 41psig", {"cycle", "low side alone"}},
        Bad{"no_side", "chart R290 --superheat 9F", {"cycle", "no pressure"}},
        Bad{"twice", "chart R290 --low 41psig --evaporating 22F --high 200psig", {"low", "not both"}},
        Bad{"upside_down",
            "chart R290 --low 200psig --high 41psig",
            {"high", "41psig", "above the low side"}},
        Bad{"beyond_critical",
            "chart R290 --low 41psig --high 900psig",
            {"high", "900psig", "critical point"}},
        Bad{"condensing_beyond_critical",
            "chart R744 --evaporating -10C --condensing 40C",
            {"condensing", "40C", "critical"}},
        Bad{"blend_beyond_its_lines",
            "chart R448A --evaporating -10C --condensing 90C",
            {"condensing", "90C"}},
        Bad{"below_the_triple_point",
            "chart R744 --evaporating -70C --condensing 0C",
            {"evaporating", "-70C"}},
        Bad{"below_vacuum", "chart R290 --low -31inHg --high 200psig", {"low", "perfect vacuum"}},
        Bad{"superheat_sign", "chart R290 --low 41psig --high 200psig --superheat -9F", {"superheat", "-9F"}},
        Bad{"superheat_beyond",
            "chart R290 --low 41psig --high 200psig --superheat 500F",
            {"superheat", "500F"}},
        Bad{"efficiency", "chart R290 --low 41psig --high 200psig --efficiency 140%", {"efficiency", "140%"}},
        Bad{"efficiency_zero",
            "chart R290 --low 41psig --high 200psig --efficiency 0",
            {"efficiency", "10 %"}},
        Bad{"swapped", "chart R290 --low 22F --high 200psig", {"low", "a pressure"}},
        Bad{"point_without_pressure", "chart R290 --point 60F", {"point 1", "pressure"}},
        Bad{"point_too_hot", "chart R290 --point 900F@41psig", {"point 1", "900F"}},
        Bad{"point_swapped", "chart R290 --point 41psig@60F", {"point 1"}},
        Bad{"diagram", "chart R290 --diagram entropy", {"diagram", "entropy"}},
        Bad{"units", "chart R290 --units imperial", {"us or metric"}},
        Bad{"output", "chart R290 -o /nonexistent/a.svg", {"output", "/nonexistent/a.svg"}}),
    name_of);

INSTANTIATE_TEST_SUITE_P(
    Card, BadDrawing,
    testing::Values(Bad{"unknown", "card R290 R999", {"refrigerant", "R999"}},
                    Bad{"nothing", "card", {"refrigerants"}},
                    Bad{"ambiguous", "card 407", {"refrigerant", "R407A"}},
                    Bad{"twice", "card R290 propane", {"refrigerants", "propane", "already"}},
                    Bad{"from_above_to", "card R290 --from 60F --to -40F", {"from", "60F", "-40F"}},
                    Bad{"step_zero", "card R290 --step 0F", {"step", "0F"}},
                    Bad{"step_sign", "card R290 --step -2F", {"step", "-2F"}},
                    Bad{"too_many_rows", "card R290 --step 0.1F", {"step", "1801 rows", "400"}},
                    Bad{"endless_rows", "card R290 --step 1e-12F", {"step", "400"}},
                    Bad{"no_unit", "card R290 --from -40", {"from", "unit is missing"}},
                    Bad{"a_pressure", "card R290 --from 41psig", {"from", "a temperature"}},
                    Bad{"altitude", "card R290 --altitude 9000m", {"altitude", "6000 m"}},
                    Bad{"paper", "card R290 --paper a3", {"paper"}},
                    Bad{"output", "card R290 -o /nonexistent/a.pdf", {"output", "/nonexistent/a.pdf"}}),
    name_of);

}  // namespace
}  // namespace coldwright::tests

// What thumbs type and phones write down, read as one kind; what could mean two things is refused with both.
#include "base/heard.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace coldwright::base {
namespace {

struct Row {
  const char* typed;
  Dimension kind;
  const char* unit;  // default
  const char* text;  // strict form
};

class Heard_ : public testing::TestWithParam<Row> {};

TEST_P(Heard_, IsWrittenStrictlyAndReadsBack) {
  const Row& row = GetParam();
  const auto heard = hear(row.typed, "x", row.kind, row.unit, true);
  ASSERT_TRUE(heard) << row.typed << ": " << to_text(heard.problem());
  EXPECT_EQ(heard->text, row.text) << row.typed;
  const auto back = parse_spoken(heard->text, "x", row.kind);
  ASSERT_TRUE(back) << heard->text << ": " << to_text(back.problem());
  EXPECT_EQ(back->against, heard->spoken.against) << row.typed;
  EXPECT_NEAR(back->si, heard->spoken.si, 1e-8 * std::abs(back->si) + 1e-9) << row.typed;
}

INSTANTIATE_TEST_SUITE_P(
    All, Heard_,
    testing::Values(
        Row{"-3in", Dimension::pressure, "psig", "-3 inHg"},
        Row{"\u22123 in", Dimension::pressure, "psig", "-3 inHg"},
        Row{"minus three inches", Dimension::pressure, "psig", "-3 inHg"},
        Row{"3 inches of vacuum", Dimension::pressure, "psig", "-3 inHg"},
        Row{"41.5", Dimension::pressure, "psig", "41.5 psig"},
        Row{"41,5", Dimension::pressure, "psig", "41.5 psig"},
        Row{"41.5 PSI", Dimension::pressure, "psig", "41.5 psig"},
        Row{"41.5 pounds", Dimension::pressure, "psig", "41.5 psig"},
        Row{"41 point 5", Dimension::pressure, "psig", "41.5 psig"},
        Row{"forty one point five", Dimension::pressure, "psig", "41.5 psig"},
        Row{"one hundred and five", Dimension::pressure, "psig", "105 psig"},
        Row{"1,5 bar(g)", Dimension::pressure, "bar(g)", "1.5 bar(g)"},
        Row{"500 microns", Dimension::pressure, "psig", "500 micron"},
        Row{"3", Dimension::pressure, "inHg vac", "-3 inHg"},
        Row{"3 1/4 oz", Dimension::mass, "oz", "3.25 oz"}, Row{"3-1/4", Dimension::mass, "oz", "3.25 oz"},
        Row{"\u00BD lb", Dimension::mass, "oz", "0.5 lb"},
        Row{"three and a quarter ounces", Dimension::mass, "oz", "3.25 oz"},
        Row{"2 lb 3 oz", Dimension::mass, "oz", "35 oz"}, Row{"22F", Dimension::temperature, "°F", "22 °F"},
        Row{"22 degrees", Dimension::temperature, "°F", "22 °F"},
        Row{"minus five degrees celsius", Dimension::temperature, "°F", "-5 °C"},
        Row{"25 min", Dimension::duration, "min", "25 min"},
        Row{"1 h 30 min", Dimension::duration, "min", "90 min"},
        Row{"5 ft 6 in", Dimension::length, "in", "66 in"}, Row{"120", Dimension::voltage, "V", "120 V"},
        Row{"1.84 a", Dimension::current, "A", "1.84 A"},
        Row{"12 square feet", Dimension::area, "ft2", "12 ft2"}));

struct Ambiguous {
  const char* typed;
  Dimension kind;
  const char* unit;
  bool chosen;
  const char* candidates;
};

class Unclear : public testing::TestWithParam<Ambiguous> {};

TEST_P(Unclear, NamesWhatItCouldMean) {
  const Ambiguous& row = GetParam();
  const auto heard = hear(row.typed, "x", row.kind, row.unit, row.chosen);
  ASSERT_FALSE(heard) << row.typed << " became " << heard->text;
  EXPECT_EQ(heard.problem().allowed, row.candidates);
  EXPECT_FALSE(heard.problem().why.empty());
}

INSTANTIATE_TEST_SUITE_P(
    All, Unclear,
    testing::Values(Ambiguous{"3 in", Dimension::pressure, "psig", true, "-3 inHg or 3 inHg abs"},
                    Ambiguous{"-3", Dimension::pressure, "psig", false, "-3 inHg or -3 psig"},
                    Ambiguous{"41 psi", Dimension::pressure, "bar(g)", true, "41 psig or 41 psia"},
                    Ambiguous{"1.5 bar", Dimension::pressure, "psig", true, "1.5 bar(g) or 1.5 bar(a)"},
                    Ambiguous{"1,840", Dimension::power, "W", true, "1.840 W or 1840 W"}));

TEST(Heard, RefusesWhatIsNoQuantityOfThatKind) {
  for (const char* typed : {"", "hello", "psig", "22F", "4 1 psig", "\xFF"})
    EXPECT_FALSE(hear(typed, "x", Dimension::pressure, "psig", true)) << typed;
}

}  // namespace
}  // namespace coldwright::base

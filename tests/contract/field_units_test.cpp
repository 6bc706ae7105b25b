// The table of field units: each row read and written, what is refused, and the types that don't mix.
#include "base/field_units.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <type_traits>

#include "base/text.hpp"

namespace coldwright::base {
namespace {

struct Row {
  const char* text;
  Dimension dimension;
  double si;
};

class Spoken_ : public testing::TestWithParam<Row> {};

TEST_P(Spoken_, IsUnderstood) {
  const auto spoken = parse_spoken(GetParam().text, "x", GetParam().dimension);
  ASSERT_TRUE(spoken) << to_text(spoken.problem());
  EXPECT_NEAR(spoken->si, GetParam().si, 1e-9 * std::abs(GetParam().si) + 1e-12) << GetParam().text;
}

// Factors: [thompson2008, appendix B].
INSTANTIATE_TEST_SUITE_P(
    Thompson2008AppendixB, Spoken_,
    testing::Values(
        Row{"22F", Dimension::temperature, (22 + 459.67) / 1.8}, Row{"-5C", Dimension::temperature, 268.15},
        Row{"-5 °C", Dimension::temperature, 268.15}, Row{"\u22125 \u00B0C", Dimension::temperature, 268.15},
        Row{"270 K", Dimension::temperature, 270},
        Row{"72 degF", Dimension::temperature, (72 + 459.67) / 1.8},
        Row{"9 F", Dimension::temperature_difference, 5}, Row{"5 C", Dimension::temperature_difference, 5},
        Row{"5K", Dimension::temperature_difference, 5},
        Row{"41 psig", Dimension::pressure, 41 * 6894.757293168361},
        Row{"41psi(g)", Dimension::pressure, 41 * 6894.757293168361},
        Row{"55.7 psia", Dimension::pressure, 55.7 * 6894.757293168361},
        Row{"-3 inHg", Dimension::pressure, -3 * 3386.388640341},
        Row{"3 inHg vac", Dimension::pressure, -3 * 3386.388640341},
        Row{"3 in. Hg vacuum", Dimension::pressure, -3 * 3386.388640341},
        Row{"29.92 inHg abs", Dimension::pressure, 29.92 * 3386.388640341},
        Row{"2.8 barg", Dimension::pressure, 2.8e5}, Row{"2.8 bar(g)", Dimension::pressure, 2.8e5},
        Row{"3,8 bara", Dimension::pressure, 3.8e5}, Row{"3.8 bar abs", Dimension::pressure, 3.8e5},
        Row{"284 kPag", Dimension::pressure, 284e3}, Row{"384 kPa (a)", Dimension::pressure, 384e3},
        Row{"0.284 MPa(g)", Dimension::pressure, 284e3},
        Row{"500 microns", Dimension::pressure, 0.5 * 101325.0 / 760},
        Row{"100 Pa", Dimension::pressure, 100}, Row{"1013.25 mbar", Dimension::pressure, 101325},
        Row{"760 Torr", Dimension::pressure, 101325}, Row{"3.2 oz", Dimension::mass, 3.2 * 0.028349523125},
        Row{"3 1/4 oz", Dimension::mass, 3.25 * 0.028349523125},
        Row{"3-1/4 oz", Dimension::mass, 3.25 * 0.028349523125},
        Row{"3\u00BC oz", Dimension::mass, 3.25 * 0.028349523125},
        Row{"1/2 lb", Dimension::mass, 0.226796185}, Row{"90 g", Dimension::mass, 0.09},
        Row{"0,09 kg", Dimension::mass, 0.09}, Row{"0.031 in", Dimension::length, 0.031 * 0.0254},
        Row{"0.8 mm", Dimension::length, 0.0008}, Row{"5000ft", Dimension::length, 1524},
        Row{"-430 m", Dimension::length, -430}, Row{"180 W", Dimension::power, 180},
        Row{"600 Btu/h", Dimension::power, 600 * 1055.05585262 / 3600},
        Row{"1.84 A", Dimension::current, 1.84}, Row{"1,84 A", Dimension::current, 1.84},
        Row{"1.84amps", Dimension::current, 1.84}, Row{"115V", Dimension::voltage, 115},
        Row{"4.6 ohm", Dimension::resistance, 4.6}, Row{"4.6 \u2126", Dimension::resistance, 4.6},
        Row{"1.2 k\u03A9", Dimension::resistance, 1200}, Row{"25 min", Dimension::duration, 1500},
        Row{"1.5 h", Dimension::duration, 5400}, Row{"60 Hz", Dimension::frequency, 60},
        Row{"5.2 cc", Dimension::volume, 5.2e-6}, Row{"245 Btu/lb", Dimension::specific_energy, 245 * 2326.0},
        Row{"2.4 kJ/(kg K)", Dimension::specific_entropy, 2400}, Row{"9.5 kg/m3", Dimension::density, 9.5},
        Row{"20 %", Dimension::quality, 0.2}, Row{"1.2e2 W", Dimension::power, 120}));

struct Refused {
  const char* text;
  Dimension dimension;
  const char* why;  // part of the reason
};

class Refusal : public testing::TestWithParam<Refused> {};

TEST_P(Refusal, SaysFieldValueAllowedAndWhy) {
  const auto spoken = parse_spoken(GetParam().text, "suction pressure", GetParam().dimension);
  ASSERT_FALSE(spoken) << GetParam().text;
  const Problem& problem = spoken.problem();
  EXPECT_EQ(problem.field, "suction pressure");
  EXPECT_FALSE(problem.allowed.empty());
  EXPECT_EQ(problem.given.front(), '"');
  EXPECT_NE(problem.why.find(GetParam().why), std::string::npos) << to_text(problem);
}

INSTANTIATE_TEST_SUITE_P(
    All, Refusal,
    testing::Values(Refused{"41 psi", Dimension::pressure, "psig or psia"},
                    Refused{"2.8 bar", Dimension::pressure, "bar(g) or bar(a)"},
                    Refused{"284 kPa", Dimension::pressure, "kPa(g) or kPa(a)"},
                    Refused{"3 inHg", Dimension::pressure, "-3 inHg"},
                    Refused{"-3 inHg vac", Dimension::pressure, "same thing twice"},
                    Refused{"41 psig abs", Dimension::pressure, "at once"},
                    Refused{"2 bar(g)(a)", Dimension::pressure, "at once"},
                    Refused{"3 inHg vac abs", Dimension::pressure, "at once"},
                    Refused{"-3 psia", Dimension::pressure, "above zero"},
                    Refused{"0 bara", Dimension::pressure, "above zero"},
                    Refused{"41", Dimension::pressure, "unit is missing"},
                    Refused{"psig", Dimension::pressure, "no number"},
                    Refused{"", Dimension::pressure, "nothing"},
                    Refused{"  ", Dimension::pressure, "nothing"},
                    Refused{"nan psig", Dimension::pressure, "isn't a number"},
                    Refused{"-inf psig", Dimension::pressure, "isn't a number"},
                    Refused{"1e999 psig", Dimension::pressure, "can hold"},
                    Refused{"1e15 psig", Dimension::pressure, "that large"},
                    Refused{"4 1 psig", Dimension::pressure, "no unit"},
                    Refused{"41 psgi", Dimension::pressure, "no unit"},
                    Refused{"22F", Dimension::pressure, "a temperature"},
                    Refused{"0.3 mPag", Dimension::pressure, "no unit"},
                    Refused{"1,840 A", Dimension::current, "thousands"},
                    Refused{"1.840,5 A", Dimension::current, "one decimal mark"},
                    Refused{"1,8,4 A", Dimension::current, "one decimal mark"},
                    Refused{"1/0 A", Dimension::current, "no unit"},
                    Refused{"-500F", Dimension::temperature, "absolute zero"},
                    Refused{"0 K", Dimension::temperature, "absolute zero"},
                    Refused{"41 psig", Dimension::temperature, "a pressure"},
                    Refused{"0.5 psig", Dimension::pressure_difference, "neither gauge"},
                    Refused{"\xFF\xFE psig", Dimension::pressure, "UTF-8"},
                    Refused{"11111111111111111111111111111111111111111111111111111111111111111 psig",
                            Dimension::pressure, "that long"}));

TEST(FieldUnits, EveryRowReadsBackWhatItWrites) {
  for (const FieldUnit& row : field_units()) {
    if (row.dimension == Dimension::pressure) continue;  // read against something: see below
    const double si = row.dimension == Dimension::mass_flow ? 3e-4 : 300.0;  // a size that it has somewhere
    const std::string text =
        number_text((si - row.offset) / row.scale, 9).substr(0, 40) + " " + std::string(row.symbol);
    const auto spoken = parse_spoken(text, "x", row.dimension);
    ASSERT_TRUE(spoken) << text << ": " << to_text(spoken.problem());
    EXPECT_NEAR(spoken->si, si, 1e-6 * si + 1e-9 * row.scale) << text;
  }
}

TEST(FieldUnits, PressuresReadBackWhatTheyWriteAtAnySite) {
  for (const double site : {101325.0, 84000.0})
    for (const UnitSystem system : {UnitSystem::us, UnitSystem::metric})
      for (double pressure = 2e4; pressure < 3e6; pressure *= 1.37) {
        const Display display{system, SitePressure{site}};
        const std::string text = show(Dimension::pressure, pressure, display, 4).text();
        const auto spoken = parse_pressure(text, "x");
        ASSERT_TRUE(spoken) << text;
        const auto back = resolve(*spoken, display.site, "x", text);
        ASSERT_TRUE(back) << text;
        EXPECT_NEAR(back->si, pressure, 1.0) << text;
      }
}

TEST(FieldUnits, WritesAsSpoken) {
  const Display us, metric{UnitSystem::metric, sea_level};
  EXPECT_EQ(show(Dimension::pressure, 101325 + 31.5 * 6894.757293168361, us).text(), "31.5 psig");
  EXPECT_EQ(show(Dimension::pressure, 101325 - 3 * 3386.388640341, us).text(), "-3.0 inHg");
  EXPECT_EQ(show(Dimension::pressure, 101325 - 100, us).text(), "0.0 psig");
  EXPECT_EQ(show(Dimension::pressure, 318e3, metric).text(), "2.17 bar(g)");
  EXPECT_EQ(show(Dimension::temperature, 268.15, us).text(), "23.0 °F");
  EXPECT_EQ(show(Dimension::temperature_difference, 5, us).text(), "9.0 °F");
  EXPECT_EQ(show(Dimension::temperature_difference, 5, metric).text(), "5.0 K");
  EXPECT_EQ(show(Dimension::mass, 0.09, us).text(), "3.17 oz");
  EXPECT_EQ(show(Dimension::mass, 0.09, metric).text(), "90 g");
  EXPECT_EQ(show(Dimension::temperature, 273.149999, metric).text(), "0.0 °C");
}

TEST(FieldUnits, AGaugeCannotReadBelowAPerfectVacuumHere) {
  const auto spoken = parse_pressure("-28 inHg", "suction pressure");
  ASSERT_TRUE(spoken);
  EXPECT_TRUE(resolve(*spoken, sea_level, "suction pressure", "\"-28 inHg\""));
  const auto high_up = resolve(*spoken, SitePressure{84000}, "suction pressure", "\"-28 inHg\"");
  ASSERT_FALSE(high_up);
  EXPECT_NE(high_up.problem().why.find("84.0 kPa"), std::string::npos);
  EXPECT_NE(high_up.problem().allowed.find("-24.81 inHg"), std::string::npos) << high_up.problem().allowed;
}

TEST(Site, AltitudeByTheStandardAtmosphere) {
  // Geopotential altitude, m, and pressure, Pa, from the defining formula [iso2533]; 84556 and 70109 from
  // memory of the printed table [from-memory].
  for (const auto& [altitude, pressure] : {std::pair{0.0, 101325.0}, {1500.0, 84556.0}, {3000.0, 70109.0}}) {
    const auto site = site_pressure_at(Length{altitude});
    ASSERT_TRUE(site);
    EXPECT_NEAR(site->si, pressure, 2.0) << altitude;
  }
  EXPECT_FALSE(site_pressure_at(Length{9000}));
  EXPECT_FALSE(site_pressure_at(Length{std::nan("")}));
}

TEST(Site, ABarometerIsAbsolute) {
  for (const char* text :
       {"29.92 inHg", "1013.25 hPa", "101.325 kPa", "14.696 psia", "1.01325 bar", "760 mmHg"}) {
    const auto site = parse_barometer(text, "barometer");
    ASSERT_TRUE(site) << text << ": " << to_text(site.problem());
    EXPECT_NEAR(site->si, 101325, 20) << text;
  }
  for (const char* text : {"0 psig", "-3 inHg", "3 inHg vac", "40 inHg", "22F", "", "abc", "nan kPa"})
    EXPECT_FALSE(parse_barometer(text, "barometer")) << text;
}

// Quantities that don't mix.
template <class A, class B>
concept Subtracts = requires(A a, B b) {
  a - b;
};
template <class A, class B>
concept Adds = requires(A a, B b) {
  a + b;
};
static_assert(std::is_same_v<decltype(Temperature{} - Temperature{}), TemperatureDifference>);
static_assert(!Adds<Temperature, Temperature> && !Subtracts<Pressure, GaugePressure> &&
              !Adds<GaugePressure, Pressure>);
static_assert(!std::is_convertible_v<GaugePressure, Pressure> &&
              !std::is_convertible_v<TemperatureDifference, Temperature>);
static_assert(!std::is_convertible_v<Pressure, SitePressure>);

TEST(Text, FindsTheFirstBrokenByte) {
  EXPECT_FALSE(first_invalid_utf8("plain \u00B0 \u20AC \U0001F321"));
  EXPECT_EQ(first_invalid_utf8("ab\xC3("), 2u);
  EXPECT_EQ(first_invalid_utf8("\xC0\x80"), 0u);          // overlong
  EXPECT_EQ(first_invalid_utf8("a\xED\xA0\x80"), 1u);     // a surrogate
  EXPECT_EQ(first_invalid_utf8("\xF4\x90\x80\x80"), 0u);  // past the last code point
  EXPECT_EQ(first_invalid_utf8("ab\xE2\x82"), 2u);        // cut off
}

TEST(Text, NearestWordOrNone) {
  const std::vector<std::string> words = {"suction_pressure", "reading", "note"};
  EXPECT_EQ(nearest("suction_presure", words), "suction_pressure");
  EXPECT_EQ(nearest("Reeding", words), "reading");
  EXPECT_EQ(nearest("trace", words), std::nullopt);
}

}  // namespace
}  // namespace coldwright::base

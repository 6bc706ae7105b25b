// The tools at hand through their use cases: values worked by hand or with an independent library and the
// published equation of state [lemmon2009], and a clear refusal of what can't be.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "service/use_cases.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

Result<std::string> ask(const char* name, const json& request) {
  return find_use_case(name)->run(request.dump(), {});
}
json answer(const char* name, const json& request) {
  const auto text = ask(name, request);
  EXPECT_TRUE(text) << to_text(text.problem());
  return text ? json::parse(*text) : json::object();
}
double si(const json& quantity) { return quantity["si"].get<double>(); }

TEST(Room, FollowsTheHandWorkedRows) {
  // charge / (0.25 x 0.038 kg/m3) at the reference 25 C and sea level; 13 and 8 m3 of the limit
  for (const auto& [grams, volume] :
       {std::pair{57.0, 6.0}, std::pair{150.0, 15.789}, std::pair{494.0, 52.0}}) {
    const json a = answer("room", {{"refrigerant", "R290"},
                                   {"charge", std::to_string(grams) + " g"},
                                   {"t", "25 C"},
                                   {"volume", "15.789474 m3"}});
    EXPECT_NEAR(si(a["smallest_volume"]), volume, 5e-4 * volume) << grams;
    EXPECT_NEAR(si(a["room"]["of_limit"]), 0.25 * grams / 150, 1e-6);
    EXPECT_EQ(a["room"]["within"], grams < 150.001);
    EXPECT_NEAR(si(a["customary"][2]["limit"]), 0.494, 1e-6);
    EXPECT_EQ(a["customary"][0]["within"], grams <= 150);
    EXPECT_TRUE(a["limit"]["recalled"]);
  }
}

TEST(Room, ShowsTheLimitsOfItsClass) {
  const json mild = answer("room", {{"refrigerant", "R32"}, {"charge", "1.3 kg"}})["customary"];
  ASSERT_EQ(mild.size(), 1U);
  EXPECT_NEAR(si(mild[0]["limit"]), 1.2, 1e-9);
  EXPECT_EQ(mild[0]["within"], false);
  EXPECT_EQ(answer("room", {{"refrigerant", "R290"}, {"charge", "1 oz"}})["customary"].size(), 3U);
}

TEST(Room, CountsWithTheSitesAir) {
  const auto density = [](const json& more) {
    json request = {{"refrigerant", "R290"}, {"charge", "150 g"}, {"t", "25 C"}};
    request.update(more);
    return si(answer("room", request)["limit"]["density"]);
  };
  EXPECT_NEAR(density({{"barometer", "80 kPa"}}) / density(json::object()), 80 / 101.325, 1e-9);
}

TEST(Room, RefusesWhatItHasNoLimitFor) {
  const auto none = ask("room", {{"refrigerant", "R134a"}, {"charge", "150 g"}});
  ASSERT_FALSE(none);
  EXPECT_EQ(none.problem().field, "refrigerant");
  const auto both =
      ask("room", {{"refrigerant", "R290"}, {"charge", "150 g"}, {"area", "9 m2"}, {"volume", "30 m3"}});
  ASSERT_FALSE(both);
  EXPECT_EQ(both.problem().field, "volume");
  EXPECT_FALSE(ask("room", {{"refrigerant", "R290"}}));
  EXPECT_FALSE(ask("room", {{"refrigerant", "R290"}, {"charge", "-3 g"}}));
  EXPECT_FALSE(ask("room", {{"refrigerant", "R290"}, {"charge", "150 g"}, {"share", "0 %"}}));
}

TEST(Hose, HoldsWhatTheRowsSay) {
  struct Row {
    const char* refrigerant;
    const char* t;
    double liquid, vapour;  // g in 27.58 mL
  };
  for (const Row& row : {Row{"R290", "0 C", 14.58, 0.285}, Row{"R290", "20 C", 13.79, 0.499},
                         Row{"R290", "35 C", 13.13, 0.734}, Row{"R600a", "20 C", 15.36, 0.218}}) {
    const json a = answer("hose", {{"refrigerant", row.refrigerant}, {"t", row.t}, {"charge", "100 g"}});
    EXPECT_NEAR(si(a["volume"]), 27.58e-6, 0.005e-6);
    EXPECT_NEAR(si(a["liquid"]["mass"]) * 1e3, row.liquid, 0.006) << row.refrigerant << row.t;
    EXPECT_NEAR(si(a["vapour"]["mass"]) * 1e3, row.vapour, 6e-4) << row.refrigerant << row.t;
    EXPECT_NEAR(si(a["liquid"]["of_charge"]), row.liquid / 100, 1e-4);
  }
  EXPECT_FALSE(ask("hose", {{"refrigerant", "R290"}, {"length", "900 m"}}));
  EXPECT_FALSE(ask("hose", {{"refrigerant", "R290"}, {"bore", "80 mm"}}));
}

TEST(Standing, SaysWhereAReadingStands) {
  const auto stands = [](const char* pressure) {
    const json a = answer("standing", {{"refrigerant", "R290"}, {"t", "25 C"}, {"pressure", pressure}});
    EXPECT_NEAR(si(a["expected"]["mid"]), 952080, 100);  // published saturation at 25 C
    return a["reading"]["stands"].get<std::string>();
  };
  EXPECT_EQ(stands("8.5 bar(g)"), "within");
  EXPECT_EQ(stands("11 bar(g)"), "above");
  EXPECT_EQ(stands("5 bar(g)"), "below");
}

TEST(Standing, MovesGasAtConstantDensity) {
  const json a =
      answer("standing", {{"refrigerant", "R290"}, {"t", "25 C"}, {"pressure", "2 bar(a)"}, {"to", "45 C"}});
  // nearly a perfect gas at 2 bar: the ratio of temperatures, within what its compressibility changes
  EXPECT_NEAR(si(a["moved"]["gas"]), 2e5 * 318.15 / 298.15, 0.01 * 2e5);
  EXPECT_GT(si(a["moved"]["liquid"]), 14e5);
}

TEST(Superheat, IsTheLineLessSaturation) {
  const json a = answer("superheat", {{"refrigerant", "R290"},
                                      {"suction_pressure", "474.46 kPa(a)"},
                                      {"suction_temperature", "8 C"},
                                      {"head_pressure", "1369.4 kPa(a)"},
                                      {"liquid_temperature", "35 C"}});
  EXPECT_NEAR(si(a["superheat"]["difference"]["mid"]), 8, 0.02);
  EXPECT_NEAR(si(a["subcooling"]["difference"]["mid"]), 5, 0.02);
  EXPECT_EQ(a["superheat"]["state"], "single_phase");
  const json wet = answer(
      "superheat",
      {{"refrigerant", "R290"}, {"suction_pressure", "474.46 kPa(a)"}, {"suction_temperature", "-9 C"}});
  EXPECT_EQ(wet["superheat"]["state"], "impossible");
  EXPECT_TRUE(wet["subcooling"].is_null());
  EXPECT_FALSE(ask("superheat", {{"refrigerant", "R290"}, {"suction_pressure", "41 psig"}}));
}

TEST(Superheat, CountsABlendFromItsOwnPoint) {
  const json a = answer("superheat", {{"refrigerant", "R448A"},
                                      {"suction_pressure", "41 psig"},
                                      {"suction_temperature", "40 F"},
                                      {"head_pressure", "250 psig"},
                                      {"liquid_temperature", "90 F"}});
  EXPECT_GT(si(a["glide"]), 4);
  const json line = answer("saturation", {{"refrigerant", "R448A"}, {"at", {"41 psig", "250 psig"}}})["rows"];
  EXPECT_NEAR(si(a["superheat"]["saturation"]), si(line[0]["vapour"]["temperature"]), 1e-6);
  EXPECT_NEAR(si(a["subcooling"]["saturation"]), si(line[1]["liquid"]["temperature"]), 1e-6);
}

TEST(Vacuum, GoesBothWaysAndMindsTheWall) {
  const json a = answer("vacuum", {{"pressure", "500 micron"}, {"wall", "-30 C"}});
  EXPECT_NEAR(si(a["temperature"]) - 273.15, -24.48, 0.02);
  EXPECT_EQ(a["form"], "ice");
  EXPECT_EQ(a["boils"], false);
  const json back = answer("vacuum", {{"t", "-24.48 C"}});
  EXPECT_NEAR(si(back["pressure"][0]), 66.661, 0.1);
  EXPECT_FALSE(ask("vacuum", {{"pressure", "500 micron"}, {"t", "5 C"}}));
  EXPECT_FALSE(ask("vacuum", json::object()));
}

}  // namespace
}  // namespace coldwright::service

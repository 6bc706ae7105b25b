// The capillary check, its replacement and the standing test as a person asks for them: worked cases reckoned
// anew in here, refusals that name the field, and readings that are asked about.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "schema_check.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/use_cases.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

constexpr double kAir = 101325;

Result<std::string> ask(const char* name, const json& request) {
  return find_use_case(name)->run(request.dump(), {});
}
// Every answer fits the schema and has all of its words.
json answer(const char* name, const json& request) {
  const auto text = ask(name, request);
  EXPECT_TRUE(text) << to_text(text.problem());
  if (!text) return json::object();
  static const tests::SchemaCheck schema(json::parse(*bundled_schema("procedure.answer")));
  json parsed = json::parse(*text);
  EXPECT_EQ(schema(parsed), "") << request;
  for (const json& figure : parsed["figures"])
    for (const json& input : figure["where"]) EXPECT_NE(input["symbol"], "") << figure["key"] << input["key"];
  Context french;
  french.language = "fr";
  EXPECT_EQ(text->find("[no "), std::string::npos) << request;
  EXPECT_EQ(find_use_case(name)->run(request.dump(), french)->find("[no "), std::string::npos) << request;
  return parsed;
}
json figure(const json& answer, const char* key) {
  for (const json& each : answer["figures"])
    if (each["key"] == key) return each;
  ADD_FAILURE() << "no figure " << key;
  return json::object();
}
bool has_figure(const json& answer, const char* key) {
  for (const json& each : answer["figures"])
    if (each["key"] == key) return true;
  return false;
}
double si(const json& answer, const char* key) {
  const json found = figure(answer, key);
  return found.contains("value") ? found["value"]["si"].get<double>() : NAN;
}
std::string verdict(const json& answer) { return answer["verdict"]["key"]; }
bool says(const json& answer, const char* list, const char* key) {
  for (const json& each : answer[list])
    if (each["key"] == key) return true;
  return false;
}
std::string refused(const char* name, const json& request) {
  const auto text = ask(name, request);
  EXPECT_FALSE(text) << (text ? *text : std::string());
  return text ? "" : text.problem().field;
}
json with(json base, const json& more) {
  base.update(more);
  return base;
}

// Choked flow, reckoned in here: the friction length of a choked Fanno flow solved by bisection on the Mach
// number, Swamee's explicit friction factor instead of Churchill's.
double choked_flow(double bore, double length, double p0, double T) {
  const double g = 1.4, R = 8.314462618 / 0.0280134, mu = 17.6e-6;
  const double area = 0.25 * 3.14159265358979 * bore * bore;
  double f = 0.03, flow = 0;
  for (int i = 0; i < 50; ++i) {
    const double wanted = f * length / bore + 0.5;
    double low = 1e-4, high = 1;
    for (int j = 0; j < 80; ++j) {
      const double m = 0.5 * (low + high), m2 = m * m;
      const double left =
          (1 - m2) / (g * m2) + (g + 1) / (2 * g) * std::log((g + 1) * m2 / (2 + (g - 1) * m2));
      (left > wanted ? low : high) = m;
    }
    flow = area * p0 * std::sqrt(g / (R * T)) * low * std::pow(1 + 0.2 * low * low, -3);
    const double re = flow / area * bore / mu;
    f = 0.25 / std::pow(std::log10(1.5e-6 / bore / 3.7 + 5.74 / std::pow(re, 0.9)), 2);
  }
  return flow;
}

const json kTube = {{"bore", "0.8 mm"}, {"length", "2.5 m"}, {"supply", "10 barg"}, {"t", "20 C"}};

TEST(Capillary, TellsTheClearTubesFlow) {
  const json a = answer("capillary", kTube);
  EXPECT_EQ(verdict(a), "not_measured");
  const double expected = choked_flow(0.8e-3, 2.5, 10e5 + kAir, 293.15);
  EXPECT_NEAR(si(a, "clear_flow"), expected, 0.02 * expected);  // two friction formulas
  // litres at 0 C and 1 atm: 22.414 a mole
  EXPECT_NEAR(si(a, "clear_litres"), si(a, "clear_flow") / 0.0280134 * 22.414e-3,
              1e-4 * si(a, "clear_litres"));
  const json rows = a["tables"][0]["rows"];
  EXPECT_EQ(rows.size(), 12U);
  EXPECT_NE(rows.front().back(), rows.back().back());  // chokes on the way up
  EXPECT_TRUE(says(a, "cautions", "caution_nitrogen_regulator"));
  EXPECT_TRUE(says(a, "cautions", "caution_not_oxygen"));
}

TEST(Capillary, TurnsAFlowIntoPercentBlocked) {
  const double clear = si(answer("capillary", kTube), "clear_flow");
  const auto flow = [&](double share) { return std::to_string(share * clear * 60e3) + " g/min"; };
  const json half = answer("capillary", with(kTube, {{"flow", flow(0.5)}}));
  EXPECT_EQ(verdict(half), "blocked");
  EXPECT_NEAR(si(half, "blocked_share"), 0.5, 0.01);
  const json range = figure(half, "blocked_share")["range"];
  EXPECT_LT(range["low"]["si"], 0.5);
  EXPECT_GT(range["high"]["si"], 0.5);
  EXPECT_LT(si(half, "bore_left"), 0.8e-3);
  EXPECT_LT(si(half, "hole_left"), si(half, "bore_left"));
  // half the flow in litres, counted at 0 C, is the same check
  const double litres = 0.5 * clear / 0.0280134 * 22.414 * 60;
  const json spoken = answer("capillary", with(kTube, {{"flow", std::to_string(litres) + " L/min"}}));
  EXPECT_NEAR(si(spoken, "blocked_share"), 0.5, 0.01);
  EXPECT_EQ(verdict(answer("capillary", with(kTube, {{"flow", flow(0.99)}}))), "clear");
  EXPECT_EQ(verdict(answer("capillary", with(kTube, {{"flow", flow(1.6)}}))), "passes_more");
  EXPECT_EQ(verdict(answer("capillary", with(kTube, {{"flow", "0 L/min"}}))), "stopped");
  const json vague = answer("capillary", with(kTube, {{"flow", flow(0.85)}, {"bore_spread", "0.1 mm"}}));
  EXPECT_EQ(verdict(vague), "undecided");
  EXPECT_TRUE(says(vague, "statements", "spread_too_wide"));
}

TEST(Capillary, TurnsATimeToFallIntoPercentBlocked) {
  // Choked throughout, the flow is proportional to the pressure but for the friction factor: the vessel falls
  // about exponentially, t = V/(R T) ln(p1/p2) p/m, m/p taken midway.
  const double p1 = 20e5 + kAir, p2 = 12e5 + kAir, mid = std::sqrt(p1 * p2), R = 8.314462618 / 0.0280134;
  const double clear =
      0.8e-3 / (R * 293.15) * std::log(p1 / p2) * mid / choked_flow(0.8e-3, 2.5, mid, 293.15);
  const auto fall = [&](double seconds) {
    return with(kTube, {{"supply", "20 barg"},
                        {"fell_to", "12 barg"},
                        {"volume", "0.8 L"},
                        {"time", std::to_string(seconds) + " s"}});
  };
  const json a = answer("capillary", fall(2.5 * clear));
  EXPECT_EQ(verdict(a), "blocked");
  EXPECT_NEAR(si(a, "clear_time"), clear, 0.03 * clear);
  EXPECT_NEAR(si(a, "blocked_share"), 0.6, 0.02);
  const json fall_points = a["curves"].back()["lines"][0]["points"];
  EXPECT_NEAR(fall_points.back()[0].get<double>() * 60, si(a, "clear_time"), 0.02 * clear);
  EXPECT_NEAR(fall_points.back()[1].get<double>(), 12, 1e-6);
  EXPECT_EQ(verdict(answer("capillary", fall(clear))), "clear");
  json untimed = fall(clear);
  untimed.erase("time");
  const json predicted = answer("capillary", untimed);
  EXPECT_EQ(verdict(predicted), "not_measured");
  EXPECT_NEAR(si(predicted, "clear_time"), clear, 0.03 * clear);
  EXPECT_EQ(predicted["curves"].back()["lines"].size(), 1U);
}

TEST(Capillary, TakesThePlausibleTubesOfACabinet) {
  const json a = answer(
      "capillary",
      {{"cabinet", "reach_in_cooler"}, {"charge", "120 g"}, {"supply", "10 barg"}, {"flow", "1 L/min"}});
  EXPECT_TRUE(says(a, "statements", "tube_from_plate"));
  EXPECT_EQ(verdict(a), "blocked");
  EXPECT_GT(si(a, "smallest_blockage"), 0.3);
  EXPECT_TRUE(says(a, "statements", "spread_too_wide"));
}

TEST(Capillary, RefusesWithTheField) {
  EXPECT_EQ(refused("capillary", {{"bore", "0.8 mm"}, {"length", "2.5 m"}}), "supply");
  EXPECT_EQ(refused("capillary", {{"bore", "0.8 mm"}, {"supply", "10 barg"}}), "length");
  EXPECT_EQ(refused("capillary", {{"supply", "10 barg"}}), "bore");
  EXPECT_EQ(refused("capillary", with(kTube, {{"side_plate", "9 barg"}})), "supply");
  EXPECT_EQ(refused("capillary", with(kTube, {{"supply", "100 barg"}})), "supply");
  EXPECT_EQ(refused("capillary", with(kTube, {{"flow", "5 g"}})), "flow");
  EXPECT_EQ(refused("capillary", with(kTube, {{"flow", "-5 g/min"}})), "flow");
  EXPECT_EQ(refused("capillary", with(kTube, {{"time", "60 s"}, {"volume", "1 L"}})), "fell_to");
  EXPECT_EQ(refused("capillary", with(kTube, {{"time", "60 s"}, {"volume", "1 L"}, {"fell_to", "11 barg"}})),
            "fell_to");
  EXPECT_EQ(refused("capillary", with(kTube, {{"time", "60 s"}, {"flow", "5 g/min"}})), "flow");
  EXPECT_EQ(refused("capillary", {{"cabinet", "barrel"}, {"supply", "10 barg"}}), "cabinet");
  EXPECT_EQ(refused("capillary", with(kTube, {{"bore", "0 mm"}})), "bore");
  EXPECT_EQ(refused("capillary", with(kTube, {{"bore", "1 km"}})), "bore");
  EXPECT_EQ(refused("capillary", with(kTube, {{"length", "0.1 mm"}})), "length");
  EXPECT_EQ(refused("capillary", with(kTube, {{"t", "900 C"}})), "t");
}

const json kOldTube = {{"refrigerant", "R290"},
                       {"bore", "0.8 mm"},
                       {"length", "2.4 m"},
                       {"condensing", "42 C"},
                       {"evaporating", "-8 C"}};

TEST(Tube, LengthGoesWithTheBoreBySimilarity) {
  const json same = answer("tube", with(kOldTube, {{"new_bore", "0.8 mm"}}));
  EXPECT_EQ(verdict(same), "cut_to");
  EXPECT_NEAR(si(same, "tube_length"), 2.4, 1e-3);
  const json wider = answer("tube", with(kOldTube, {{"new_bore", "0.9 mm"}}));
  const double similar = 2.4 * std::pow(0.9 / 0.8, 2.6114 / 0.484);
  EXPECT_NEAR(si(wider, "length_similarity"), similar, 1e-6);
  EXPECT_NEAR(si(wider, "length_correlated"), similar, 1e-3 * similar);
  EXPECT_NEAR(si(wider, "length_homogeneous"), similar, 0.08 * similar);
  const json range = figure(wider, "tube_length")["range"];
  EXPECT_LT(range["low"]["si"], range["mid"]["si"]);
  EXPECT_LT(range["mid"]["si"], range["high"]["si"]);
  EXPECT_GT(wider["tables"][0]["rows"].size(), 2U);
  EXPECT_TRUE(says(wider, "cautions", "caution_no_torch"));
}

TEST(Tube, FollowsFromACapacity) {
  // flow = Q/(h of vapour 5 K above the evaporating point - h of liquid 5 K under the condensing one), asked
  // of the equation of state in here
  const auto r290 = load_fluid("R290");
  ASSERT_TRUE(r290);
  const double T_e = 265.15, T_c = 315.15;
  const double vapour = r290->at_Tp(T_e + 5, *r290->dew_pressure(T_e))->h,
               liquid = r290->saturation_at_T(T_c - 5)->liquid.h;
  const json a = answer("tube", {{"refrigerant", "R290"},
                                 {"capacity", "400 W"},
                                 {"condensing", "42 C"},
                                 {"evaporating", "-8 C"},
                                 {"new_bore", "0.8 mm"}});
  EXPECT_NEAR(si(a, "tube_flow"), 400 / (vapour - liquid), 0.01 * 400 / (vapour - liquid));
  EXPECT_TRUE(says(a, "statements", "heat_left_out"));
  EXPECT_LT(figure(a, "tube_length")["range"]["low"]["si"], si(a, "tube_length"));
}

TEST(Tube, FollowsFromACabinet) {
  const json a = answer("tube", {{"cabinet", "reach_in_cooler"},
                                 {"charge", "120 g"},
                                 {"rated_current", "2.4 A"},
                                 {"new_bore", "0.8 mm"}});
  EXPECT_EQ(verdict(a), "cut_to");
  EXPECT_TRUE(says(a, "statements", "from_plate"));
  const json far = answer("tube", with(kOldTube, {{"new_bore", "2 mm"}}));
  EXPECT_EQ(verdict(far), "bore_unfit");
  EXPECT_EQ(verdict(answer("tube", kOldTube)), "choose_bore");
}

TEST(Tube, RefusesWithTheField) {
  EXPECT_EQ(
      refused("tube",
              {{"refrigerant", "R290"}, {"bore", "0.8 mm"}, {"condensing", "42 C"}, {"evaporating", "-8 C"}}),
      "length");
  EXPECT_EQ(refused("tube", {{"refrigerant", "R290"}, {"bore", "0.8 mm"}, {"length", "2 m"}}), "condensing");
  EXPECT_EQ(refused("tube", {{"refrigerant", "R290"}, {"condensing", "42 C"}, {"evaporating", "-8 C"}}),
            "bore");
  EXPECT_EQ(refused("tube", with(kOldTube, {{"capacity", "400 W"}})), "capacity");
  EXPECT_EQ(refused("tube", with(kOldTube, {{"evaporating", "60 C"}})), "condensing pressure");
  EXPECT_EQ(refused("tube", with(kOldTube, {{"condensing", "400 C"}})), "condensing");
  EXPECT_EQ(refused("tube", with(kOldTube, {{"new_bore", "0.8 mm"}, {"bore_tolerance", "0.5 mm"}})),
            "bore_tolerance");
  EXPECT_EQ(refused("tube", with(kOldTube, {{"new_bore", "8 mm"}})), "new_bore");
  EXPECT_EQ(refused("tube", json::object()), "refrigerant");
}

const json kPlates = {{"refrigerant", "R290"},
                      {"t", "20 C"},
                      {"volume", "2.5 L"},
                      {"low_plate", "12 barg"},
                      {"high_plate", "24 barg"}};

json readings_of(double minutes, double every, double leak_per_second, double volume, double T_fall,
                 double p0 = 10e5 + kAir) {
  // What a volume with this leak (Pa m3/s) and this fall of temperature over the test shows, by the equation
  // of state.
  static const auto nitrogen = load_fluid("R728");
  json readings = json::array();
  for (double t = 0; t <= minutes + 1e-9; t += every) {
    const double T = 293.15 - T_fall * t / minutes, level = p0 - leak_per_second / volume * t * 60;
    const double p = nitrogen->at_Trho(T, nitrogen->at_Tp(293.15, level)->rho)->p;
    readings.push_back({{"after", std::to_string(t) + " min"},
                        {"pressure", std::to_string(p / 1e3) + " kPa(a)"},
                        {"temperature", std::to_string(T) + " K"}});
  }
  return readings;
}

TEST(Tightness, PlansWithinThePlate) {
  const json a = answer("tightness", with(kPlates, {{"wanted_pressure", "11 barg"}}));
  EXPECT_EQ(verdict(a), "plan");
  EXPECT_NEAR(si(a, "allowed_pressure"), 12e5 + kAir, 1);
  EXPECT_TRUE(says(a, "cautions", "caution_relief"));
  // smallest leak in an hour of seven readings: 2 x 1.645 V s/sqrt(sum), s from 1 kPa/sqrt(12) and 0.3 K at
  // 20 C
  const double p = 11e5 + kAir, s = std::hypot(1e3 / std::sqrt(12), p * 0.3 / 293.15);
  double sum = 0;
  for (int i = 0; i < 7; ++i) sum += std::pow(600.0 * i - 1800, 2);
  const double Q = 2 * 1.6448536 * 2.5e-3 * s / std::sqrt(sum);
  // molecular: as pressures go and with the root of the molar masses; M Q/(R T)
  const auto r290 = load_fluid("R290");
  const double p_s = *r290->bubble_pressure(293.15);
  const double molecular =
      Q * (p_s - kAir) / (p - kAir) * std::sqrt(0.0280134 / 0.04409562) * 0.04409562 / (8.314462618 * 293.15);
  const json range = figure(a, "smallest_leak")["range"];
  EXPECT_LE(range["low"]["si"].get<double>(), molecular * 1.001);
  EXPECT_GE(range["high"]["si"].get<double>(), molecular * 0.999);
  EXPECT_TRUE(std::abs(range["low"]["si"].get<double>() / molecular - 1) < 1e-3 ||
              std::abs(range["high"]["si"].get<double>() / molecular - 1) < 1e-3);
  // and the time to rule 5 g a year out is that hour times the ratio
  EXPECT_NEAR(si(a, "time_to_rule_out"), 3600 * range["high"]["si"].get<double>() / (5e-3 / (365.25 * 86400)),
              1e-3 * si(a, "time_to_rule_out"));
}

// Rows of an independent library with the published equation [span2000nitrogen]: gauge bar and C to gauge
// bar.
TEST(Tightness, TellsWhatATightVolumeReadsAtAnotherTemperature) {
  struct Row {
    const char *p, *from, *to;
    double after;
  };
  for (const Row& row :
       {Row{"10 barg", "20 C", "30 C", 10.38568}, Row{"28 barg", "20 C", "35 C", 29.58794},
        Row{"30 barg", "30 C", "10 C", 27.81097}, Row{"150 psig", "95 F", "75 F", 9.92261}}) {
    const json a = answer("tightness", {{"refrigerant", "R290"},
                                        {"volume", "2 L"},
                                        {"low_plate", "45 barg"},
                                        {"high_plate", "45 barg"},
                                        {"wanted_pressure", row.p},
                                        {"t", row.from},
                                        {"to", row.to}});
    EXPECT_NEAR((si(a, "expected_pressure") - kAir) / 1e5, row.after, 2e-4) << row.p;
  }
}

TEST(Tightness, RefusesAPressureAboveThePlate) {
  const auto above = ask("tightness", with(kPlates, {{"wanted_pressure", "15 barg"}}));
  ASSERT_FALSE(above);
  EXPECT_EQ(above.problem().field, "wanted_pressure");
  EXPECT_NE(above.problem().allowed.find("low side"), std::string::npos);
  EXPECT_NE(above.problem().allowed.find("12"), std::string::npos);
  EXPECT_NE(above.problem().given.find("15 barg"), std::string::npos);
  // with the low side taken off the high side sets it
  EXPECT_EQ(
      verdict(answer("tightness", with(kPlates, {{"wanted_pressure", "15 barg"}, {"low_connected", "no"}}))),
      "plan");
  const auto high =
      ask("tightness", with(kPlates, {{"wanted_pressure", "25 barg"}, {"low_connected", "no"}}));
  ASSERT_FALSE(high);
  EXPECT_NE(high.problem().allowed.find("high side"), std::string::npos);
  json unknown = kPlates;
  unknown.erase("low_plate");
  EXPECT_EQ(refused("tightness", with(unknown, {{"wanted_pressure", "5 barg"}})), "low_plate");
}

TEST(Tightness, DecidesFromReadings) {
  const json fine = {
      {"gauge_resolution", "0.2 kPa"}, {"temperature_sigma", "0.05 K"}, {"wanted_leak", "100 g/yr"}};
  const auto judged = [&](const json& readings, const json& more = json::object()) {
    return answer("tightness", with(with(with(kPlates, fine), {{"readings", readings}}), more));
  };
  EXPECT_EQ(verdict(judged(readings_of(1440, 60, 0, 2.5e-3, 0))), "tight");
  const json cooled = judged(readings_of(1440, 60, 0, 2.5e-3, 5));
  EXPECT_EQ(verdict(cooled), "temperature_explains");
  EXPECT_NEAR(si(cooled, "gauge_fall"), si(cooled, "fall_by_temperature"), 20);
  const double leak = 8.7578e-6 / 5 * 3000;  // 3 kg of R290 a year at 20 C
  const json leaking = judged(readings_of(240, 20, leak, 2.5e-3, 1));
  EXPECT_EQ(verdict(leaking), "leaks");
  EXPECT_GT(si(leaking, "leak_above_probability"), 0.95);
  EXPECT_NEAR(si(leaking, "leak_rate"), leak, 0.1 * leak);  // Pa m3/s
  const json early = judged(readings_of(10, 5, 0, 2.5e-3, 0));
  EXPECT_EQ(verdict(early), "undecided");
  EXPECT_EQ(early["curves"][0]["lines"].size(), 5U);
  EXPECT_EQ(early["curves"][0]["lines"][0]["points"].size(), 3U);
}

TEST(Tightness, CallsEqualisingByItsName) {
  // Two vessels filled to 10 and 9.7 bar, joined by 0.3 mm x 4 m, Reynolds number below 1200 throughout:
  // Poiseuille's flow in steps, written out in here.
  const double V1 = 0.7e-3, V2 = 1.8e-3, R = 8.314462618 / 0.0280134, T = 293.15, d = 0.3e-3, L = 4,
               mu = 17.7e-6;
  double a = 10e5, b = 9.7e5;
  json readings = json::array();
  const auto run = [&](int seconds, int every) {
    readings = json::array();
    a = 10e5, b = 9.7e5;
    for (int second = 0; second <= seconds; ++second) {
      if (second % every == 0)
        readings.push_back({{"after", std::to_string(second) + " s"},
                            {"pressure", std::to_string(a / 1e3) + " kPa(a)"},
                            {"temperature", "20 C"}});
      for (int i = 0; i < 20; ++i) {
        const double m = 3.14159265358979 * std::pow(d, 4) * (a * a - b * b) / (256 * mu * L * R * T) * 0.05;
        a -= m * R * T / V1;
        b += m * R * T / V2;
      }
    }
    return json{{"refrigerant", "R290"},    {"volume_low", "0.7 L"},         {"volume_high", "1.8 L"},
                {"readings", readings},     {"temperature_sigma", "0.02 K"}, {"gauge_resolution", "0.2 kPa"},
                {"wanted_leak", "200 g/yr"}};
  };
  const json tube = {{"tube_bore", "0.3 mm"}, {"tube_length", "4 m"}};
  const json minutes = run(180, 20);
  const json wide_open = answer("tightness", minutes);
  EXPECT_EQ(verdict(wide_open), "undecided");
  EXPECT_TRUE(says(wide_open, "asks", "curved"));  // a leak falls straight
  const json told = answer("tightness", with(minutes, tube));
  EXPECT_EQ(verdict(told), "still_equalising");
  EXPECT_TRUE(says(told, "statements", "blocked_looks_leaking"));
  // laminar near the end: tau = V1 V2/(V1 + V2) 128 mu L/(pi d^4 p), p where both meet after the last step up
  // from half way
  const double p = 10e5 - V2 / (V1 + V2) * 0.5 * (10e5 - kAir);
  const double tau = V1 * V2 / (V1 + V2) * 128 * mu * L / (3.14159265358979 * std::pow(d, 4) * p);
  EXPECT_NEAR(si(told, "equalise_constant"), tau, 0.02 * tau);
  // half a day later it is over, and what the gauge fell is explained
  const json late = run(12 * 3600, 1200);
  EXPECT_EQ(verdict(answer("tightness", with(late, tube))), "equalising_explains");
  EXPECT_NE(verdict(answer("tightness", late)), "tight");  // a line alone fits that badly
}

TEST(Tightness, AsksAboutAPressureThatRises) {
  const json a = answer("tightness", with(kPlates, {{"readings", readings_of(60, 10, -5e-3, 2.5e-3, 0)},
                                                    {"temperature_sigma", "0.05 K"}}));
  EXPECT_EQ(verdict(a), "rises");
}

TEST(Tightness, EstimatesAVolumeFromThePlateAndSaysSo) {
  const json a = answer("tightness", {{"cabinet", "reach_in_cooler"},
                                      {"charge", "120 g"},
                                      {"low_plate", "12 barg"},
                                      {"high_plate", "24 barg"},
                                      {"wanted_pressure", "10 barg"}});
  EXPECT_TRUE(says(a, "statements", "volume_from_plate"));
  EXPECT_TRUE(says(a, "statements", "equalises"));
  EXPECT_TRUE(has_figure(a, "equalise_time"));
  const json range = figure(a, "test_volume")["range"];
  EXPECT_LT(range["low"]["si"], range["high"]["si"]);
}

TEST(Tightness, CountsATraceOfRefrigerant) {
  const json a = answer("tightness", with(kPlates, {{"wanted_pressure", "11 barg"}, {"tracer", "10 %"}}));
  EXPECT_TRUE(says(a, "statements", "trace_counted"));
  EXPECT_TRUE(says(a, "cautions", "caution_trace_burns"));
  const auto n2 = load_fluid("R728"), r290 = load_fluid("R290");
  const double p = 11e5 + kAir, T = 293.15, trace = 0.1 * p;
  const double colder = n2->at_Trho(T - 5, n2->at_Tp(T, p - trace)->rho)->p +
                        r290->at_Trho(T - 5, r290->at_Tp(T, trace)->rho)->p;
  EXPECT_NEAR(si(a, "colder_by_five"), p - colder, 5);
  const json wet =
      answer("tightness",
             with(kPlates, {{"wanted_pressure", "11 barg"}, {"tracer", "45 %"}, {"coldest_below", "25 K"}}));
  EXPECT_TRUE(says(wet, "statements", "trace_lies_wet"));
}

TEST(Tightness, AsksAboutReadingsAndDropsNone) {
  json readings = readings_of(30, 10, 0, 2.5e-3, 0);
  std::swap(readings[1], readings[2]);
  EXPECT_EQ(refused("tightness", with(kPlates, {{"readings", readings}})).rfind("reading 3", 0), 0U);
  readings = readings_of(30, 10, 0, 2.5e-3, 0);
  readings[2].erase("temperature");
  EXPECT_EQ(refused("tightness", with(kPlates, {{"readings", readings}})), "reading 3, temperature");
  for (json& reading : readings) reading.erase("temperature");
  EXPECT_TRUE(
      says(answer("tightness", with(kPlates, {{"readings", readings}})), "statements", "no_temperature"));
  readings[1]["temperature"] = "900 C";
  for (json& reading : readings) reading["temperature"] = reading.value("temperature", "20 C");
  EXPECT_EQ(refused("tightness", with(kPlates, {{"readings", readings}})), "reading 2, temperature");
  // above the plate: the readings stay, and are asked about
  const json over =
      answer("tightness", with(kPlates, {{"readings", readings_of(30, 10, 0, 2.5e-3, 0, 14e5)}}));
  EXPECT_TRUE(says(over, "asks", "above_plate"));
}

TEST(Tightness, OpensACallsOwnRun) {
  // Two runs in one call: settings and readings of the second are the request's, what is given explicitly
  // wins.
  json entries = json::array();
  const auto add = [&](const char* id, const json& more) {
    json entry = {{"id", id}, {"at", "2026-03-02T09:00:00Z"}};
    entry.update(more);
    entries.push_back(entry);
  };
  add("n",
      {{"kind", "nameplate"}, {"cabinet", "reach_in_cooler"}, {"refrigerant", "R290"}, {"charge", "120 g"}});
  add("p1", {{"kind", "procedure"}, {"procedure", "tightness"}, {"run", 1}, {"with", {{"volume", "9 L"}}}});
  add("p2",
      {{"kind", "procedure"},
       {"procedure", "tightness"},
       {"run", 2},
       {"with",
        {{"volume", "2.5 L"}, {"low_plate", "12 barg"}, {"high_plate", "24 barg"}, {"joined", "open"}}}});
  add("r1", {{"kind", "test_reading"},
             {"procedure", "tightness"},
             {"run", 2},
             {"pressure", "10 barg"},
             {"temperature", "20 C"}});
  add("r2", {{"kind", "test_reading"},
             {"procedure", "tightness"},
             {"run", 2},
             {"at", "2026-03-02T09:30:00Z"},
             {"pressure", "9.5 barg"},
             {"temperature", "20 C"}});
  const json call = {{"call", "7"}, {"format", 1}, {"entries", entries}};
  const json a = answer("tightness", {{"call", call}, {"run", 2}});
  EXPECT_NEAR(si(a, "test_volume"), 2.5e-3, 1e-9);
  EXPECT_EQ(a["curves"].back()["lines"][0]["points"].size(), 2U);
  EXPECT_NEAR(si(a, "gauge_fall"), 0.5e5, 1);
  EXPECT_EQ(verdict(a), "leaks");
  EXPECT_NEAR(si(answer("tightness", {{"call", call}, {"run", 2}, {"volume", "3 L"}}), "test_volume"), 3e-3,
              1e-9);
}

TEST(Tightness, RefusesWithTheField) {
  json no_volume = kPlates;
  no_volume.erase("volume");
  EXPECT_EQ(refused("tightness", with(no_volume, {{"wanted_pressure", "10 barg"}})), "volume");
  EXPECT_EQ(refused("tightness", {{"refrigerant", "R290"}, {"volume", "2 L"}}), "wanted_pressure");
  EXPECT_EQ(refused("tightness", with(kPlates, {{"wanted_pressure", "-0.5 barg"}})), "wanted_pressure");
  EXPECT_EQ(refused("tightness", with(kPlates, {{"low_connected", "no"}, {"high_connected", "no"}})),
            "low_connected");
  EXPECT_EQ(refused("tightness", with(kPlates, {{"low_connected", "maybe"}})), "low_connected");
  EXPECT_EQ(refused("tightness",
                    with(kPlates, {{"wanted_pressure", "10 barg"}, {"service_pressure", "-0.2 barg"}})),
            "service_pressure");
  EXPECT_EQ(refused("tightness", with(kPlates, {{"wanted_pressure", "10 barg"}, {"joined", "capillary"}})),
            "tube_bore");
  EXPECT_EQ(refused("tightness", with(kPlates, {{"wanted_pressure", "10 barg"}, {"tracer", "80 %"}})),
            "tracer");
}

}  // namespace
}  // namespace coldwright::service

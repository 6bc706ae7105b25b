// The plan of a repair: which steps follow from what is wrong, and how entries of the call stand in it.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>

#include "contract/schema_check.hpp"
#include "contract/spoken.hpp"
#include "service/use_cases.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

json demo(const char* name) {
  std::ifstream in(std::string(SOURCE_DIR "/data/demo/") + name);
  return json::parse(std::string(std::istreambuf_iterator<char>(in), {}));
}

Result<std::string> planned(const json& call, const json& causes) {
  Context context;
  context.now_seconds = 1795000000;
  return find_use_case("plan")->run(json{{"call", call}, {"causes", causes}}.dump(), context);
}

std::vector<std::string> steps(const json& call, const std::string& cause, double probability) {
  const auto answer = planned(call, {{{"cause", cause}, {"probability", probability}}});
  EXPECT_TRUE(answer) << to_text(answer.problem());
  std::vector<std::string> keys;
  if (!answer) return keys;
  const json parsed = json::parse(*answer);
  EXPECT_EQ(tests::SchemaCheck(json::parse(*bundled_schema("plan.answer")))(parsed), "");
  EXPECT_EQ(answer->find("[no "), std::string::npos);
  for (const json& step : parsed["steps"]) keys.push_back(step["key"]);
  return keys;
}

std::ptrdiff_t place(const std::vector<std::string>& keys, const std::string& key) {
  const auto found = std::find(keys.begin(), keys.end(), key);
  return found == keys.end() ? -1 : found - keys.begin();
}

TEST(Plan, AFaultOutsideTheSealedCircuitNeverOpensIt) {
  const json call = demo("2-clinic-old-reach-in.json");
  for (const char* cause :
       {"dirty_condenser", "condenser_fan", "evaporator_fan", "iced_evaporator", "high_load", "control",
        "start_or_winding", "low_voltage", "condenser_fan+iced_evaporator"}) {
    const auto keys = steps(call, cause, 0.9);
    for (const char* opening : {"opening", "recover", "tightness", "evacuation", "charging"})
      EXPECT_EQ(place(keys, opening), -1) << cause << " " << opening;
    EXPECT_GE(place(keys, "proof"), 0) << cause;
  }
}

TEST(Plan, AFaultInsideGoesThroughTestVacuumAndChargeInThatOrder) {
  const json call = demo("1-bakery-dough-cooler.json");
  for (const char* cause :
       {"low_charge", "overcharge", "restriction", "moisture_freeze", "noncondensable", "worn_valves",
        "not_pumping", "pumping_lost_at_times", "dirty_condenser+low_charge"}) {
    const auto keys = steps(call, cause, 0.9);
    std::ptrdiff_t last = -1;
    for (const char* key : {"flammable", "recover", "repair", "tightness", "evacuation", "rise", "charging",
                            "proof", "record"}) {
      EXPECT_GT(place(keys, key), last) << cause << " " << key;
      last = place(keys, key);
    }
  }
  EXPECT_LT(place(steps(call, "low_charge", 0.9), "tracer"),
            place(steps(call, "low_charge", 0.9), "recover"));
  EXPECT_GE(place(steps(call, "restriction", 0.9), "capillary"), 0);
}

TEST(Plan, WarnsOfThePressureBeforeAnyIsOn) {
  const auto answer =
      planned(demo("3-fish-hall-freezer.json"), {{{"cause", "low_charge"}, {"probability", 0.9}}});
  ASSERT_TRUE(answer) << to_text(answer.problem());
  const json parsed = json::parse(*answer);
  for (const json& step : parsed["steps"]) {
    std::set<std::string> keys;
    for (const json& caution : step["cautions"]) keys.insert(caution["key"].get<std::string>());
    if (step["key"] == "tightness") {
      EXPECT_TRUE(keys.contains("caution_nitrogen_regulator") && keys.contains("caution_not_oxygen"));
    }
    if (step["key"] == "evacuation" || step["key"] == "charging") {
      EXPECT_GE(keys.size(), 3U) << step["key"];
    }
  }
}

TEST(Plan, SettlesFirstWhatIsNotSureAndTakesAFindingOnSite) {
  json call = demo("1-bakery-dough-cooler.json");
  EXPECT_EQ(place(steps(call, "not_pumping", 0.5), "settle"), 0);
  EXPECT_EQ(place(steps(call, "not_pumping", 0.7), "settle"), -1);
  call["entries"].push_back({{"kind", "cause_found"}, {"cause", "condenser_fan"}, {"how", "seized"}});
  const auto keys = steps(call, "not_pumping", 0.5);
  EXPECT_EQ(place(keys, "settle"), -1);
  EXPECT_EQ(place(keys, "recover"), -1);
}

TEST(Plan, KeepsTheStateTheReasonAndTheOrderByHand) {
  json call = demo("1-bakery-dough-cooler.json");
  const char* later = "2025-11-30T09:00:00Z";
  call["entries"].push_back({{"kind", "step"}, {"step", "tightness"}, {"state", "done"}, {"at", later}});
  call["entries"].push_back(
      {{"kind", "step"}, {"step", "worth"}, {"state", "skipped"}, {"reason", "warranty"}, {"at", later}});
  call["entries"].push_back({{"kind", "order"}, {"steps", {"evacuation", "tightness", "no_such_step"}}});
  const auto answer = planned(call, {{{"cause", "low_charge"}, {"probability", 0.9}}});
  ASSERT_TRUE(answer) << to_text(answer.problem());
  const json parsed = json::parse(*answer);
  std::vector<std::string> keys;
  for (const json& step : parsed["steps"]) {
    keys.push_back(step["key"]);
    if (step["key"] == "tightness") {
      EXPECT_EQ(step["state"], "done");
    }
    if (step["key"] == "worth") {
      EXPECT_EQ(step["reason"], "warranty");
    }
  }
  EXPECT_LT(place(keys, "evacuation"), place(keys, "tightness"));
  EXPECT_EQ(place(keys, "no_such_step"), -1);
  EXPECT_EQ(std::count(keys.begin(), keys.end(), "tightness"), 1);
}

TEST(Plan, WithoutCausesDiagnosesTheCallItself) {
  Context context;
  context.now_seconds = 1795000000;
  const auto answer = find_use_case("plan")->run(
      json{{"call", demo("3-fish-hall-freezer.json")}, {"population", 20}}.dump(), context);
  ASSERT_TRUE(answer) << to_text(answer.problem());
  EXPECT_EQ(json::parse(*answer)["leads"][0]["cause"], "low_charge");
}

TEST(Plan, RefusesCausesThatAreNone) {
  const json call = demo("1-bakery-dough-cooler.json");
  for (const json& causes : {json("low_charge"), json{{{"cause", "gremlins"}, {"probability", 0.5}}},
                             json{{{"cause", "low_charge"}}},
                             json{{{"cause", "low_charge"}, {"probability", 0.8}},
                                  {{"cause", "restriction"}, {"probability", 0.4}}}}) {
    const auto answer = planned(call, causes);
    ASSERT_FALSE(answer) << causes;
    EXPECT_EQ(answer.problem().field, "causes");
    tests::expect_said_everywhere(answer.problem());
  }
}

}  // namespace
}  // namespace coldwright::service

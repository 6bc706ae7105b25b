// The use case "memory" as a door asks it, and what "diagnose" and "expect" make of its answer.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "contract/schema_check.hpp"
#include "contract/spoken.hpp"
#include "service/use_cases.hpp"
#include "support/repaired_call.hpp"

namespace coldwright::test {
namespace {

using nlohmann::json;

Result<std::string> asked(const char* name, const json& request) {
  service::Context context;
  context.now_seconds = 1795000000;
  return service::find_use_case(name)->run(request.dump(), context);
}
json answered(const char* name, const json& request) {
  const auto text = asked(name, request);
  EXPECT_TRUE(text) << (text ? "" : to_text(text.problem()));
  return text ? json::parse(*text) : json::object();
}
std::string refused(const json& request, const char* name = "memory") {
  const auto text = asked(name, request);
  EXPECT_FALSE(text) << *text;
  if (text) return {};
  coldwright::tests::expect_said_everywhere(text.problem());
  return to_text(text.problem());
}
bool says(const json& list, const std::string& key) {
  return std::any_of(list.begin(), list.end(), [&](const json& s) { return s["key"] == key; });
}
const json* figure(const json& answer, const std::string& key) {
  for (const json& f : answer["figures"])
    if (f["key"] == key) return &f;
  return nullptr;
}

TEST(MemoryUseCase, TellsWhatACallTaught) {
  const json answer = answered("memory", {{"calls", {repaired_call({.td = 1.6})}}});
  const auto schema = service::bundled_schema("memory.answer");
  ASSERT_TRUE(schema);
  EXPECT_EQ(coldwright::tests::SchemaCheck(json::parse(*schema))(answer), "");
  EXPECT_EQ(answer["verdict"]["key"], "remembers");
  EXPECT_TRUE(says(answer["statements"], "call_taught"));
  const json* td = figure(answer, "learned_evaporator_td");
  ASSERT_NE(td, nullptr) << answer.dump(1);
  EXPECT_FALSE((*td)["formula"].get<std::string>().empty());
  // A latent of 1.6 is a TD near the archetype's upper end.
  EXPECT_GT((*td)["value"]["si"].get<double>(), 10.5);
  const json& call = answer["memory"]["calls"][0];
  EXPECT_EQ(call["unit"], "Nordhylla / NK 40 / S1");
  EXPECT_EQ(call["model"], "Nordhylla / NK 40");
  EXPECT_EQ(call["cause"], "low_charge");
  EXPECT_EQ(call["parts"], json({"drier"}));
  EXPECT_EQ(call["readings"], 7);  // the current before the repair isn't one of them
}

TEST(MemoryUseCase, OrderAndRepetitionDontMatter) {
  const json a = repaired_call({.serial = "S1"}), b = repaired_call({.serial = "S2", .day = 21, .td = 1}),
             c = repaired_call({.serial = "S1", .day = 22, .td = 0.3});
  const json at_once = answered("memory", {{"calls", {a, b, c}}})["memory"];
  EXPECT_EQ(at_once["calls"].size(), 3u);
  EXPECT_EQ(answered("memory", {{"calls", {c, b, a, b}}})["memory"], at_once);
  json step = answered("memory", {{"calls", {b.dump(), c}}})["memory"];  // a file's text counts as the call
  step = answered("memory", {{"memory", step}, {"calls", {a, c}}})["memory"];
  EXPECT_EQ(step, at_once);
  json shuffled = a;
  std::reverse(shuffled["entries"].begin(), shuffled["entries"].end());
  EXPECT_EQ(answered("memory", {{"calls", {shuffled, b, c}}})["memory"], at_once);
}

TEST(MemoryUseCase, WhatIsForgottenStaysSoUntilAskedBack) {
  const json a = repaired_call({});
  json memory = answered("memory", {{"calls", {a}}})["memory"];
  const json unit = {{"unit", "Nordhylla / NK 40 / S1"}};
  json answer = answered("memory", {{"memory", memory}, {"forget", {unit}}});
  EXPECT_TRUE(answer["memory"]["calls"].empty());
  answer = answered("memory", {{"memory", answer["memory"]}, {"calls", {a}}});
  EXPECT_TRUE(says(answer["statements"], "stays_forgotten"));
  EXPECT_TRUE(answer["memory"]["calls"].empty());
  answer = answered("memory", {{"memory", answer["memory"]}, {"ask_back", unit}, {"calls", {a}}});
  EXPECT_EQ(answer["memory"], memory);
}

TEST(MemoryUseCase, WhatTaughtNothingIsNamed) {
  const json unfinished = answered("memory", {{"calls", {repaired_call({.cause = "", .proved = false})}}});
  EXPECT_TRUE(says(unfinished["statements"], "call_not_finished"));
  EXPECT_TRUE(unfinished["memory"]["calls"].empty());
  const json unproved = answered("memory", {{"calls", {repaired_call({.proved = false})}}});
  EXPECT_TRUE(says(unproved["statements"], "no_readings_left"));
  EXPECT_EQ(unproved["memory"]["calls"].size(), 1u);  // its cause counts
  EXPECT_TRUE(unproved["memory"]["calls"][0]["rows"].empty());
  const json ill = answered("memory", {{"calls", {repaired_call({.left = "restriction"})}}});
  EXPECT_TRUE(says(ill["statements"], "not_sound_enough")) << ill["statements"].dump(1);
}

TEST(MemoryUseCase, ACorrectionIsBelieved) {
  const json memory = answered("memory", {{"calls", {repaired_call({.td = 1.6})}}})["memory"];
  const json right = {{"unit", "nordhylla / nk 40 / s1"}, {"quantity", "evaporator_td"}, {"value", "15 F"}};
  const json answer = answered("memory", {{"memory", memory}, {"correct", right}});
  const json* td = figure(answer, "learned_evaporator_td");
  ASSERT_NE(td, nullptr);
  EXPECT_NEAR((*td)["value"]["si"].get<double>(), 15 / 1.8, 0.7);
  json other = right;
  other["value"] = "20 F";
  EXPECT_NE(refused({{"memory", memory}, {"correct", {right, other}}}).find("contradict"), std::string::npos);
  other["value"] = "90 F";
  EXPECT_NE(refused({{"memory", memory}, {"correct", other}}).find("four standard deviations"),
            std::string::npos);
  other["value"] = "15 psig";
  refused({{"memory", memory}, {"correct", other}});
  other = right;
  other["unit"] = "Nordhylla / NK 40 / S2";
  EXPECT_NE(refused({{"memory", memory}, {"correct", other}}).find("did you mean"), std::string::npos);
  other = right;
  other["quantity"] = "evaporator_dt";
  EXPECT_NE(refused({{"memory", memory}, {"correct", other}}).find("did you mean \"evaporator_td\""),
            std::string::npos);
  other.erase("value");
  refused({{"memory", memory}, {"correct", other}});
}

TEST(MemoryUseCase, ARepeatedFailureIsSaidWithItsCountsAndTwoAreNot) {
  json calls = json::array();
  for (int u = 1; u <= 5; ++u) {
    const std::string serial = "S" + std::to_string(u);
    calls.push_back(repaired_call({.name = "Skarrvik kiosk " + serial,
                                   .serial = serial,
                                   .cause = "evaporator_fan",
                                   .part = "evaporator_fan",
                                   .day = u,
                                   .proved = false}));
    if (u != 2) continue;
    EXPECT_FALSE(says(answered("memory", {{"calls", calls}})["statements"], "cause_repeats"));
  }
  const json answer = answered("memory", {{"calls", calls}});
  EXPECT_TRUE(says(answer["statements"], "cause_repeats"));
  EXPECT_TRUE(says(answer["statements"], "part_repeats"));
  ASSERT_NE(figure(answer, "failure_share"), nullptr);
  EXPECT_GT((*figure(answer, "failure_share"))["value"]["si"].get<double>(), 0.2);
  // The next call of a unit of this model hears of it.
  const json next = repaired_call({.serial = "S9", .day = 25, .proved = false});
  const json expected =
      answered("expect", {{"call", next}, {"population", 20}, {"memory", answer["memory"]}});
  EXPECT_TRUE(says(expected["remarks"], "memory_cause_repeats")) << expected["remarks"].dump(1);
}

TEST(MemoryUseCase, OneUnitCanBeToldAlone) {
  const json memory = answered(
      "memory",
      {{"calls",
        {repaired_call({}), repaired_call({.name = "Skarrvik clinic", .serial = "S2", .td = 1})}}})["memory"];
  const json both = answered("memory", {{"memory", memory}});
  EXPECT_EQ(figure(both, "learned_evaporator_td"), nullptr);
  EXPECT_EQ(both["tables"][0]["key"], "learned");
  const json one = answered("memory", {{"memory", memory}, {"unit", "nordhylla / nk 40 / s2"}});
  ASSERT_NE(figure(one, "learned_evaporator_td"), nullptr);
  EXPECT_EQ((*figure(one, "learned_evaporator_td"))["where"][0]["text"], "Nordhylla / NK 40 / S2");
  refused({{"memory", memory}, {"unit", "Nordhylla / NK 40 / S3"}});
}

TEST(MemoryUseCase, BadInputIsOneClearMessage) {
  const json memory = answered("memory", {{"calls", {repaired_call({.proved = false})}}})["memory"];
  refused({{"calls", 3}});
  refused({{"calls", {3}}});
  refused({{"memory", {{"schema", "call"}}}});
  json later = memory;
  later["format"] = 2;
  EXPECT_NE(refused({{"memory", later}}).find("format 1"), std::string::npos);
  refused({{"memory", memory}, {"forget", {{{"unit", "nobody"}}}}});
  refused({{"memory", memory}, {"forget", {{{"quantity", "superheat"}}}}});
  refused({{"memory", memory}, {"forget", {{{"unit", "a"}, {"model", "b"}}}}});
  refused({{"memory", memory}, {"forget", {"a"}}});
  refused({{"memory", memory}, {"ask_back", {{"unit", "Nordhylla / NK 40 / S1"}}}});
  const json call = repaired_call({});
  refused({{"call", call}, {"memory", later}}, "diagnose");
  refused({{"call", call}, {"memory", "mine"}}, "expect");
}

TEST(MemoryUseCase, DiagnoseAndExpectUseItAndSaySo) {
  const json memory = answered("memory", {{"calls", {repaired_call({.td = 1.6})}}})["memory"];
  const json next = repaired_call({.day = 25, .td = 1.6});
  const json plain = answered("expect", {{"call", next}, {"population", 60}});
  const json known = answered("expect", {{"call", next}, {"population", 60}, {"memory", memory}});
  EXPECT_FALSE(says(plain["remarks"], "memory_unit"));
  EXPECT_TRUE(says(known["remarks"], "memory_unit"));
  const auto width = [](const json& e) {
    for (const json& q : e["set_point"]["quantities"])
      if (q["quantity"] == "evaporator_td")
        return q["interval"]["high"]["si"].get<double>() - q["interval"]["low"]["si"].get<double>();
    ADD_FAILURE() << e["set_point"]["quantities"].dump().substr(0, 300);
    return 0.0;
  };
  EXPECT_LT(width(known), 0.75 * width(plain));
  const json diagnosed = answered("diagnose", {{"call", next}, {"population", 20}, {"memory", memory}});
  EXPECT_TRUE(says(diagnosed["remarks"], "memory_unit"));
  // The call itself is no witness of itself, and a stranger is told that nothing is known.
  const json itself =
      answered("expect", {{"call", repaired_call({.td = 1.6})}, {"population", 60}, {"memory", memory}});
  EXPECT_TRUE(says(itself["remarks"], "memory_silent"));
}

}  // namespace
}  // namespace coldwright::test

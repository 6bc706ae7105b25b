// The use case "proof" as a door asks it: by plain keys, by a call, while the readings come, and when they
// can't be taken.
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

Result<std::string> asked(const json& request) {
  service::Context context;
  context.now_seconds = 1795000000;
  return service::find_use_case("proof")->run(request.dump(), context);
}
json answered(const json& request) {
  const auto text = asked(request);
  EXPECT_TRUE(text) << (text ? "" : to_text(text.problem()));
  return text ? json::parse(*text) : json::object();
}
std::string refused(const json& request) {
  const auto text = asked(request);
  EXPECT_FALSE(text) << *text;
  if (text) return {};
  coldwright::tests::expect_said_everywhere(text.problem());
  return to_text(text.problem());
}
bool says(const json& answer, const std::string& key) {
  return std::any_of(answer["statements"].begin(), answer["statements"].end(),
                     [&](const json& s) { return s["key"] == key; });
}
const json* figure(const json& answer, const std::string& key) {
  for (const json& f : answer["figures"])
    if (f["key"] == key) return &f;
  return nullptr;
}

json plain() {
  return {{"cabinet", "reach_in_cooler"},
          {"refrigerant", "R290"},
          {"charge", "110 g"},
          {"rated_current", "2.5 A"},
          {"rated_voltage", "115 V"},
          {"t", "81 F"},
          {"box", "70 F"}};
}
json with_readings(std::vector<double> box) {
  json request = plain();
  for (std::size_t i = 0; i < box.size(); ++i)
    request["readings"].push_back(
        {{"after", std::to_string(10 * i) + " min"}, {"box", std::to_string(box[i]) + " F"}});
  return request;
}

TEST(ProofUseCase, ForetellsFromTheStartAlone) {
  const json answer = answered(plain());
  const auto schema = service::bundled_schema("procedure.answer");
  ASSERT_TRUE(schema);
  EXPECT_EQ(coldwright::tests::SchemaCheck(json::parse(*schema))(answer), "");
  EXPECT_EQ(answer["verdict"]["key"], "prediction");
  ASSERT_NE(figure(answer, "pull_down_time"), nullptr);
  EXPECT_EQ(figure(answer, "proof_sound"), nullptr);
  EXPECT_EQ(answer["curves"][0]["lines"][0]["points"].size(), 1u);
  for (const json& f : answer["figures"]) {
    EXPECT_FALSE(f["formula"].get<std::string>().empty());
    EXPECT_FALSE(f["where"].empty());
    EXPECT_FALSE(f["cited"].empty());
  }
}

TEST(ProofUseCase, ReadingsAsTheyComeChangeTheVerdict) {
  json falling = with_readings({70, 61, 54, 49, 45, 41.5});
  falling["readings"][5]["current"] = "2.2 A";
  falling["readings"][5]["pressure"] = "36 psig";
  const json good = answered(falling);
  EXPECT_EQ(good["verdict"]["key"], "sound") << good["verdict"].dump();
  ASSERT_NE(figure(good, "box_mass"), nullptr);
  const json stuck = answered(with_readings({70, 70, 70.5, 70.5, 71, 71}));
  EXPECT_EQ(stuck["verdict"]["key"], "not_sound");
  EXPECT_LT((*figure(stuck, "proof_sound"))["value"]["si"].get<double>(), 0.2);
}

TEST(ProofUseCase, ACallBringsItsReadingsSinceTheRepair) {
  json call = repaired_call({});
  call["entries"].push_back(
      {{"kind", "reading"}, {"what", "shell_temp"}, {"value", "190 F"}, {"at", "2025-11-20T08:31:00+01:00"}});
  for (int i = 0; i < 6; ++i)
    call["entries"].push_back({{"kind", "test_reading"},
                               {"procedure", "proof"},
                               {"run", 1},
                               {"at", "2025-11-20T12:" + std::to_string(10 + 9 * i) + ":00+01:00"},
                               {"box", fahrenheit(294 - 2.9 * i)}});
  const json answer = answered({{"call", call}});
  EXPECT_TRUE(says(answer, "before_repair"));  // the shell's, read before the drier was replaced
  EXPECT_EQ(answer["curves"][0]["lines"][0]["points"].size(), 6u);
  EXPECT_EQ(answer["tables"][0]["rows"].size(), 7u);
  EXPECT_EQ(answer["verdict"]["key"], "sound") << answer["tables"].dump(1);
}

TEST(ProofUseCase, WhatIsAskedBesideACallCountsOrIsRefused) {
  const json call = repaired_call({});
  const json warmer = answered({{"call", call}, {"box", "80 F"}, {"set_point", "50 F"}, {"t", "70 F"}});
  const json& where = warmer["figures"][0]["where"];
  EXPECT_EQ(where[0]["text"], "80.0 °F");
  EXPECT_EQ(where[1]["text"], "50.0 °F");
  EXPECT_EQ(where[2]["text"], "70.0 °F");
  answered({{"call", call}, {"charge", "110 g"}});
  EXPECT_NE(refused({{"call", call}, {"charge", "90 g"}}).find("a plate says one thing"), std::string::npos);
}

TEST(ProofUseCase, AnOldCurrentSaysNothingOfTheMoment) {
  json request = with_readings({70, 61, 54, 49, 45, 41.5});
  request["readings"][1]["current"] = "2.2 A";
  const json answer = answered(request);
  EXPECT_TRUE(says(answer, "too_old"));
  EXPECT_TRUE(answer["tables"][0]["key"] != "final_state");
}

TEST(ProofUseCase, WhatCantBeTakenIsRefused) {
  json request = plain();
  request.erase("cabinet");
  refused(request);
  request = plain();
  request.erase("box");
  EXPECT_NE(refused(request).find("begins somewhere"), std::string::npos);
  request = with_readings({70, 61, 54});
  std::swap(request["readings"][1], request["readings"][2]);
  EXPECT_NE(refused(request).find("asked about"), std::string::npos);
  request = with_readings({70, 61});
  request["readings"][1].erase("box");
  refused(request);
  EXPECT_NE(refused(with_readings({37, 37})).find("nothing coming down"), std::string::npos);
  EXPECT_NE(refused(with_readings({700, 60})).find("-43 to 57 C"), std::string::npos);
  request = plain();
  request["product"] = "-3 lb";
  refused(request);
  request = plain();
  request["memory"] = {{"schema", "else"}};
  refused(request);
}

}  // namespace
}  // namespace coldwright::test

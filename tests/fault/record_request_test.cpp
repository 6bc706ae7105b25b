// Requests of "record" that a door might get wrong, and answers given that belong elsewhere.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "service/use_cases.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

const json kCall = {{"call", "Skarrvik kiosk"}, {"entries", {{{"kind", "work"}, {"text", "Cleaned."}}}}};

Result<std::string> record(const json& request) {
  Context context;
  context.now_seconds = 1800000000;
  return find_use_case("record")->run(request.dump(), context);
}

void refused(const json& request, const std::string& field) {
  const auto out = record(request);
  ASSERT_FALSE(out) << request.dump();
  EXPECT_EQ(out.problem().field, field) << to_text(out.problem());
  EXPECT_FALSE(out.problem().allowed.empty());
  EXPECT_FALSE(out.problem().why.empty());
}

TEST(RecordRequest, NamesWhatIsWrong) {
  refused({{"call", kCall}}, "for");
  refused({{"call", kCall}, {"for", "boss"}}, "for");
  refused({{"call", kCall}, {"for", "shop"}, {"paper", "a3"}}, "paper");
  refused({{"for", "shop"}}, "call");
  refused({{"for", "shop"}, {"call", kCall}, {"call_text", "{}"}}, "call");
  refused({{"for", "shop"}, {"call", kCall}, {"shop", "us"}}, "shop");
  refused({{"for", "shop"}, {"call", kCall}, {"proofs", json::object()}}, "proofs");
  refused({{"for", "shop"}, {"call", kCall}, {"proofs", {{{"verdict", "good"}}}}}, "proofs");
  EXPECT_FALSE(record({{"for", "shop"}, {"call", kCall}, {"colour", "red"}}));
}

TEST(RecordRequest, ADiagnosisOfAnotherMachineIsRefused) {
  json call = kCall;
  call["entries"].push_back({{"kind", "nameplate"}, {"cabinet", "reach_in_cooler"}});
  const json diagnosis = {{"about", {{"program", "coldwright"}}},
                          {"call", {{"name", "another"}}},
                          {"causes", {{{"cause", "low_charge"}, {"probability", 1.0}}}}};
  refused({{"for", "shop"}, {"call", call}, {"diagnosis", diagnosis}}, "diagnosis");
  refused({{"for", "shop"}, {"call", call}, {"diagnosis", json::object()}}, "diagnosis");
}

TEST(RecordRequest, GivenAnswersWithHolesStopNothing) {
  json call = kCall;
  call["entries"].push_back({{"kind", "nameplate"}, {"cabinet", "reach_in_cooler"}});
  const json diagnosis = {{"about", {{"program", "coldwright"}, {"seed", "x"}, {"references", 4}}},
                          {"call", {{"name", "Skarrvik kiosk"}}},
                          {"causes", {{{"cause", 7}}, "what", {{"probability", 2.5}, {"label", "<mark>"}}}},
                          {"reasons", "none"},
                          {"evidence", {1, 2}},
                          {"unseen", {{{"interval", 3}}}}};
  const json proofs = {
      {{"procedure", "tightness"}, {"figures", {1, {{"where", 2}, {"cited", {3}}}}}, {"curves", {7}}},
      {{"procedure", "<u>"}, {"figures", nullptr}}};
  const auto out =
      record({{"for", "customer"}, {"call", call}, {"diagnosis", diagnosis}, {"proofs", proofs}});
  ASSERT_TRUE(out) << to_text(out.problem());
  const json answer = json::parse(*out);
  EXPECT_EQ(answer["data"]["tests"].size(), 2u);
  EXPECT_EQ(answer["html"].get<std::string>().find("<mark>"), std::string::npos);
  EXPECT_EQ(answer["html"].get<std::string>().find("<u>"), std::string::npos);
}

TEST(RecordRequest, ControlCharactersDoNotReachThePage) {
  const auto out =
      record({{"for", "customer"},
              {"call", kCall},
              {"shop", {{"name", std::string("A\x01\x02") + "B\xEF\xBF\xBF"}, {"address", "<&>\x7f"}}}});
  ASSERT_TRUE(out) << to_text(out.problem());
  const std::string html = json::parse(*out)["html"];
  for (const char c : html) EXPECT_TRUE(static_cast<unsigned char>(c) >= 0x20 || c == '\n');
  EXPECT_EQ(html.find("\xEF\xBF\xBF"), std::string::npos);
  EXPECT_NE(html.find("A  B"), std::string::npos);
  EXPECT_NE(html.find("&lt;&amp;&gt;"), std::string::npos);
}

TEST(RecordRequest, TheSameRequestGivesTheSameBytes) {
  const json request = {{"for", "customer"}, {"call", kCall}};
  EXPECT_EQ(*record(request), *record(request));
}

}  // namespace
}  // namespace coldwright::service

// What a call says of its repair: read, refused with the field and the reason, folded; and opened into the
// request of a procedure.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "call_words.hpp"
#include "calls/repair.hpp"
#include "contract/spoken.hpp"
#include "service/formulas.hpp"
#include "service/from_call.hpp"
#include "service/test_readings.hpp"
#include "service/wording.hpp"

namespace coldwright {
namespace {

using nlohmann::json;

json call_with(std::vector<json> entries) { return {{"call", "Skarrvik"}, {"entries", std::move(entries)}}; }

calls::Repair repaired(std::vector<json> entries) {
  const auto call = calls::read_call(call_with(std::move(entries)).dump());
  EXPECT_TRUE(call) << to_text(call.problem());
  return call ? calls::repair_of(*call) : calls::Repair{};
}

Problem refused(const json& entry) {
  const auto call = calls::read_call(call_with({entry}).dump());
  EXPECT_FALSE(call) << entry.dump();
  if (call) return {};
  tests::expect_said_everywhere(call.problem());
  return call.problem();
}

constexpr const char* kNine = "2026-11-20T09:00:00Z";
constexpr const char* kTen = "2026-11-20T10:00:00Z";

TEST(RepairEntries, StandInTheOrderOfTimeWithoutWhatWasReplaced) {
  const calls::Repair r =
      repaired({{{"kind", "step"}, {"step", "tightness"}, {"state", "done"}, {"at", kTen}},
                {{"kind", "step"},
                 {"step", "tightness"},
                 {"state", "skipped"},
                 {"reason", "no nitrogen here"},
                 {"at", kNine}},
                {{"kind", "work"}, {"id", "slip"}, {"text", "replaced the fan"}},
                {{"kind", "work"}, {"replaces", "slip"}, {"text", "replaced the drier"}},
                {{"kind", "order"}, {"steps", {"rise", "evacuation"}}}});
  ASSERT_EQ(r.steps.size(), 1U);
  EXPECT_EQ(r.steps[0].body.state, calls::StepEntry::State::done);
  ASSERT_EQ(r.work.size(), 1U);
  EXPECT_EQ(r.work[0].body.text, "replaced the drier");
  EXPECT_EQ(r.order, (std::vector<std::string>{"rise", "evacuation"}));
}

TEST(RepairEntries, AScaleSaysWhatWentInAndOut) {
  const calls::Repair r = repaired(
      {{{"kind", "refrigerant_moved"},
        {"movement", "charged"},
        {"before", "812 g"},
        {"after", "700 g"},
        {"cylinder", "K-7"}},
       {{"kind", "refrigerant_moved"}, {"movement", "recovered"}, {"before", "500 g"}, {"after", "561 g"}},
       {{"kind", "refrigerant_moved"}, {"movement", "lost"}, {"mass", "2 g"}}});
  ASSERT_EQ(r.moved.size(), 3U);
  EXPECT_NEAR(r.moved[0].body.mass, 0.112, 1e-12);
  EXPECT_NEAR(r.moved[1].body.mass, 0.061, 1e-12);
  EXPECT_NEAR(r.moved[2].body.mass, 0.002, 1e-12);
}

TEST(RepairEntries, AreRefusedWithTheFieldAndTheReason) {
  EXPECT_EQ(refused({{"kind", "step"}, {"step", "rise"}, {"state", "skipped"}}).field,
            "entry 1 (step), reason");
  EXPECT_EQ(refused({{"kind", "step"}, {"step", "rise"}, {"state", "finished"}}).field,
            "entry 1 (step), state");
  EXPECT_EQ(refused({{"kind", "procedure"}, {"procedure", "rise"}}).field, "entry 1 (procedure), with");
  EXPECT_EQ(
      refused({{"kind", "procedure"}, {"procedure", "rise"}, {"run", 0}, {"with", json::object()}}).field,
      "entry 1 (procedure), run");
  EXPECT_EQ(refused({{"kind", "test_reading"}, {"procedure", "rise"}, {"pressure", "500 micron"}}).field,
            "entry 1 (test_reading), at");
  EXPECT_EQ(refused({{"kind", "test_reading"}, {"procedure", "rise"}, {"at", kNine}}).given, "no reading");
  const Problem lighter = refused(
      {{"kind", "refrigerant_moved"}, {"movement", "charged"}, {"before", "700 g"}, {"after", "812 g"}});
  EXPECT_EQ(lighter.why, "a cylinder gets lighter when it gives");
  EXPECT_EQ(refused({{"kind", "refrigerant_moved"}, {"movement", "charged"}}).given, "nothing");
  EXPECT_EQ(
      refused({{"kind", "signature"}, {"role", "customer"}, {"name", "Ebba"}, {"path", "<script>"}}).field,
      "entry 1 (signature), path");
  EXPECT_EQ(
      refused({{"kind", "signature"}, {"role", "customer"}, {"name", "Ebba"}, {"path", "M0 0L9 9"}}).field,
      "entry 1 (signature), width");
  EXPECT_EQ(refused({{"kind", "product_temperature"}, {"value", "41 F"}}).field,
            "entry 1 (product_temperature), at");
}

TEST(RepairEntries, OpenIntoTheRequestOfAProcedure) {
  const json call = call_with(
      {{{"kind", "nameplate"}, {"cabinet", "reach_in_cooler"}, {"refrigerant", "R290"}, {"charge", "100 g"}},
       {{"kind", "site"}, {"ambient", "75 F"}, {"altitude", "5000 ft"}},
       {{"kind", "procedure"}, {"procedure", "tightness"}, {"with", {{"volume", "1 L"}, {"hold", "30 min"}}}},
       {{"kind", "procedure"}, {"procedure", "tightness"}, {"run", 2}, {"with", {{"volume", "2 L"}}}},
       {{"kind", "test_reading"}, {"procedure", "tightness"}, {"at", kTen}, {"pressure", "149 psig"}},
       {{"kind", "test_reading"}, {"procedure", "tightness"}, {"at", kNine}, {"pressure", "150 psig"}},
       {{"kind", "test_reading"}, {"procedure", "rise"}, {"at", kNine}, {"pressure", "500 micron"}}});
  const auto text = service::opened(json{{"call", call}, {"hold", "1 h"}}.dump(), "tightness",
                                    {"refrigerant", "volume", "hold", "t", "altitude", "readings"});
  ASSERT_TRUE(text) << to_text(text.problem());
  const json request = json::parse(*text);
  EXPECT_EQ(request["refrigerant"], "R290");
  EXPECT_EQ(request["volume"], "1 L");
  EXPECT_EQ(request["hold"], "1 h");  // what the request says stands
  EXPECT_EQ(request["t"], "75 F");
  EXPECT_FALSE(request.contains("charge"));
  ASSERT_EQ(request["readings"].size(), 2U);
  EXPECT_EQ(request["readings"][0]["pressure"], "150 psig");
}

std::vector<service::TestReading> read(const json& readings, Problem* problem) {
  auto request = service::Request::read(json{{"readings", readings}}.dump(), {"readings"});
  std::optional<base::UnitSystem> spoken;
  auto out = service::test_readings(*request, base::sea_level, {"pressure"}, spoken);
  if (request->problem()) {
    *problem = *request->problem();
    tests::expect_said_everywhere(*problem);
  }
  return out;
}

TEST(TestReadings, CountFromTheFirstByTheClockAndFromTheStartBySaying) {
  Problem problem;
  const auto by_clock =
      read({{{"at", kNine}, {"pressure", "500 micron"}}, {{"at", kTen}, {"pressure", "0.9 mbar"}}}, &problem);
  ASSERT_EQ(by_clock.size(), 2U) << to_text(problem);
  EXPECT_EQ(by_clock[0].seconds, 0);
  EXPECT_EQ(by_clock[1].seconds, 3600);
  EXPECT_NEAR(*by_clock[1].pressure, 90, 1e-9);
  const auto by_hand = read({{{"after", "5 min"}, {"pressure", "500 micron"}}}, &problem);
  ASSERT_EQ(by_hand.size(), 1U);
  EXPECT_EQ(by_hand[0].seconds, 300);
}

TEST(TestReadings, AreAskedAboutAndNeverSortedOrDropped) {
  Problem problem;
  EXPECT_TRUE(read({{{"after", "5 min"}, {"pressure", "500 micron"}},
                    {{"after", "4 min"}, {"pressure", "600 micron"}}},
                   &problem)
                  .empty());
  EXPECT_EQ(problem.given, "\"4 min\" after \"5 min\"");
  EXPECT_TRUE(read({{{"after", "5 min"}, {"pressure", "500 micron"}},
                    {{"after", "5 min"}, {"pressure", "600 micron"}}},
                   &problem)
                  .empty());
  EXPECT_TRUE(read({{{"after", "5 min"}}}, &problem).empty());
  EXPECT_EQ(problem.field, "reading 1, pressure");
  EXPECT_TRUE(
      read({{{"after", "5 min"}, {"pressure", "500 micron"}}, {{"at", kNine}, {"pressure", "600 micron"}}},
           &problem)
          .empty());
  EXPECT_EQ(problem.why, "nothing says how they go together");
  EXPECT_TRUE(read({{{"after", "5 min"}, {"presure", "500 micron"}}}, &problem).empty());
  EXPECT_EQ(problem.given, "the key \"presure\"");
}

TEST(Formulas, EachHasABasisALabelAndSourcesThatExist) {
  const auto wording = service::Wording::load("en");
  ASSERT_TRUE(wording);
  for (const std::string& key : service::formula_keys()) {
    const auto formula = service::formula_of(key);
    ASSERT_TRUE(formula) << key << " " << to_text(formula.problem());
    EXPECT_TRUE(wording->has("figures", key)) << key;
    EXPECT_EQ(formula->text.empty(), wording->has("formulas", key)) << key;  // the one or the other
    EXPECT_TRUE(wording->has("bases", formula->basis)) << key;
    for (const auto& [input, symbol] : formula->symbols)
      EXPECT_TRUE(wording->has("inputs", input)) << key << " " << input;
    const std::string bib(service::embedded("references.bib").value_or(""));
    for (const std::string& cited : formula->cited)
      EXPECT_NE(bib.find("{" + cited + ","), std::string::npos) << key << " cites " << cited;
  }
}

}  // namespace
}  // namespace coldwright

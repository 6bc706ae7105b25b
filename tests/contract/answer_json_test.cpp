// JSON answers against their schemas, and the wording they carry.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iterator>

#include "contract/made_answer.hpp"
#include "contract/schema_check.hpp"
#include "service/about.hpp"
#include "service/cautions.hpp"
#include "service/diagnosis_json.hpp"
#include "service/embedded.hpp"
#include "service/knowledge_loader.hpp"
#include "service/use_cases.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;
using tests::made_answer;
using tests::made_case;
using tests::made_expectation;

tests::SchemaCheck schema(const std::string& name) {
  const auto text = bundled_schema(name);
  EXPECT_TRUE(text) << name;
  return tests::SchemaCheck(json::parse(text ? *text : "{}"));
}

std::string run(const std::string& name, const json& request) {
  Context context;
  context.now_seconds = 1763640000;
  const auto answer = find_use_case(name)->run(request.dump(), context);
  return answer ? *answer : "problem: " + to_text(answer.problem());
}

TEST(Schemas, StandAloneAndEachUseCaseHasBoth) {
  for (const UseCase& use_case : use_cases())
    for (const auto name : {use_case.request_schema, use_case.answer_schema}) {
      const auto text = bundled_schema(name);
      ASSERT_TRUE(text) << name;
      const json parsed = json::parse(*text);
      EXPECT_EQ(parsed["$schema"], "https://json-schema.org/draft/2020-12/schema") << name;
    }
  EXPECT_FALSE(bundled_schema("common"));
  EXPECT_FALSE(bundled_schema("../causes"));
}

TEST(Schemas, HoldForAMadeDiagnosisAndExpectation) {
  for (const auto system : {base::UnitSystem::us, base::UnitSystem::metric}) {
    EXPECT_EQ(schema("diagnose.answer")(diagnosis_json(made_case(system), made_answer())), "");
    EXPECT_EQ(schema("expect.answer")(expectation_json(made_case(system), made_expectation())), "");
  }
}

TEST(Schemas, HoldForTheOtherUseCases) {
  const json saturation = {{"refrigerant", "R290"}, {"at", {"22F", "41 psig"}}, {"altitude", "5000 ft"}};
  EXPECT_EQ(schema("saturation.request")(saturation), "");
  EXPECT_EQ(schema("saturation.answer")(json::parse(run("saturation", saturation))), "");
  for (const json& more :
       {json{{"t", "60F"}, {"p", "41psig"}}, json{{"p", "2 barg"}, {"quality", "30 %"}},
        json{{"t", "20C"}, {"p", "20 barg"}}, json{{"t", "200C"}, {"p", "50 barg"}},
        json{{"p", "41psig"}, {"h", "260 Btu/lb"}}, json{{"p", "41psig"}, {"s", "0.6 Btu/lb/F"}},
        json{{"t", "60F"}, {"density", "8 kg/m3"}}}) {
    json request = more;
    request["refrigerant"] = "R290";
    EXPECT_EQ(schema("state.request")(request), "");
    const std::string answer = run("state", request);
    ASSERT_EQ(answer.front(), '{') << answer;
    EXPECT_EQ(schema("state.answer")(json::parse(answer)), "") << answer;
  }
  EXPECT_EQ(schema("example.answer")(json::parse(run("example", json::object()))), "");
  EXPECT_EQ(schema("schema.answer")(json::parse(run("schema", {{"name", "call"}}))), "");
}

TEST(Schemas, TheExampleIsACallAndOneThatFolds) {
  const json call = json::parse(*embedded("examples/call.json"));
  EXPECT_EQ(schema("call")(call), "");
  const auto c = read_call_case(json{{"call", call}}.dump(), Context{1763640000, {}, ""});
  ASSERT_TRUE(c) << to_text(c.problem());
  EXPECT_EQ(c->folded.the_case.readings.size(), 4u);
}

TEST(Schemas, RefuseWhatTheReaderRefuses) {
  EXPECT_NE(schema("call")(
                json::parse(R"({"entries": [{"kind": "reading", "what": "shell_temp", "valeu": "90 F"}]})")),
            "");
  EXPECT_NE(
      schema("call")(json::parse(R"({"entries": [{"kind": "reading", "what": "shell_temp", "value": 90}]})")),
      "");
  EXPECT_EQ(schema("call")(json::parse(R"({"entries": [{"kind": "decay_trace", "samples": [1]}]})")), "");
}

TEST(Answer, SpeaksTheReadersUnits) {
  const json us = diagnosis_json(made_case(base::UnitSystem::us), made_answer());
  EXPECT_EQ(us["evidence"][0]["given"]["text"], "20.1 psig");
  EXPECT_EQ(us["evidence"][0]["expected_if_sound"]["text"], "25.9 to 37.5 psig");
  EXPECT_EQ(us["evidence"][0]["against_sound"], "below");
  EXPECT_EQ(us["causes"][0]["severity_text"], "20 to 45 % of the charge missing");
  EXPECT_EQ(us["unseen"][1]["interval"]["text"], "614 to 955 Btu/h");
  EXPECT_EQ(us["unseen"][2]["interval"]["text"], "150 to 170 W");
  const json metric = diagnosis_json(made_case(base::UnitSystem::metric), made_answer());
  EXPECT_EQ(metric["evidence"][0]["given"]["text"], "1.39 bar(g)");
  EXPECT_EQ(metric["unseen"][0]["interval"]["text"], "8.0 to 18.0 K");
  EXPECT_EQ(metric["causes"][2]["label"], "dirty or blocked condenser together with overcharge");
  EXPECT_NE(metric["about"]["references"][0]["citation"].get<std::string>().find("Propane"),
            std::string::npos);
}

TEST(Answer, PercentagesShowNoMoreThanTheDrawingSupports) {
  EXPECT_EQ(probability_text(0.623, 0.004, {}), "62 %");
  EXPECT_EQ(probability_text(0.623, 0.03, {}), "60 %");
  EXPECT_EQ(probability_text(0.663, 0.03, {}), "65 %");
  EXPECT_EQ(probability_text(0.663, 0.15, {}), "60 %");
  EXPECT_EQ(probability_text(0.004, 0.001, {}), "<1 %");
  EXPECT_EQ(probability_text(0.03, 0.03, {}), "<5 %");
  EXPECT_EQ(probability_text(0.999, 0.0001, {}), ">99 %");
  EXPECT_EQ(probability_text(0.97, 0.03, {}), ">95 %");
}

TEST(Answer, APairShowsBothSeverities) {
  auto answer = made_answer();
  answer.causes[2].severity = diagnosis::Interval{0.3, 0.5, 0.7};
  answer.causes[2].severity_measure = "share_of_air_flow_missing";
  answer.causes[2].severity_2 = diagnosis::Interval{0.2, 0.3, 0.4};
  answer.causes[2].severity_measure_2 = "share_of_charge_in_excess";
  const json out = diagnosis_json(made_case(base::UnitSystem::us), answer);
  EXPECT_EQ(schema("diagnose.answer")(out), "");
  EXPECT_EQ(out["causes"][2]["severity_text"],
            "30 to 70 % of the air flow missing and 20 to 40 % too much charge");
}

TEST(Wording, NothingThatCanBeSaidLacksWords) {
  const auto wording = Wording::load("en");
  ASSERT_TRUE(wording);
  const auto knowledge = load_knowledge();
  ASSERT_TRUE(knowledge);
  const auto need = [&](const char* section, std::string_view key) {
    EXPECT_TRUE(wording->has(section, key)) << "data/wording/en.json lacks " << section << "." << key;
  };
  for (const auto& cause : knowledge->causes) {
    need("causes", cause.id);
    if (cause.measure != "none") need("measures", cause.measure);
  }
  for (const auto& cabinet : knowledge->archetypes) need("cabinets", cabinet.id);
  for (const auto& row : knowledge->observations) {
    need("subjects", row.subject);
    for (const auto& value : row.values) need("values", value);
    if (!row.hazard.empty()) need("hazards", row.hazard);
  }
  for (const char* remark : {"sea_level_assumed", "unknown_kind_kept", "refrigerant_assumed",
                             "site_later_stands", "observation_later_stands", "reading_later_stands"})
    need("statements", remark);
  for (const auto& row : circuit::reading_table()) {
    need("readings", row.id);
    need("places", row.id);
    if (!row.hazard.empty()) need("hazards", row.hazard);
  }
}

TEST(Wording, WhatIsMissingShows) {
  const auto wording = Wording::parse(R"({"statements": {"a": "{x} and {who} and {nobody}"}})");
  ASSERT_TRUE(wording);
  const base::Display display;
  EXPECT_EQ(wording->sentence("statements", {"b", {}, {}}, display), "[no wording for statements.b]");
  EXPECT_EQ(wording->sentence("statements", {"a", {{"x", diagnosis::Unit::current, 1.84}}, {{"who", "Ebba"}}},
                              display),
            "1.84 A and Ebba and [no value for nobody]");
  EXPECT_EQ(wording->severity("odd", {0, 1, 2}, display), "[no wording for measures.odd]");
}

TEST(Wording, APlaceholderSaysWhichWordIsMeant) {
  const auto wording = Wording::load("en");
  ASSERT_TRUE(wording);
  const base::Display display;
  EXPECT_EQ(wording->sentence("statements", {"seen", {}, {{"subject", "condenser_fan"}, {"state", "slow"}}},
                              display),
            "What was seen speaks for it: condenser fan, slow.");
  const auto ranged = Wording::parse(R"({"statements": {"a": "usual {low to high}", "b": "{low to x}"},
      "phrases": {"range": "{low} to {high}"}})");
  const std::vector<diagnosis::Value> ends = {{"low", diagnosis::Unit::current, 1.9},
                                              {"high", diagnosis::Unit::current, 2.4}};
  EXPECT_EQ(ranged->sentence("statements", {"a", ends, {}}, display), "Usual 1.90 to 2.40 A");
  EXPECT_EQ(ranged->sentence("statements", {"b", ends, {}}, display), "[no value for low to x]");
}

TEST(Wording, NeverSaysThatAThingIsSafe) {
  const std::string text(*embedded("wording/en.json"));
  for (const char* word : {"safe", "harmless", "no danger", "no risk"})
    EXPECT_EQ(text.find(word), std::string::npos) << word;
}

TEST(Cautions, AFlammableChargeIsWarnedOfAndTheRestDefers) {
  const json answer = diagnosis_json(made_case(base::UnitSystem::us), made_answer());
  std::vector<std::string> keys;
  for (const json& line : answer["cautions"]) keys.push_back(line["key"]);
  EXPECT_EQ(keys.front(), "caution_flammable");
  EXPECT_EQ(keys.back(), "caution_defer");
  EXPECT_EQ(std::count(keys.begin(), keys.end(), "caution_pressure"), 1);
  EXPECT_EQ(answer["cautions"].dump().find("[no "), std::string::npos);
}

TEST(Cautions, WhatIsNotKnownBurns) {
  EXPECT_TRUE(treat_as_flammable("R290"));
  EXPECT_TRUE(treat_as_flammable("R600a"));
  EXPECT_FALSE(treat_as_flammable("R134a"));
  EXPECT_TRUE(treat_as_flammable("R9999"));
  EXPECT_EQ(call_cautions("R290", true, {}).front().key, "caution_refrigerant_unknown");
}

TEST(About, NamesProgramDataAndCitations) {
  EXPECT_EQ(data_version().size(), 10u);
  EXPECT_EQ(citation("zivi1964, Table 2").find("Zivi (1964), Estimation of steady-state steam void-fraction"),
            0u)
      << citation("zivi1964, Table 2");
  EXPECT_EQ(citation("nobody1900"), "nobody1900");
}

TEST(About, TheVersionIsTheProjects) {
  std::ifstream file(std::string(SOURCE_DIR) + "/CMakeLists.txt");
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  EXPECT_NE(text.find("project(coldwright VERSION " + std::string(program_version)), std::string::npos);
}

}  // namespace
}  // namespace coldwright::service

// A practice call as its doors see it: it replays, costs add up, the truth stays hidden until it is decided,
// and the debrief judges and explains in three languages.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "contract/schema_check.hpp"
#include "contract/spoken.hpp"
#include "practice/judge.hpp"
#include "service/knowledge_loader.hpp"
#include "service/practice_records.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/use_cases.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

Context in(const char* language = "en") {
  Context context;
  context.now_seconds = 1795000000;
  context.language = language;
  context.units = "metric";
  return context;
}

Result<std::string> asked(const char* name, const json& request, const char* language = "en") {
  return find_use_case(name)->run(request.dump(), in(language));
}

json answer(const char* name, const json& request, const char* language = "en") {
  const auto text = asked(name, request, language);
  EXPECT_TRUE(text) << name << request << to_text(text.problem());
  return text ? json::parse(*text) : json::object();
}

Problem refused(const char* name, const json& request) {
  const auto text = asked(name, request);
  EXPECT_FALSE(text) << name << request;
  return text ? Problem{} : text.problem();
}

json with(json request, const char* key, const json& value) {
  request[key] = value;
  return request;
}

const json kWalk = {"compressor", "condenser_face", "compressor_current", "suction_pressure"};
const json kSteps = {{"seed", 1}, {"level", "first"}, {"actions", kWalk}};

/// What it really is, as no door says before the decision.
std::string truth_of(std::uint64_t seed, practice::Level level) {
  const auto knowledge = load_knowledge();
  const std::string kind = practice::kind_drawn(seed, level, *knowledge);
  std::string refrigerant;
  for (const auto& a : knowledge->archetypes)
    if (a.id == kind) refrigerant = a.refrigerant;
  const auto fluid = std::make_shared<const circuit::WorkingFluid>(
      circuit::WorkingFluid::make(load_fluid(refrigerant).value()).value());
  return practice::draw_visit(seed, level, kind, fluid, *knowledge).value().truth.id;
}

TEST(Practice, TheSameRequestGivesTheSameBitsAndAnotherSeedAnotherMachine) {
  for (const char* name : {"practice_step", "practice_debrief"}) {
    json request = kSteps;
    if (std::string(name) == "practice_debrief")
      request = with(with(request, "decision", "sound"), "population", 10);
    EXPECT_EQ(*asked(name, request), *asked(name, request)) << name;
  }
  EXPECT_NE(answer("practice_call", {{"seed", 1}})["plate"], answer("practice_call", {{"seed", 2}})["plate"]);
}

TEST(Practice, AStepShowsTheSameWhateverIsDoneAfterIt) {
  const json all = answer("practice_step", kSteps)["steps"];
  ASSERT_EQ(all.size(), kWalk.size());
  for (std::size_t n = 1; n <= kWalk.size(); ++n) {
    json some = json::array();
    for (std::size_t i = 0; i < n; ++i) some.push_back(kWalk[i]);
    EXPECT_EQ(answer("practice_step", with(kSteps, "actions", some))["steps"].back(), all[n - 1]);
  }
}

TEST(Practice, NothingTellsTheTruthBeforeTheDecision) {
  for (const char* level : {"first", "working_day", "hard"}) {
    for (int seed = 1; seed <= 6; ++seed) {
      const json machine = {{"seed", seed}, {"level", level}};
      const std::string truth =
          truth_of(static_cast<std::uint64_t>(seed), practice::level_from(level).value());
      json call = answer("practice_call", machine);
      // The list to choose from has every cause of the cabinet, whatever is wrong.
      std::set<std::string> listed;
      for (const json& cause : call["causes"]) listed.insert(cause["word"]);
      EXPECT_GE(listed.size(), 16U);
      call.erase("causes");
      json step = answer("practice_step", with(machine, "actions", kWalk));
      // Names of things to look at may be names of causes too (condenser_fan): those stand for every machine.
      for (json* shown : {&call, &step}) {
        for (json& offer : (*shown)["offers"]) offer = {{"minutes", offer["minutes"]}};
        const std::string text = shown->dump();
        for (const std::string& cause : listed) {
          EXPECT_EQ(text.find("\"" + cause + "\""), std::string::npos) << truth << " " << cause;
        }
        for (const char* word : {"truth", "severity", "decision", "probability"})
          EXPECT_EQ(text.find(word), std::string::npos) << word;
      }
    }
  }
}

TEST(Practice, TheFirstSightDoesNotDependOnWhatIsWrong) {
  // Same customer words over machines with different causes: they come from the seed apart from the cause.
  std::set<std::string> said, causes;
  for (int seed = 1; seed <= 30; ++seed) {
    const json machine = {{"seed", seed}, {"level", "first"}};
    const json call = answer("practice_call", machine);
    if (!said.empty() && !said.contains(call["customer"]["said"])) continue;
    said.insert(call["customer"]["said"].get<std::string>());
    causes.insert(truth_of(static_cast<std::uint64_t>(seed), practice::Level::first));
  }
  EXPECT_EQ(said.size(), 1U);
  EXPECT_GE(causes.size(), 3U);
}

TEST(Practice, MinutesGramsAndOpeningsAddUp) {
  const json call = answer("practice_call", {{"seed", 1}});
  const json step = answer("practice_step", kSteps);
  double minutes = 0, grams = 0;
  bool opened = false;
  for (std::size_t i = 0; i < kWalk.size(); ++i) {
    for (const json& offer : call["offers"]) {
      if (offer["action"] != kWalk[i]) continue;
      minutes += offer["minutes"]["si"].get<double>();
      grams += offer["grams_lost"].get<double>();
      opened |= offer["opens_circuit"].get<bool>();
    }
    EXPECT_DOUBLE_EQ(step["steps"][i]["minutes_used"]["si"].get<double>(), minutes);
  }
  EXPECT_DOUBLE_EQ(step["state"]["minutes"]["si"].get<double>(), minutes);
  EXPECT_NEAR(step["state"]["lost"]["si"].get<double>(), grams / 1000, 1e-12);
  EXPECT_TRUE(opened);
  EXPECT_TRUE(step["state"]["opened"].get<bool>());
  EXPECT_FALSE(call["state"]["opened"].get<bool>());
}

TEST(Practice, AGaugeThatHangsThereIsReadAgainForNothing) {
  const json twice =
      answer("practice_step", with(kSteps, "actions", {"suction_pressure", "suction_pressure"}));
  EXPECT_DOUBLE_EQ(twice["steps"][0]["minutes"]["si"].get<double>(), 15);
  EXPECT_DOUBLE_EQ(twice["steps"][1]["minutes"]["si"].get<double>(), 1);
  EXPECT_NEAR(twice["state"]["lost"]["si"].get<double>(), 1.5e-3, 1e-9);
}

TEST(Practice, ADecisionIsJudgedByWhatItReallyWas) {
  const json machine = {{"seed", 1}, {"level", "first"}, {"actions", {"compressor"}}, {"population", 10}};
  const std::string truth = truth_of(1, practice::Level::first);
  const auto graded = [&](const std::string& decision) {
    return answer("practice_debrief", with(machine, "decision", decision));
  };
  const json right = graded(truth);
  EXPECT_EQ(right["verdict"]["grade"], "right");
  EXPECT_TRUE(right["cost"].is_null());
  EXPECT_TRUE(right["sign"].is_null());
  const std::string other = truth == "low_charge" ? "control" : "low_charge";
  const json wrong = graded(other);
  EXPECT_EQ(wrong["verdict"]["grade"], practice::to_word(practice::grade_of(truth, other)));
  EXPECT_NE(wrong["verdict"]["grade"], "right");
  EXPECT_FALSE(wrong["cost"].is_null());
  EXPECT_FALSE(wrong["sign"]["text"]["text"].get<std::string>().empty());
  // What the machine is and what the diagnosis would have done don't depend on the decision.
  EXPECT_EQ(right["best"], wrong["best"]);
  EXPECT_EQ(right["truth"], wrong["truth"]);
}

TEST(Practice, GradesGoByCauseAndFamily) {
  using practice::Grade;
  using practice::grade_of;
  EXPECT_EQ(grade_of("low_charge", "low_charge"), Grade::right);
  EXPECT_EQ(grade_of("low_charge+dirty_condenser", "dirty_condenser+low_charge"), Grade::right);
  EXPECT_EQ(grade_of("low_charge+dirty_condenser", "low_charge"), Grade::nearly);
  EXPECT_EQ(grade_of("dirty_condenser", "condenser_fan"), Grade::nearly);
  EXPECT_EQ(grade_of("restriction", "low_charge"), Grade::wrong);
  EXPECT_EQ(grade_of("sound", "start_or_winding"), Grade::wrong);
}

TEST(Practice, TheBestWayIsTheDiagnosisOwn) {
  // Its first step is what leads the list at the door, and where the apprentice takes the same steps both
  // ways say the same.
  const json machine = {{"seed", 5}, {"level", "first"}, {"decision", "sound"}, {"population", 16}};
  const json best = answer("practice_debrief", machine)["best"]["steps"];
  ASSERT_FALSE(best.empty());
  json actions = json::array();
  for (const json& step : best) actions.push_back(step["action"]);
  const json both = answer("practice_debrief", with(machine, "actions", actions));
  EXPECT_EQ(both["yours"]["steps"], both["best"]["steps"]);
  EXPECT_TRUE(both["parting"]["step"].is_null());
  double before = 0;
  for (const json& step : best) {
    EXPECT_GE(step["bits"].get<double>(), 0);
    EXPECT_GT(step["minutes_used"]["si"].get<double>(), before);
    before = step["minutes_used"]["si"];
    double sum = 0;
    for (const json& cause : step["leading"]) sum += cause["probability"].get<double>();
    EXPECT_LE(sum, 1 + 1e-9);
  }
}

TEST(Practice, EveryAnswerHoldsItsSchemaInEachLanguage) {
  const json debrief = with(with(kSteps, "decision", "low_charge+restriction"), "population", 10);
  const json wrong_parts = with(with(kSteps, "decision", "worn_valves"), "population", 10);
  for (const auto& [name, request] : std::initializer_list<std::pair<const char*, json>>{
           {"practice_call", {{"seed", 3}, {"level", "hard"}}},
           {"practice_step", kSteps},
           {"practice_debrief", debrief},
           {"practice_debrief", wrong_parts}}) {
    EXPECT_EQ(tests::SchemaCheck(json::parse(*bundled_schema(std::string(name) + ".request")))(request), "");
    for (const char* language : {"en", "es", "fr"}) {
      const auto text = asked(name, request, language);
      ASSERT_TRUE(text) << name << to_text(text.problem());
      EXPECT_EQ(
          tests::SchemaCheck(json::parse(*bundled_schema(std::string(name) + ".answer")))(json::parse(*text)),
          "");
      EXPECT_EQ(text->find("[no "), std::string::npos) << name << language;
    }
  }
}

TEST(Practice, BadInputIsToldPlainly) {
  EXPECT_EQ(refused("practice_call", json::object()).field, "seed");
  EXPECT_EQ(refused("practice_call", {{"seed", -1}}).field, "seed");
  EXPECT_EQ(refused("practice_call", {{"seed", "one"}}).field, "seed");
  EXPECT_EQ(refused("practice_call", {{"seed", 1}, {"level", "easy"}}).field, "level");
  EXPECT_EQ(refused("practice_call", {{"seed", 1}, {"cabinet", "igloo"}}).field, "cabinet");
  EXPECT_EQ(refused("practice_call", {{"recorded", "nowhere"}}).field, "recorded");
  EXPECT_EQ(refused("practice_call", {{"recorded", "nowhere"}, {"seed", 1}}).field, "seed");
  EXPECT_EQ(refused("practice_step", with(kSteps, "actions", {"pray"})).field, "actions");
  EXPECT_EQ(refused("practice_step", with(kSteps, "actions", "compressor")).field, "actions");
  EXPECT_EQ(refused("practice_step", with(kSteps, "actions", {"complaint"})).field, "actions");
  EXPECT_EQ(refused("practice_step", with(kSteps, "decision", "sound")).field, "decision");
  EXPECT_EQ(refused("practice_step", with(kSteps, "actions", json(61, "wait"))).field, "actions");
  EXPECT_EQ(refused("practice_debrief", kSteps).field, "decision");
  EXPECT_EQ(refused("practice_debrief", with(kSteps, "decision", "bad_luck")).field, "decision");
  for (const Problem& problem :
       {refused("practice_call", json::object()), refused("practice_call", {{"seed", 1}, {"level", "easy"}}),
        refused("practice_step", with(kSteps, "actions", {"pray"})),
        refused("practice_step", with(kSteps, "decision", "sound")),
        refused("practice_step", with(kSteps, "actions", json(61, "wait"))),
        refused("practice_debrief", with(kSteps, "decision", "bad_luck"))})
    tests::expect_said_everywhere(problem);
}

TEST(Practice, AStoppedDebriefIsAProblemNotAnAnswer) {
  Context context = in();
  context.progress = [](double) { return false; };
  EXPECT_FALSE(find_use_case("practice_debrief")->run(with(kSteps, "decision", "sound").dump(), context));
}

TEST(PracticeRecords, EachIsACallThatCanBeWalkedAndJudged) {
  const auto ids = practice_record_ids();
  ASSERT_FALSE(ids.empty());
  for (const std::string& id : ids) {
    const json machine = {{"recorded", id}};
    const json call = answer("practice_call", machine);
    EXPECT_EQ(call["recorded"], id);
    const json step =
        answer("practice_step", with(machine, "actions", {"compressor", "wait", "suction_line_temp"}));
    EXPECT_EQ(step["steps"].size(), 3U);
    const auto record = practice_record(id);
    ASSERT_TRUE(record);
    std::string truth;
    for (const auto& fault : record->truth) truth += (truth.empty() ? "" : "+") + fault.cause;
    // A debrief draws machines for seconds: of one in six.
    if ((&id - ids.data()) % 6 != 0) continue;
    const json debrief =
        answer("practice_debrief", {{"recorded", id}, {"decision", truth}, {"population", 10}});
    EXPECT_EQ(debrief["verdict"]["grade"], "right") << id;
  }
}

TEST(PracticeRecords, ADamagedOneNamesItself) {
  EXPECT_FALSE(parse_practice_record("", "a"));
  EXPECT_FALSE(parse_practice_record("{}", "a"));
  const auto ragged = parse_practice_record(
      R"({"level":"hard","seed":1,"cabinet":"reach_in_cooler","refrigerant":"R290","plate":{"charge":0.1,"current":2,
      "voltage":115,"set_point":276},"site_pressure":101325,"standing_pressure":500000,"trips_last_hour":0,
      "truth":[{"cause":"low_charge","severity":0.4}],"columns":["time","box_air"],"rows":[[0,280],[0,281]]})",
      "ragged");
  ASSERT_FALSE(ragged);
  EXPECT_EQ(ragged.problem().field, "practice/ragged.json");
}

}  // namespace
}  // namespace coldwright::service

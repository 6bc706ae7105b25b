// Every text in three languages: the files agree with each other and with the code, every use case answers in
// each, and no problem is told in English to somebody who reads another language.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>

#include "circuit/working_fluid.hpp"
#include "contract/schema_check.hpp"
#include "contract/spoken.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/wording.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

constexpr const char* kLanguages[] = {"en", "es", "fr"};

json file(const std::string& path) { return json::parse(embedded(path).value_or("null"), nullptr, false); }

std::multiset<std::string> placeholders(const std::string& text) {
  static const std::regex pattern("\\{[A-Za-z0-9_ ]+\\}");
  return {std::sregex_token_iterator(text.begin(), text.end(), pattern), std::sregex_token_iterator()};
}

std::string text_of(const json& row) {
  return row.is_object() ? row["text"].get<std::string>() : row.get<std::string>();
}

Result<std::string> answered(const char* name, const json& request, const char* language) {
  Context context;
  context.now_seconds = 1795000000;
  context.language = language;
  return find_use_case(name)->run(request.dump(), context);
}

std::string read(const std::filesystem::path& path) {
  std::ifstream in(path);
  return {std::istreambuf_iterator<char>(in), {}};
}

TEST(Words, HaveTheSameKeysAndPlaceholdersInEveryLanguage) {
  const json english = file("wording/en.json");
  ASSERT_TRUE(english.is_object());
  for (const char* language : {"es", "fr"}) {
    const json other = file(std::string("wording/") + language + ".json");
    ASSERT_TRUE(other.is_object()) << language;
    EXPECT_EQ(english.size(), other.size()) << language;
    for (const auto& [section, rows] : english.items()) {
      if (!rows.is_object()) continue;
      ASSERT_TRUE(other.contains(section)) << language << " " << section;
      EXPECT_EQ(rows.size(), other[section].size()) << language << " " << section;
      for (const auto& [key, row] : rows.items()) {
        ASSERT_TRUE(other[section].contains(key)) << language << " " << section << "." << key;
        const std::string text = text_of(other[section][key]);
        EXPECT_FALSE(text.empty()) << language << " " << section << "." << key;
        EXPECT_EQ(placeholders(text), placeholders(text_of(row))) << language << " " << section << "." << key;
      }
    }
  }
}

TEST(Words, SentencesAreTheSameInBothTranslationsAndKeepTheirValues) {
  const json es = file("wording/sentences/es.json"), fr = file("wording/sentences/fr.json");
  for (const char* section : {"fields", "sentences"}) {
    EXPECT_EQ(es[section].size(), fr[section].size());
    for (const auto& [key, text] : es[section].items()) {
      ASSERT_TRUE(fr[section].contains(key)) << key;
      for (const std::string& said : {text.get<std::string>(), fr[section][key].get<std::string>()}) {
        EXPECT_FALSE(said.empty()) << key;
        EXPECT_EQ(placeholders(said), placeholders(key)) << key;
      }
    }
  }
}

TEST(Words, NeverSayThatAThingIsSafe) {
  for (const char* path :
       {"wording/es.json", "wording/fr.json", "wording/sentences/es.json", "wording/sentences/fr.json"}) {
    const std::string text(embedded(path).value_or(""));
    for (const char* promise : {"es seguro", "sin peligro", "sin riesgo", "a salvo", "sans danger",
                                "sans risque", "en sécurité", "est sûr"})
      EXPECT_EQ(text.find(promise), std::string::npos) << path << ": " << promise;
  }
}

TEST(Words, AnotherLanguageIsRefused) {
  for (const UseCase& use_case : use_cases()) {
    Context context;
    context.language = "tlh";
    const auto answer = use_case.run("{}", context);
    ASSERT_FALSE(answer) << use_case.name;
    EXPECT_EQ(answer.problem().field, "language");
  }
}

TEST(Words, EveryDemoCallIsAnsweredInEachLanguage) {
  int calls = 0;
  for (const auto& entry : std::filesystem::directory_iterator(SOURCE_DIR "/data/demo")) {
    if (entry.path().filename() == "answers.json" || entry.path().extension() != ".json") continue;
    ++calls;
    const json request = {{"call_text", read(entry.path())}, {"population", 10}};
    for (const char* name : {"diagnose", "expect"}) {
      std::set<std::string> said;
      for (const char* language : kLanguages) {
        const auto answer = answered(name, request, language);
        ASSERT_TRUE(answer) << entry.path() << to_text(answer.problem());
        EXPECT_EQ(answer->find("[no "), std::string::npos) << entry.path() << language;
        said.insert(*answer);
      }
      EXPECT_EQ(said.size(), 3U) << entry.path();
    }
  }
  EXPECT_EQ(calls, 6);
}

/// A request for each use case, and where in its answer a text has to differ between languages.
struct Sample {
  const char* name;
  json request;
  const char* differs;  // a JSON pointer; empty where nothing is worded
};
/// Eight cycles, a value a minute, without a heading.
std::string logged() {
  std::string text;
  for (int i = 0; i < 360; ++i)
    text += "2026-03-04 " + std::to_string(10 + i / 60) + ":" + (i % 60 < 10 ? "0" : "") +
            std::to_string(i % 60) + "," + (i % 45 < 16 ? "95" : "1.5") + "\n";
  return text;
}

std::vector<Sample> samples() {
  const json call = {{"call_text", read(SOURCE_DIR "/data/demo/1-bakery-dough-cooler.json")},
                     {"population", 10}};
  const json proof = {{"cabinet", "reach_in_cooler"}, {"box", "70F"}, {"t", "81F"}, {"population", 10}};
  return {{"saturation", {{"refrigerant", "R290"}, {"at", {"22.5F"}}}, "/cautions/0/text"},
          {"state", {{"refrigerant", "R290"}, {"t", "60F"}, {"p", "41psig"}}, "/state/phase_text"},
          {"refrigerant", {{"refrigerant", "R448A"}}, "/safety_class/text"},
          {"refrigerants", json::object(), ""},
          {"leak", {{"refrigerant", "R448A"}}, ""},
          {"chart", call, "/svg"},
          {"card", {{"refrigerants", {"R290"}}, {"step", "20F"}}, "/words/title"},
          {"quantity", {{"kind", "pressure"}, {"text", "-3in"}}, ""},
          {"trace_layout", {{"text", logged()}}, "/questions/0/text"},
          {"trace", {{"files", {{{"name", "a.csv"}, {"text", logged()}}}}}, "/statements/0/text"},
          {"superheat",
           {{"refrigerant", "R448A"}, {"suction_pressure", "41psig"}, {"suction_temperature", "40F"}},
           "/statements/0/text"},
          {"vacuum", {{"pressure", "500 micron"}, {"wall", "60F"}}, "/statements/0/text"},
          {"room", {{"refrigerant", "R290"}, {"charge", "150 g"}, {"area", "12 m2"}}, "/statements/0/text"},
          {"hose", {{"refrigerant", "R290"}, {"charge", "150 g"}}, "/statements/0/text"},
          {"standing",
           {{"refrigerant", "R290"}, {"t", "77F"}, {"pressure", "150psig"}, {"to", "90F"}},
           "/statements/0/text"},
          {"evacuation",
           {{"refrigerant", "R290"},
            {"water", "1 g"},
            {"readings", {{{"after", "5 min"}, {"pressure", "2000 micron"}}}}},
           "/verdict/text"},
          {"rise",
           {{"refrigerant", "R290"},
            {"readings",
             {{{"after", "0 min"}, {"pressure", "500 micron"}},
              {{"after", "5 min"}, {"pressure", "700 micron"}},
              {{"after", "10 min"}, {"pressure", "900 micron"}}}}},
           "/verdict/text"},
          {"charging",
           {{"refrigerant", "R290"},
            {"charge", "120 g"},
            {"cabinet", "reach_in_cooler"},
            {"population", 20},
            {"readings",
             {{{"after", "20 min"}, {"mass", "100 g"}, {"pressure", "32 psig"}, {"current", "2.2 A"}}}}},
           "/verdict/text"},
          {"capillary",
           {{"bore", "0.031 in"}, {"length", "8 ft"}, {"supply", "150 psig"}, {"flow", "3 L/min"}},
           "/verdict/text"},
          {"tube",
           {{"refrigerant", "R290"},
            {"bore", "0.8 mm"},
            {"length", "2.4 m"},
            {"condensing", "42 C"},
            {"evaporating", "-8 C"},
            {"new_bore", "0.9 mm"}},
           "/verdict/text"},
          {"tightness",
           {{"cabinet", "reach_in_cooler"},
            {"low_plate", "170 psig"},
            {"high_plate", "340 psig"},
            {"tracer", "5 %"},
            {"readings",
             {{{"after", "0 min"}, {"pressure", "150.0 psig"}},
              {{"after", "30 min"}, {"pressure", "149.6 psig"}}}}},
           "/verdict/text"},
          {"proof", proof, "/verdict/text"},
          {"memory", {{"calls", {call["call_text"]}}}, "/verdict/text"},
          {"flammable",
           {{"refrigerant", "R290"}, {"charge", "150 g"}, {"volume", "10 m3"}, {"leaves", "released"}},
           "/verdict/text"},
          {"opening", call, "/verdict/text"},
          {"tracer", {{"refrigerant", "R290"}, {"pressure", "145 psig"}, {"volume", "2 L"}}, "/verdict/text"},
          {"bring", call, "/verdict/text"},
          {"worth",
           {{"labour_rate", "95 EUR"},
            {"hours", "3.5 h"},
            {"parts_cost", "180 EUR"},
            {"new_price", "2400 EUR"},
            {"energy_price", "0.28 EUR"},
            {"energy_repaired", "1600 kWh"},
            {"energy_new", "1100 kWh"}},
           "/verdict/text"},
          {"expect", call, "/call/cabinet_label"},
          {"diagnose", call, "/causes/0/label"},
          {"record",
           {{"call_text", read(SOURCE_DIR "/data/examples/finished-call.json")},
            {"for", "shop"},
            {"population", 10}},
           "/title"},
          {"example", json::object(), "/words/cabinets/0/label"},
          {"plan", call, "/steps/0/title"},
          {"practice_call", {{"seed", 1}}, "/customer/said"},
          {"practice_step", {{"seed", 1}, {"actions", {"compressor"}}}, "/steps/0/label"},
          {"practice_debrief",
           {{"seed", 1}, {"actions", {"compressor"}}, {"decision", "low_charge"}, {"population", 10}},
           "/verdict/text/text"},
          {"vocabulary", json::object(), "/observations/0/question"},
          {"schema", json::object(), ""}};
}

TEST(Words, EveryUseCaseAnswersInEachLanguage) {
  std::set<std::string> answered_by;
  for (const Sample& sample : samples()) {
    answered_by.insert(sample.name);
    const auto text = bundled_schema(find_use_case(sample.name)->answer_schema);
    ASSERT_TRUE(text);
    const tests::SchemaCheck schema(json::parse(*text));
    std::set<std::string> said;
    for (const char* language : kLanguages) {
      const auto answer = answered(sample.name, sample.request, language);
      ASSERT_TRUE(answer) << sample.name << ": " << to_text(answer.problem());
      const json parsed = json::parse(*answer);
      EXPECT_EQ(schema(parsed), "") << sample.name << " " << language;
      EXPECT_EQ(answer->find("[no "), std::string::npos) << sample.name << " " << language;
      if (*sample.differs != '\0') said.insert(parsed[json::json_pointer(sample.differs)].get<std::string>());
    }
    EXPECT_EQ(said.size(), *sample.differs == '\0' ? 0U : 3U) << sample.name;
  }
  EXPECT_EQ(answered_by.size(), use_cases().size()) << "a use case has no sample here";
}

TEST(Words, NumbersAreWrittenAsTheLanguageWritesThem) {
  const json request = {{"refrigerant", "R290"}, {"at", {"22.5F"}}};
  const char* wanted[] = {"22.50 °F", "22,50\u00A0°F", "22,50\u202F°F"};
  for (std::size_t i = 0; i < 3; ++i) {
    const auto answer = answered("saturation", request, kLanguages[i]);
    ASSERT_TRUE(answer);
    const json temperature = json::parse(*answer)["rows"][0]["temperature"];
    EXPECT_EQ(temperature["text"], wanted[i]);
    EXPECT_NEAR(temperature["value"].get<double>(), 22.5, 1e-9);
  }
}

TEST(Vocabulary, UnitsCanStandBehindANumberAndRefrigerantsBeUsed) {
  const auto answer = answered("vocabulary", json::object(), "en");
  ASSERT_TRUE(answer);
  const json words = json::parse(*answer);
  for (const json& kind : words["quantities"])
    for (const char* system : {"us", "metric"})
      for (const json& unit : kind["units"][system]) {
        // "psi" alone is no pressure, but it is a difference of two.
        const std::string typed = "20 " + unit.get<std::string>();
        const auto read = kind["word"] == "pressure_difference"
                              ? base::parse_spoken(typed, "value", base::Dimension::pressure_difference)
                              : base::parse_spoken(typed, "value");
        EXPECT_TRUE(read) << kind["word"] << unit;
      }
  const auto is_one_of = [&](const char* list, const json& word) {
    return std::any_of(words[list].begin(), words[list].end(),
                       [&](const json& row) { return row["word"] == word; });
  };
  for (const char* list : {"observations", "readings"})
    for (const json& row : words[list]) EXPECT_TRUE(is_one_of("parts", row["part"])) << row["word"];
  for (const json& row : words["observations"]) EXPECT_TRUE(is_one_of("groups", row["group"])) << row["word"];
  for (const json& row : words["refrigerants"]) {
    const auto fluid = load_fluid(row["word"].get<std::string>());
    ASSERT_TRUE(fluid) << row["word"];
    EXPECT_TRUE(circuit::WorkingFluid::suits(*fluid)) << row["word"];
  }
  for (const json& row : words["cabinets"]) EXPECT_TRUE(is_one_of("refrigerants", row["refrigerant"]));
}

/// What a door can be asked wrongly, one of a kind.
const std::pair<const char*, const char*> kRefused[] = {
    {"saturation", "nonsense"},
    {"saturation", "[]"},
    {"saturation", R"({"refrigerant": "R290", "att": "22F"})"},
    {"saturation", R"({"refrigerant": "R290"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "22"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "22 psi"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "22 W"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "900F"})"},
    {"saturation", R"({"refrigerant": "R448A", "at": "900F"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "9000 psig"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "-40 psig"})"},
    {"saturation", R"({"refrigerant": "R2900", "at": "22F"})"},
    {"saturation", R"({"refrigerant": "xyzzy", "at": "22F"})"},
    {"saturation", R"({"refrigerant": "R1234", "at": "22F"})"},
    {"saturation", R"({"refrigerant": 3, "at": "22F"})"},
    {"saturation", R"({"refrigerant": "R32/R125 50/60", "at": "22F"})"},
    {"saturation", R"({"refrigerant": "R32/R125 50", "at": "22F"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "22F", "altitude": "5000 ft", "barometer": "25 inHg"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "22F", "altitude": "90000 ft"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "22F", "barometer": "3 psig"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "22F", "units": "imperial"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "1,234 psig"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "3 inHg"})"},
    {"saturation", R"({"refrigerant": "R290", "at": "-500F"})"},
    {"saturation", R"({"refrigerant": "R290", "at": ""})"},
    {"state", R"({"refrigerant": "R290", "t": "60F"})"},
    {"state", R"({"refrigerant": "R290", "t": "60F", "h": "200 kJ/kg"})"},
    {"state", R"({"refrigerant": "R290", "t": "60F", "quality": "3"})"},
    {"state", R"({"refrigerant": "R290", "t": "6000F", "p": "41 psig"})"},
    {"state", R"({"refrigerant": "R290", "t": "60F", "density": "9000 kg/m3"})"},
    {"state", R"({"refrigerant": "R448A", "t": "400F", "quality": "0.3"})"},
    {"refrigerant", R"({})"},
    {"refrigerant", R"({"refrigerant": "freeze"})"},
    {"leak", R"({"refrigerant": "R290"})"},
    {"leak", R"({"refrigerant": "R448A", "lost": "200 %"})"},
    {"leak", R"({"refrigerant": "R448A", "from": "gas"})"},
    {"leak", R"({"refrigerant": "R448A", "t": "600F"})"},
    {"chart", R"({"refrigerant": "R290", "diagram": "pie"})"},
    {"chart", R"({"refrigerant": "R290", "low": "30 psig"})"},
    {"chart", R"({"refrigerant": "R290", "low": "30 psig", "high": "20 psig"})"},
    {"chart", R"({"refrigerant": "R290", "low": "30 psig", "evaporating": "20F", "high": "200 psig"})"},
    {"chart", R"({"refrigerant": "R290", "low": "30 psig", "high": "200 psig", "superheat": "900F"})"},
    {"chart", R"({"refrigerant": "R290", "low": "30 psig", "high": "200 psig", "efficiency": "5"})"},
    {"chart", R"({"refrigerant": "R290", "points": "x"})"},
    {"chart", R"({"refrigerant": "R290", "points": [3]})"},
    {"chart", R"({"call": {}, "low": "30 psig"})"},
    {"card", R"({})"},
    {"card", R"({"refrigerants": ["R290", "R290"]})"},
    {"card", R"({"refrigerants": ["R290"], "step": "-1F"})"},
    {"card", R"({"refrigerants": ["R290"], "step": "0.01F"})"},
    {"card", R"({"refrigerants": ["R290"], "from": "60F", "to": "20F"})"},
    {"diagnose", R"({})"},
    {"diagnose", R"({"call_text": 3})"},
    {"diagnose", R"({"call_text": "{"})"},
    {"diagnose", R"({"call_text": "", "seed": -1})"},
    {"diagnose", R"({"call_text": ""})"},
    {"diagnose", R"({"call": {"call": "x", "entries": []}})"},
    {"diagnose", R"({"call": {"call": "x", "entries": [{"kind": "nameplate", "cabinet": "barrel"}]}})"},
    {"diagnose",
     R"({"call": {"call": "x", "entries": [{"kind": "nameplate", "cabinet": "reach_in_cooler", "refrigerant": "R448A"}]}})"},
    {"diagnose",
     R"({"call": {"call": "x", "entries": [{"kind": "nameplate", "cabinet": "reach_in_cooler", "charge": "90 lb"}]}})"},
    {"diagnose",
     R"({"call": {"call": "x", "entries": [{"kind": "nameplate", "cabinet": "reach_in_cooler", "charge": "8 lb"}]}})"},
    {"diagnose",
     R"({"call": {"call": "x", "entries": [{"kind": "nameplate", "cabinet": "reach_in_cooler", "rated_current": "45 A"}]}})"},
    {"diagnose",
     R"({"call": {"call": "x", "entries": [{"kind": "reading", "what": "suction_pressure", "value": "9000 psig"}]}})"},
    {"evacuation", R"({"refrigerant": "R290", "vacuum": "10 micron"})"},
    {"evacuation", R"({"refrigerant": "R290", "vacuum": "20 psia"})"},
    {"evacuation", R"({"refrigerant": "R290", "cores": "half"})"},
    {"evacuation", R"({"refrigerant": "R290", "bore": "9 in"})"},
    {"evacuation", R"({"refrigerant": "R290", "vacuums": "12"})"},
    {"evacuation", R"({"refrigerant": "R290", "break": "300 micron"})"},
    {"evacuation", R"({"refrigerant": "R290", "readings": [{"after": "5 min"}]})"},
    {"rise", R"({"refrigerant": "R290"})"},
    {"rise", R"({"refrigerant": "R290", "readings": [{"after": "5 min", "pressure": "500 micron"}]})"},
    {"rise", R"({"refrigerant": "R290", "readings": [{"after": "5 min", "pressure": "40 psig"}]})"},
    {"rise",
     R"({"refrigerant": "R290", "readings": [{"after": "5 min", "pressure": "500 micron"}, {"after": "5 min", "pressure": "510 micron"}]})"},
    {"rise",
     R"({"refrigerant": "R290", "readings": [{"after": "9 min", "pressure": "500 micron"}, {"after": "5 min", "pressure": "510 micron"}]})"},
    {"charging", R"({"refrigerant": "R290"})"},
    {"charging", R"({"refrigerant": "R290", "charge": "100 g", "stays": "120 g"})"},
    {"charging", R"({"refrigerant": "R290", "charge": "100 g", "before": "5 kg"})"},
    {"charging", R"({"refrigerant": "R290", "charge": "100 g", "before": "5 kg", "after": "5.1 kg"})"},
    {"charging", R"({"refrigerant": "R290", "charge": "100 g", "hose_state": "full"})"},
    {"charging",
     R"({"refrigerant": "R290", "charge": "100 g", "hose_state": "liquid", "before": "5 kg", "after": "4.999 kg"})"},
    {"charging", R"({"refrigerant": "R290", "cabinet": "barrel"})"},
    {"charging",
     R"({"refrigerant": "R290", "cabinet": "reach_in_cooler", "readings": [{"after": "5 min", "pressure": "30 psig"}]})"},
    {"charging",
     R"({"refrigerant": "R290", "cabinet": "reach_in_cooler", "readings": [{"after": "5 min", "mass": "80 g"}, {"after": "9 min", "mass": "70 g"}]})"},
    {"capillary", R"({"bore": "0.8 mm", "length": "2.5 m"})"},
    {"capillary", R"({"supply": "10 barg"})"},
    {"capillary", R"({"cabinet": "barrel", "supply": "10 barg"})"},
    {"capillary", R"({"bore": "0.8 mm", "length": "2.5 m", "supply": "10 barg", "side_plate": "9 barg"})"},
    {"capillary", R"({"bore": "0.8 mm", "length": "2.5 m", "supply": "90 barg"})"},
    {"capillary", R"({"bore": "0.8 mm", "length": "2.5 m", "supply": "10 barg", "flow": "5 g"})"},
    {"capillary", R"({"bore": "0.8 mm", "length": "2.5 m", "supply": "10 barg", "time": "60 s"})"},
    {"capillary",
     R"({"bore": "0.8 mm", "length": "2.5 m", "supply": "10 barg", "time": "60 s", "flow": "5 g/min"})"},
    {"capillary",
     R"({"bore": "0.8 mm", "length": "2.5 m", "supply": "9 barg", "time": "60 s", "volume": "1 L", "fell_to": "9 barg"})"},
    {"tube", R"({"refrigerant": "R290", "bore": "0.8 mm", "condensing": "42 C", "evaporating": "-8 C"})"},
    {"tube", R"({"refrigerant": "R290", "bore": "0.8 mm", "length": "2 m"})"},
    {"tube", R"({"refrigerant": "R290", "condensing": "42 C", "evaporating": "-8 C"})"},
    {"tube",
     R"({"refrigerant": "R290", "bore": "0.8 mm", "length": "2 m", "capacity": "1 W", "condensing": "42 C", "evaporating": "-8 C"})"},
    {"tube", R"({"refrigerant": "R290", "capacity": "9 kW", "condensing": "42 C", "evaporating": "-8 C"})"},
    {"tube",
     R"({"refrigerant": "R290", "bore": "0.8 mm", "length": "2 m", "condensing": "-9 C", "evaporating": "-8 C"})"},
    {"tightness", R"({"refrigerant": "R290", "volume": "2 L"})"},
    {"tightness", R"({"refrigerant": "R290", "volume": "2 L", "wanted_pressure": "10 barg"})"},
    {"tightness",
     R"({"refrigerant": "R290", "wanted_pressure": "5 barg", "low_plate": "9 barg", "high_plate": "9 barg"})"},
    {"tightness", R"({"refrigerant": "R290", "low_connected": "no", "high_connected": "no"})"},
    {"tightness",
     R"({"refrigerant": "R290", "volume": "2 L", "wanted_pressure": "10 barg", "low_plate": "9 barg", "high_plate": "20 barg"})"},
    {"tightness",
     R"({"refrigerant": "R290", "volume": "2 L", "wanted_pressure": "21 barg", "low_plate": "29 barg", "high_plate": "20 barg"})"},
    {"tightness",
     R"({"refrigerant": "R290", "volume": "2 L", "wanted_pressure": "-0.2 barg", "low_plate": "29 barg", "high_plate": "20 barg"})"},
    {"tightness",
     R"({"refrigerant": "R290", "volume": "2 L", "wanted_pressure": "5 barg", "low_plate": "29 barg", "high_plate": "20 barg", "service_pressure": "-0.1 barg"})"},
    {"tightness",
     R"({"refrigerant": "R290", "volume": "2 L", "wanted_pressure": "5 barg", "low_plate": "29 barg", "high_plate": "20 barg", "joined": "capillary"})"},
    {"tightness",
     R"({"refrigerant": "R290", "volume": "2 L", "readings": [{"after": "0 s", "pressure": "5 barg", "temperature": "20 C"}, {"after": "9 s", "pressure": "5 barg"}]})"},
    {"proof", R"({})"},
    {"proof", R"({"cabinet": "reach_in_cooler"})"},
    {"proof", R"({"cabinet": "reach_in_cooler", "readings": [{"after": "1 min"}]})"},
    {"proof", R"({"cabinet": "reach_in_cooler", "readings": [{"after": "1 min", "box": "400 F"}]})"},
    {"proof", R"({"cabinet": "reach_in_cooler", "box": "70F", "memory": {"schema": "memory", "format": 2}})"},
    {"memory", R"({"calls": [3]})"},
    {"memory", R"({"forget": {"unit": "x"}})"},
    {"memory", R"({"ask_back": {"model": "x"}})"},
    {"memory", R"({"correct": {"unit": "x", "quantity": "superheat", "value": "9 F"}})"},
    {"memory", R"({"memory": {"schema": "memory", "format": 1, "calls": 3}})"},
    {"trace_layout", R"({"text": "hello"})"},
    {"trace_layout", R"({})"},
    {"trace", R"({})"},
    {"trace", R"({"files": []})"},
    {"trace", R"({"files": [{"name": "x.csv"}]})"},
    {"trace", R"({"files": [{"name": "x.csv", "text": "hello"}]})"},
    {"trace", R"({"files": [{"name": "x.csv", "text": "a", "layout": {}}]})"},
    {"trace",
     R"({"files": [{"name": "x.csv", "text": "a", "layout": {"separator": "comma", "decimal": "point", "time": {"form": "epoch"}, "columns": [{"what": "power", "unit": "W"}]}}]})"},
    {"schema", R"({"name": "callx"})"},
    {"vocabulary", R"({"x": 1})"},
    {"example", R"({"x": 1})"}};

TEST(Problems, AreToldInTheAskedLanguage) {
  for (const auto& [name, request] : kRefused) {
    std::set<std::string> lines;
    for (const char* language : kLanguages) {
      Context context;
      context.now_seconds = 1795000000;
      context.language = language;
      const auto answer = find_use_case(name)->run(request, context);
      ASSERT_FALSE(answer) << name << " " << request;
      lines.insert(told(answer.problem(), language));
      if (std::string_view(language) == "en") {
        EXPECT_EQ(told(answer.problem(), "en"), to_text(answer.problem()));
        tests::expect_said_everywhere(answer.problem());
      }
    }
    EXPECT_EQ(lines.size(), 3U) << name << " " << request;
  }
  tests::expect_said_everywhere(no_such_use_case("diagnos"));
  tests::expect_said_everywhere(call_file_too_large(900000000));
}

TEST(Problems, WhatSomebodyTypedIsNeverTranslated) {
  const auto sentences = Sentences::load("es");
  ASSERT_TRUE(sentences);
  EXPECT_EQ(sentences->say("\"nothing or 2.5 to 3\""), "\"nothing or 2.5 to 3\"");
  EXPECT_EQ(sentences->say("did you mean \"a blend\"?"), "¿quería decir \"a blend\"?");
}

TEST(Problems, EveryKindOfQuantityIsNamed) {
  for (const base::FieldUnit& unit : base::field_units())
    tests::expect_said_everywhere({"value", std::string(base::spoken_name(unit.dimension)),
                                   std::string(base::allowed_forms(unit.dimension)), ""});
}

/// String literals inside the expression that begins at `open`, neighbours joined.
std::vector<std::string> literals(const std::string& source, std::size_t open, std::size_t& end) {
  std::vector<std::string> out;
  int depth = 0;
  bool joined = false;
  for (end = open; end < source.size(); ++end) {
    const char c = source[end];
    if (c == '"') {
      std::string text;
      for (++end; end < source.size() && source[end] != '"'; ++end) {
        if (source[end] == '\\') ++end;
        text += source[end];
      }
      if (joined && !out.empty())
        out.back() += text;
      else
        out.push_back(text);
      joined = true;
      continue;
    }
    if (!std::isspace(static_cast<unsigned char>(c))) joined = false;
    if (c == '(' || c == '{') ++depth;
    if ((c == ')' || c == '}') && --depth == 0) break;
  }
  return out;
}

TEST(Problems, EverySentenceOfTheSourceIsTranslated) {
  const auto sentences = Sentences::load("es");
  ASSERT_TRUE(sentences);
  const std::vector<std::string> keys = sentences->keys();
  static const std::regex start(
      "\\bProblem\\s*(\\w+\\s*)?\\{|\\b(problem|fail|note|wrong|outside|out_of_range|either|refuse)\\(|"
      "typed\\.problem\\(");
  static const std::regex placeholder("\\{[^}]*\\}");
  int found = 0;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(SOURCE_DIR "/core")) {
    if (entry.path().extension() != ".cpp") continue;
    const std::string source = read(entry.path());
    std::size_t done = 0;
    for (auto at = std::sregex_iterator(source.begin(), source.end(), start); at != std::sregex_iterator();
         ++at) {
      const auto open = static_cast<std::size_t>(at->position() + at->length() - 1);
      if (open < done) continue;
      for (const std::string& literal : literals(source, open, done))
        for (auto piece = std::sregex_token_iterator(literal.begin(), literal.end(), placeholder, -1);
             piece != std::sregex_token_iterator(); ++piece) {
          std::string text = *piece;
          const auto not_in = [&](const std::string& wanted) {
            return std::none_of(keys.begin(), keys.end(), [&](const std::string& key) {
              return key.find(wanted) != std::string::npos;
            });
          };
          while (!text.empty() && std::string(" ,.;:()\"?").find(text.back()) != std::string::npos)
            text.pop_back();
          text.erase(0, std::min(text.find_first_not_of(" ,.;:()\"?"), text.size()));
          // One word may be a key of JSON or a unit; where it is more, the contract above finds it.
          if (text.size() < 6 || text.find(' ') == std::string::npos ||
              text.find_first_of("aeiou") == std::string::npos)
            continue;
          ++found;
          std::vector<std::string> left;
          sentences->field(piece->str(), &left);
          if (tests::untranslated(left).empty()) continue;  // a field of several, a range with its unit
          EXPECT_FALSE(not_in(text)) << entry.path().filename() << ": \"" << text
                                     << "\" stands in no sentence of data/wording/sentences";
        }
    }
  }
  EXPECT_GT(found, 200);
}

}  // namespace
}  // namespace coldwright::service

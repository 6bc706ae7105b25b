// The catalogue: what the project promised to list is there, every value has its source, and whatever a
// person calls a refrigerant finds it.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "base/text.hpp"
#include "contract/schema_check.hpp"
#include "service/catalogue.hpp"
#include "service/cautions.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/use_cases.hpp"

namespace coldwright::tests {
namespace {

using nlohmann::json;
using service::Catalogue;
using service::CatalogueEntry;

const Catalogue& catalogue() {
  static const Result<Catalogue> loaded = Catalogue::load();
  EXPECT_TRUE(loaded) << to_text(loaded.problem());
  return *loaded;
}

json answer(const std::string& use_case, const json& request) {
  const auto text = service::find_use_case(use_case)->run(request.dump(), {});
  EXPECT_TRUE(text) << to_text(text.problem());
  return json::parse(*text);
}

std::vector<std::string> words(const std::string& text) {
  std::istringstream in(text);
  return {std::istream_iterator<std::string>(in), {}};
}

TEST(Catalogue, HoldsWhatWasPromised) {
  for (const std::string& designation : words(
           "R12 R13 R22 R23 R32 R115 R116 R123 R124 R125 R134a R142b R143a R152a R161 R170 R218 R227ea "
           "R236fa "
           "R245fa R290 R600 R600a R601 R601a R717 R718 R744 R1150 R1234yf R1234ze(E) R1233zd(E) R1243zf "
           "R1270 "
           "RE170 R13I1 R41 R14 R1132a R1336mzz(Z) R728 "
           "R401A R402A R402B R403B R404A R406A R407A R407B R407C R407F R407H R408A R409A R410A R410B R413A "
           "R414B R416A R417A R421A R422A R422B R422D R424A R425A R426A R427A R428A R434A R437A R438A R442A "
           "R444A R444B R445A R447A R447B R448A R449A R449B R449C R450A R452A R452B R452C R453A R454A R454B "
           "R454C R455A R456A R457A R458A R459A R460A R460B R463A R464A R465A R466A R468A R469A R470A R471A "
           "R472A R473A R502 R503 R507A R508A R508B R509A R510A R511A R512A R513A R513B R515A R515B R516A"))
    EXPECT_NE(catalogue().entry(designation), nullptr) << designation;
  EXPECT_GT(catalogue().entries().size(), 190u);
}

TEST(Catalogue, FractionsSumToOneAndComponentsArePure) {
  for (const CatalogueEntry& entry : catalogue().entries()) {
    double sum = 0;
    for (const service::CatalogueComponent& part : entry.components) {
      sum += part.mass_fraction;
      const CatalogueEntry* pure = catalogue().entry(part.designation);
      ASSERT_NE(pure, nullptr) << entry.designation << " " << part.designation;
      EXPECT_FALSE(pure->blend) << entry.designation;
      for (const auto& tolerance : {part.tolerance_plus, part.tolerance_minus})
        EXPECT_TRUE(!tolerance || (*tolerance >= 0 && *tolerance <= 0.02)) << entry.designation;
      EXPECT_TRUE(!part.tolerance_plus || entry.tolerance_source) << entry.designation;
    }
    EXPECT_NEAR(sum, 1, 1e-9) << entry.designation;
    EXPECT_EQ(entry.components.size() > 1, entry.blend) << entry.designation;
    EXPECT_EQ(entry.composition_source.has_value(), entry.blend) << entry.designation;
  }
}

std::set<std::string> known_keys() {
  std::ifstream in(std::string(SOURCE_DIR) + "/data/references.bib");
  std::set<std::string> keys;
  for (std::string line; std::getline(in, line);)
    if (line.starts_with("@"))
      keys.insert(line.substr(line.find('{') + 1, line.find(',') - line.find('{') - 1));
  return keys;
}

TEST(Catalogue, EveryValueHasASourceThatIsInTheBibliography) {
  const std::set<std::string> keys = known_keys();
  const auto check = [&](const std::string& where, const std::string& source) {
    ASSERT_FALSE(source.empty()) << where;
    std::istringstream pieces(source);
    for (std::string one; std::getline(pieces, one, ';');) {
      one.erase(0, one.find_first_not_of(' '));
      EXPECT_TRUE(keys.contains(one.substr(0, one.find(',')))) << where << ": " << one;
    }
  };
  for (const CatalogueEntry& entry : catalogue().entries()) {
    if (entry.composition_source) check(entry.designation, *entry.composition_source);
    if (entry.tolerance_source) check(entry.designation, *entry.tolerance_source);
    if (entry.safety_class) {
      check(entry.designation, entry.safety_class->source);
      EXPECT_FALSE(entry.safety_class->edition.empty());
    }
    for (const auto& limit : entry.flammability) check(entry.designation, limit.source);
    for (const auto& figure : entry.warming)
      if (figure) check(entry.designation, figure->source);
    for (const auto& figure : {entry.warming_20_years, entry.ozone_depletion})
      if (figure) check(entry.designation, figure->source);
    EXPECT_EQ(entry.oils.empty(), !entry.oils_source) << entry.designation;
    if (entry.oils_source) check(entry.designation, *entry.oils_source);
  }
}

/// In the file itself: as many sources as values of GWP100, or one for all that are computed.
TEST(Catalogue, NamesOneWorkForEachWarmingFigure) {
  std::ifstream in(std::string(SOURCE_DIR) + "/data/catalogue.json");
  for (const json& entry : json::parse(in)["refrigerants"]) {
    if (entry["GWP100"].is_null()) continue;
    long values = 0;
    for (const char* report : {"AR4", "AR5", "AR6"}) values += entry["GWP100"][report].is_null() ? 0 : 1;
    const std::string source = entry["GWP100"]["source"];
    if (entry["kind"] == "blend")
      EXPECT_TRUE(source.starts_with("computed"));
    else
      EXPECT_EQ(std::count(source.begin(), source.end(), ';') + 1, values) << entry["designation"];
  }
}

TEST(Names, EachFindsItsRefrigerantHoweverItIsTyped) {
  for (const CatalogueEntry& entry : catalogue().entries()) {
    std::vector<std::string> spellings = entry.also_called;
    const std::string& own = entry.designation;
    spellings.insert(spellings.end(), {own, base::lower(own), own.substr(1), "R-" + own.substr(1),
                                       " r " + own.substr(1), "HFC-" + own.substr(1)});
    if (!entry.chemical_name.empty()) spellings.push_back(entry.chemical_name);
    for (const std::string& typed : spellings) {
      const auto found = catalogue().find(typed);
      ASSERT_TRUE(found) << typed << ": " << to_text(found.problem());
      EXPECT_EQ(found->designation, own) << typed;
    }
  }
}

TEST(Names, WhatPeopleType) {
  for (const auto& [typed, meant] : {std::pair<const char*, const char*>{"r-448a", "R448A"},
                                     {"448A", "R448A"},
                                     {"HFO-1234yf", "R1234yf"},
                                     {"R 1234ze", "R1234ze(E)"},
                                     {"1234zeZ", "R1234ze(Z)"},
                                     {"hfo 1233zd", "R1233zd(E)"},
                                     {"propane", "R290"},
                                     {"Propylene", "R1270"},
                                     {"iso-butane", "R600a"},
                                     {"Ammonia", "R717"},
                                     {"NH3", "R717"},
                                     {"NH\u2083", "R717"},
                                     {"CO2", "R744"},
                                     {"CO\u2082", "R744"},
                                     {"carbon dioxide", "R744"},
                                     {"OFN", "R728"},
                                     {"water", "R718"},
                                     {"R\u2011134A", "R134a"},
                                     {"refrigerant 22", "R22"},
                                     {"CFC-12", "R12"},
                                     {"HCFC-142B", "R142b"},
                                     {"R-E170", "RE170"},
                                     {"DME", "RE170"},
                                     {"PFC-C318", "RC318"},
                                     {"404", "R404A"},
                                     {"R507", "R507A"},
                                     {"HCFO-1233zd(E)", "R1233zd(E)"},
                                     {"R-1336mzz(z)", "R1336mzz(Z)"},
                                     {"R13i1", "R13I1"},
                                     {"CF3I", "R13I1"}}) {
    const auto found = catalogue().find(typed);
    ASSERT_TRUE(found) << typed << ": " << to_text(found.problem());
    EXPECT_EQ(found->designation, meant) << typed;
  }
}

/// What a file of equations calls its refrigerant is a name of the catalogue too.
TEST(Names, OfTheEquationsFilesAreKnown) {
  for (const std::string& designation : service::known_refrigerants()) {
    std::ifstream in(std::string(SOURCE_DIR) + "/data/refrigerants/" + designation + ".json");
    const json file = json::parse(in);
    std::vector<std::string> names = file.value("also_called", std::vector<std::string>());
    names.insert(names.end(), {designation, file["name"]});
    for (const std::string& name : names) {
      const auto found = catalogue().find(name);
      ASSERT_TRUE(found) << designation << ": " << name;
      EXPECT_EQ(found->designation, designation) << name;
    }
  }
}

TEST(Compositions, OfEveryBlendAreRecognisedAndWeighTheSame) {
  for (const CatalogueEntry& entry : catalogue().entries()) {
    if (!entry.blend) continue;
    const json sheet = answer("refrigerant", {{"refrigerant", composition_text(entry)}});
    EXPECT_EQ(sheet["kind"], "composition");
    EXPECT_EQ(sheet["same_as"], entry.designation);
    EXPECT_TRUE(sheet["safety_class"].is_null()) << "nobody classified what was typed";
    for (const std::size_t i : {0u, 1u, 2u}) {
      const json& figure = sheet["warming"][i]["figure"];
      ASSERT_EQ(figure.is_null(), !entry.warming[i]) << entry.designation;
      if (figure.is_null()) continue;
      EXPECT_NEAR(figure["value"]["si"].get<double>(), entry.warming[i]->value, 0.0501) << entry.designation;
      EXPECT_EQ(figure["recalled"], entry.warming[i]->recalled) << entry.designation;
      EXPECT_EQ(figure["counted_as_zero"].size(), entry.warming[i]->counted_as_zero.size());
    }
  }
}

TEST(Compositions, AreTakenInTheFormsOfTheTrade) {
  const auto& names = catalogue().designations();
  for (const char* typed : {"R32/R125/R134a 23/25/52", "R-32/125/134a (23.0/25.0/52.0)",
                            "32/125/134a 23 / 25 / 52 %", "HFC-32 / HFC-125 / HFC-134a  (23,0/25,0/52,0)",
                            "R32/R125/R134a(23/25/52)", "R32/R125/R134a 23.03/25/52"}) {
    const auto shares = fluids::parse_composition(typed, names);
    ASSERT_TRUE(shares) << typed << ": " << to_text(shares.problem());
    ASSERT_EQ(shares->size(), 3u);
    EXPECT_EQ((*shares)[1].designation, "R125");
    EXPECT_NEAR((*shares)[2].mass_fraction, 0.52, 2e-4);
    EXPECT_NEAR((*shares)[0].mass_fraction + (*shares)[1].mass_fraction + (*shares)[2].mass_fraction, 1,
                1e-12);
  }
  const auto brackets = fluids::parse_composition("R1234ze(E)/R227ea (91.1/8.9)", names);
  ASSERT_TRUE(brackets) << to_text(brackets.problem());
  EXPECT_EQ((*brackets)[0].designation, "R1234ze(E)");
}

TEST(Sheet, OfEveryRefrigerantHoldsToTheSchemaAndHasItsWords) {
  const SchemaCheck check(json::parse(*service::bundled_schema("refrigerant.answer")));
  for (const CatalogueEntry& entry : catalogue().entries()) {
    const json sheet = answer("refrigerant", {{"refrigerant", entry.designation}, {"units", "metric"}});
    EXPECT_EQ(check(sheet), "") << entry.designation;
    EXPECT_EQ(sheet.dump().find("[no "), std::string::npos) << entry.designation;
    for (const json& reference : sheet["about"]["references"])
      EXPECT_NE(reference["key"], reference["citation"]) << entry.designation;
  }
}

TEST(Sheet, MarksWhatIsRecalledBesideTheValue) {
  int recalled = 0;
  const auto look = [&](const json& value, const std::string& designation) {
    if (!value.is_object()) return;
    const bool marked = value["text"].get<std::string>().find("from memory") != std::string::npos;
    EXPECT_EQ(marked, value["recalled"].get<bool>()) << designation << " " << value;
    EXPECT_TRUE(marked || value["cited"].get<std::string>().find("from-memory") == std::string::npos);
    recalled += marked ? 1 : 0;
  };
  for (const CatalogueEntry& entry : catalogue().entries()) {
    const json sheet = answer("refrigerant", {{"refrigerant", entry.designation}});
    look(sheet["safety_class"], entry.designation);
    look(sheet["ozone_depletion"], entry.designation);
    for (const json& limit : sheet["lower_flammability_limits"]) look(limit, entry.designation);
    for (const json& row : sheet["warming"]) look(row["figure"], entry.designation);
  }
  EXPECT_GT(recalled, 100);
}

TEST(Cautions, FollowTheClassAndSayWhenItIsRecalled) {
  for (const CatalogueEntry& entry : catalogue().entries()) {
    std::set<std::string> keys;
    for (const auto& line : service::property_cautions(entry.designation)) keys.insert(line.key);
    std::set<std::string> wanted;
    if (!entry.safety_class) wanted.insert("caution_class_unknown");
    if (entry.safety_class && entry.safety_class->value[1] != '1')
      wanted.insert(entry.designation == "R717" ? "caution_flammable_rises" : "caution_flammable");
    if (entry.safety_class && entry.safety_class->value[0] == 'B') wanted.insert("caution_toxic");
    if (entry.safety_class && service::is_recalled(entry.safety_class->source))
      wanted.insert("caution_class_recalled");
    EXPECT_EQ(keys, wanted) << entry.designation;
    EXPECT_EQ(service::treat_as_flammable(entry.designation),
              !entry.safety_class || entry.safety_class->value[1] != '1');
  }
  EXPECT_TRUE(service::property_cautions("R404A").empty());
  EXPECT_EQ(service::property_cautions("R717").size(), 2u);
}

TEST(List, HasARowForEachAndHoldsToTheSchema) {
  const json list = answer("refrigerants", json::object());
  EXPECT_EQ(SchemaCheck(json::parse(*service::bundled_schema("refrigerants.answer")))(list), "");
  EXPECT_EQ(list["refrigerants"].size(), catalogue().entries().size());
}

TEST(Sheet, TakesPointsFromTheEquationWhereOneIsCarried) {
  const json sheet = answer("refrigerant", {{"refrigerant", "R290"}, {"units", "metric"}});
  EXPECT_EQ(sheet["equation"], "lemmon2009");
  // [ashrae2021, Chapter 29, Table 5]: -42.11 °C, 96.74 °C, 4251.2 kPa.
  EXPECT_NEAR(sheet["normal_boiling_point"]["bubble"]["si"].get<double>() - 273.15, -42.11, 0.01);
  EXPECT_NEAR(sheet["critical_point"]["temperature"]["si"].get<double>() - 273.15, 96.74, 0.01);
  EXPECT_NEAR(sheet["critical_point"]["pressure"]["si"].get<double>(), 4251.2e3, 100);
}

}  // namespace
}  // namespace coldwright::tests

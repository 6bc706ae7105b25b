// The card: its numbers are those of "saturation", and its PDF has the pages it says.
#include <gtest/gtest.h>

#include <cmath>

#include "contract/program.hpp"
#include "contract/schema_check.hpp"

namespace coldwright::tests {
namespace {

using nlohmann::json;

json answered(const std::string& arguments) {
  const Outcome outcome = coldwright(arguments + " --json");
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  return outcome.status == 0 ? json::parse(outcome.out) : json::object();
}

/// Pages by the page tree's own count and by its pages; -1 when the two differ.
int pages_of(const std::string& pdf) {
  int pages = 0;
  for (std::size_t at = pdf.find("/Type /Page"); at != std::string::npos;
       at = pdf.find("/Type /Page", at + 1))
    if (pdf.compare(at, 12, "/Type /Pages") != 0) ++pages;
  const std::size_t count = pdf.find("/Count ");
  if (count == std::string::npos || std::stoi(pdf.substr(count + 7)) != pages) return -1;
  return pages;
}

/// The size of the first page, in points.
std::pair<int, int> paper_of(const std::string& pdf) {
  double left = 0, bottom = 0, width = 0, height = 0;
  const std::size_t at = pdf.find("/MediaBox [");
  if (at == std::string::npos) return {0, 0};
  std::sscanf(pdf.c_str() + at + 11, "%lf %lf %lf %lf", &left, &bottom, &width, &height);
  return {static_cast<int>(std::lround(width)), static_cast<int>(std::lround(height))};
}

void agrees(const std::string& range, const std::string& site) {
  const json card = answered("card R290 R404A R448A " + range + " " + site);
  std::size_t compared = 0;
  for (std::size_t column = 0; column < card["columns"].size(); ++column)
    for (const json& row : card["rows"]) {
      const json& cell = row["cells"][column];
      const bool blend = card["columns"][column]["blend"];
      const json& low = cell[blend ? "bubble" : "pressure"];
      const json& high = cell[blend ? "dew" : "pressure"];
      if (low.is_null()) continue;
      const json said = answered("saturation " + card["columns"][column]["refrigerant"].get<std::string>() +
                                 " '" + row["temperature"]["text"].get<std::string>() + "' " + site);
      for (const auto& [mine, side] : {std::pair{&low, "liquid"}, {&high, "vapour"}}) {
        const json& theirs = said["rows"][0][side]["pressure"];
        const double p = theirs["si"];
        EXPECT_NEAR((*mine)["si"].get<double>() / p, 1, 1e-9);
        EXPECT_NEAR((*mine)["value"].get<double>(), theirs["value"].get<double>(), 1e-6);
        EXPECT_EQ((*mine)["unit"], theirs["unit"]);
        ++compared;
      }
    }
  EXPECT_EQ(compared, 30u);  // three refrigerants, five temperatures, two sides
}

TEST(Card, SaysWhatSaturationSays) { agrees("--from -50F --to 150F --step 50F", ""); }
TEST(Card, SaysWhatSaturationSaysHighUp) { agrees("--from -50F --to 150F --step 50F", "--altitude 7000ft"); }
TEST(Card, SaysWhatSaturationSaysInMetric) { agrees("--from -40C --to 60C --step 25C", "--units metric"); }

TEST(Card, GlideIsBetweenTheLinesAtTheDewPressure) {
  const json card = answered("card R407C --from 0C --to 0C --units metric");
  const json& cell = card["rows"][0]["cells"][0];
  const json back =
      answered("saturation R407C '" + std::to_string(cell["dew"]["si"].get<double>() / 1000) + " kPa(a)'");
  EXPECT_NEAR(cell["glide"]["si"].get<double>(), back["rows"][0]["glide"]["si"].get<double>(), 1e-3);
}

TEST(Card, LeavesOutWhatDoesNotExist) {
  const json card = answered("card R744 R718 --from -100F --to 100F --step 100F");
  EXPECT_TRUE(card["rows"][0]["cells"][0]["pressure"].is_null());  // below the triple point
  EXPECT_FALSE(card["rows"][1]["cells"][0]["pressure"].is_null());
  EXPECT_TRUE(card["rows"][2]["cells"][0]["pressure"].is_null());  // above the critical point
  EXPECT_TRUE(card["rows"][1]["cells"][1]["pressure"].is_null());  // ice
  EXPECT_EQ(card["rows"][2]["cells"][1]["pressure"]["unit"], "inHg");
}

TEST(Card, WarnsOfWhatBurnsAndMarksWhatIsRecalled) {
  const auto text = [](const json& card) {
    std::string out;
    for (const json& line : card["cautions"]) out += line["text"].get<std::string>() + "\n";
    return out;
  };
  const std::string mixed = text(answered("card R290 R134a R600a"));
  EXPECT_NE(mixed.find("Flammable: R290, R600a."), std::string::npos) << mixed;
  const std::string ammonia = text(answered("card R717 R290"));
  EXPECT_NE(ammonia.find("lighter than air: R717."), std::string::npos) << ammonia;
  EXPECT_NE(ammonia.find("Flammable: R290."), std::string::npos) << ammonia;
  EXPECT_NE(ammonia.find("small amounts: R717."), std::string::npos) << ammonia;
  EXPECT_EQ(text(answered("card R134a")).find("Flammable"), std::string::npos);
  EXPECT_NE(text(answered("card 'R32/R125 60/40'")).find("not known here: R32/R125"), std::string::npos);
  EXPECT_NE(text(answered("card R455A")).find("* Class from memory here, not read in the standard: R455A"),
            std::string::npos);
}

TEST(Card, HoldsToItsSchemaAndHasDefaults) {
  const SchemaCheck check(json::parse(coldwright("schema card.answer").out));
  const json us = answered("card R290"), metric = answered("card R448A --units metric --barometer 843hPa");
  EXPECT_EQ(check(us), "");
  EXPECT_EQ(check(metric), "");
  EXPECT_EQ(us["rows"].size(), 91u);  // -40 to 140 °F by 2
  EXPECT_EQ(metric["rows"].size(), 101u);
  EXPECT_EQ(metric["rows"][0]["temperature"]["text"], "-40 °C");
}

TEST(Pdf, HasTheRightPagesAndPaper) {
  const Folder folder;
  const auto made = [&](const std::string& arguments) {
    const Outcome outcome = coldwright("card " + arguments + " -o " + folder.file("card.pdf"));
    EXPECT_EQ(outcome.status, 0) << outcome.err;
    EXPECT_EQ(outcome.out, "");
    const std::string pdf = Folder::read(folder.file("card.pdf"));
    EXPECT_EQ(pdf.substr(0, 5), "%PDF-");
    return pdf;
  };
  const std::string letter = made("R290 R404A R448A --from -40F --to 60F --step 2F");
  EXPECT_EQ(pages_of(letter), 1);
  EXPECT_EQ(paper_of(letter), (std::pair{612, 792}));
  const std::string a4 = made("R290 --units metric");
  EXPECT_EQ(pages_of(a4), 1);
  EXPECT_EQ(paper_of(a4), (std::pair{595, 842}));
  EXPECT_EQ(paper_of(made("R290 --paper a4")), (std::pair{595, 842}));
  // Twelve blends are three pages across; 281 rows of three columns more than one page down.
  EXPECT_GE(
      pages_of(made("R404A R407A R407C R407F R410A R448A R449A R452A R454A R454B R454C R455A --step 10F")),
      3);
  EXPECT_GE(pages_of(made("R290 R600a R134a --from -100F --to 180F --step 1F")), 2);
  EXPECT_EQ(coldwright("card R290 --step 20F").out.substr(0, 5), "%PDF-");
}

}  // namespace
}  // namespace coldwright::tests

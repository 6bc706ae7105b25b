// The record: its page's model, its PDF as other tools read it, its HTML, facts and table.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "contract/program.hpp"
#include "contract/schema_check.hpp"

namespace coldwright::tests {
namespace {

using nlohmann::json;

const std::string kSample = SOURCE_DIR "/data/examples/finished-call.json";
const std::string kQuick = " --population 10 --seed 1 ";

std::string made(const std::string& arguments) {
  const Outcome outcome = coldwright("record " + arguments);
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  return outcome.out;
}

/// Once a test program: the answer for the customer and for the shop.
const json& answer(const std::string& reader) {
  static std::map<std::string, json> known;
  if (!known.contains(reader)) known[reader] = json::parse(made(kSample + kQuick + "--json --for " + reader));
  return known[reader];
}

std::string run(const std::string& command) {
  const Folder folder;
  EXPECT_EQ(std::system((command + " >" + folder.file("out") + " 2>&1").c_str()), 0) << command;
  return Folder::read(folder.file("out"));
}

struct Pdf {
  std::string text, fonts, info, bytes;
  int pages = 0;
};
Pdf pdf(const std::string& arguments) {
  const Folder folder;
  const std::string path = folder.file("record.pdf");
  made(arguments + " -o " + path);
  Pdf out{run("pdftotext -layout " + path + " -"), run("pdffonts " + path), run("pdfinfo " + path),
          Folder::read(path)};
  const std::size_t at = out.info.find("Pages:");
  if (at != std::string::npos) out.pages = std::stoi(out.info.substr(at + 6));
  return out;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    out.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return out;
}

/// RFC 4180: rows of cells; an empty answer where a quote or a line end is out of place.
std::vector<std::vector<std::string>> parsed_csv(const std::string& text) {
  std::vector<std::vector<std::string>> rows = {{""}};
  for (std::size_t i = 0; i < text.size(); ++i) {
    std::string& cell = rows.back().back();
    if (text[i] == '"') {
      if (!cell.empty()) return {};
      for (++i; i < text.size(); ++i) {
        if (text[i] != '"') {
          cell += text[i];
        } else if (i + 1 < text.size() && text[i + 1] == '"') {
          cell += '"';
          ++i;
        } else {
          break;
        }
      }
      if (i + 1 < text.size() && text[i + 1] != ',' && text[i + 1] != '\r') return {};
    } else if (text[i] == ',') {
      rows.back().emplace_back();
    } else if (text[i] == '\r') {
      if (i + 1 >= text.size() || text[i + 1] != '\n') return {};
      ++i;
      rows.push_back({""});
    } else if (text[i] == '\n') {
      return {};
    } else {
      cell += text[i];
    }
  }
  if (rows.back() != std::vector<std::string>{""}) return {};  // the last line ends as well
  rows.pop_back();
  return rows;
}

/// Every tag closed in its order; our page is written as XML but for its first line.
std::string not_well_formed(const std::string& html) {
  std::vector<std::string> open;
  for (std::size_t at = html.find('<'); at != std::string::npos; at = html.find('<', at + 1)) {
    const std::size_t end = html.find('>', at);
    if (end == std::string::npos) return "a tag without an end";
    const std::string tag = html.substr(at + 1, end - at - 1);
    if (tag.starts_with("!doctype")) continue;
    const std::string name =
        tag.substr(tag[0] == '/' ? 1 : 0, tag.find_first_of(" />", 1) - (tag[0] == '/' ? 1 : 0));
    if (tag[0] == '/') {
      if (open.empty() || open.back() != name) return "</" + name + "> closes nothing";
      open.pop_back();
    } else if (tag.back() != '/') {
      open.push_back(name);
    }
  }
  return open.empty() ? "" : "<" + open.back() + "> stays open";
}

json blocks_of(const json& record, const std::string& kind) {
  json out = json::array();
  for (const json& block : record["model"]["blocks"])
    if (block["kind"] == kind) out.push_back(block);
  return out;
}

TEST(Record, HoldsToItsSchemas) {
  const SchemaCheck whole(json::parse(coldwright("schema record.answer").out));
  const SchemaCheck facts(json::parse(coldwright("schema record.data").out));
  for (const char* reader : {"customer", "shop"}) {
    EXPECT_EQ(whole(answer(reader)), "") << reader;
    EXPECT_EQ(facts(answer(reader)["data"]), "") << reader;
  }
  EXPECT_EQ(json::parse(made(kSample + kQuick + "--format json"))["call"],
            answer("customer")["data"]["call"]);
}

TEST(Record, SumsTheRefrigerantToTheScalesResolution) {
  const json& account = answer("customer")["data"]["refrigerant"];
  // By hand from the sample: 1466 - 1412 g into the recovery cylinder, 3120 - 3062 g out of the new one, 0.6
  // g lost.
  EXPECT_EQ(account["sums"]["recovered"]["grams"], "54");
  EXPECT_EQ(account["sums"]["charged"]["grams"], "58");
  EXPECT_EQ(account["sums"]["lost"]["grams"], "0.6");
  EXPECT_EQ(account["sums"]["released"]["si"], 0);
  EXPECT_NEAR(account["sums"]["recovered"]["si"].get<double>(), 0.054, 1e-9);
  ASSERT_EQ(account["cylinders"].size(), 2u);
  EXPECT_EQ(account["cylinders"][0]["cylinder"], "Recovery B2");
  EXPECT_NEAR(account["cylinders"][0]["in"]["si"].get<double>(), 0.054, 1e-9);
  EXPECT_NEAR(account["cylinders"][1]["out"]["si"].get<double>(), 0.058, 1e-9);
}

TEST(Record, SumsAreThoseOfTheMovements) {
  const json& account = answer("customer")["data"]["refrigerant"];
  std::map<std::string, double> sums;
  for (const json& moved : account["movements"])
    sums[moved["movement"].get<std::string>()] += moved["mass"]["si"].get<double>();
  for (const auto& [kind, sum] : account["sums"].items())
    EXPECT_NEAR(sum["si"].get<double>(), sums[kind], 1e-12) << kind;
}

TEST(Record, CountsTheFoodsTime) {
  // Worked by hand: above 5 C from 7:56.5 (between 4.2 at 7:15 and 6.8 at 9:30) to 13:46.6 (10.4 at
  // 13:00, 4.6 at 13:50).
  const json& history = answer("customer")["data"]["food"][0]["history"];
  EXPECT_NEAR(history["seconds_above"].get<double>(), 350 * 60, 90);
  EXPECT_NEAR(history["longest_seconds_possible"].get<double>(), (6 * 60 + 35) * 60, 1e-6);
  EXPECT_EQ(history["verdict"], "over_four");
}

TEST(Record, NeverSaysThatFoodOrAnythingIsSafe) {
  for (const std::string language : {"en", "es", "fr"}) {
    std::string html = json::parse(made(kSample + kQuick + "--json --language " + language))["html"];
    for (const char* never : {" is safe", "es seguro ", "segura", "est sûr ", "sans danger"})
      EXPECT_EQ(html.find(never), std::string::npos) << language << never;
  }
}

TEST(Record, TheShopsCopyHasEveryReading) {
  const json &shop = answer("shop"), &customer = answer("customer");
  EXPECT_EQ(shop["data"]["readings"].size(), 7u);
  const std::string page = shop["model"].dump(), plain = customer["model"].dump();
  for (const json& reading : shop["data"]["readings"]) {
    EXPECT_NE(page.find(reading["text"].get<std::string>()), std::string::npos) << reading;
    EXPECT_NE(page.find(reading["expected"].get<std::string>()), std::string::npos) << reading;
    EXPECT_FALSE(reading["log_odds"].is_null());
  }
  EXPECT_NE(page.find("digital gauge"), std::string::npos);
  EXPECT_EQ(plain.find("digital gauge"), std::string::npos);
  EXPECT_GE(blocks_of(shop, "figure").size(), 1u);
}

TEST(Record, EveryTestOfTheCallIsThere) {
  std::set<std::string> tests;
  for (const json& test : answer("customer")["data"]["tests"]) {
    tests.insert(test["procedure"].get<std::string>());
    EXPECT_EQ(test["answered"].get<bool>(), test["why_not"].get<std::string>().empty()) << test;
  }
  EXPECT_EQ(tests, (std::set<std::string>{"tightness", "rise", "charging", "proof"}));
  EXPECT_EQ(blocks_of(answer("customer"), "verdicts")[0]["verdicts"].size(), 4u);
}

TEST(RecordPdf, HasItsPagesPaperAndWords) {
  for (const auto& [paper, size] : {std::pair{"a4", "595.28 x 841.89"}, {"letter", "612 x 792"}}) {
    const Pdf page = pdf(kSample + kQuick + "--for customer --paper " + paper);
    EXPECT_GE(page.pages, 1);
    EXPECT_LE(page.pages, 3) << paper;
    EXPECT_NE(page.info.find(size), std::string::npos) << page.info;
    for (const char* fact : {"Service record", "Skarrvik school kitchen", "R600a, class A3", "58 g",
                             "black grit", "filter drier", "Recovery B2", "Sum charged", "Milk", "3-501.19",
                             "Ebba Lind", "Tova Brandt", "nothing had leaked out", "is not a certainty"})
      EXPECT_NE(page.text.find(fact), std::string::npos) << paper << ": " << fact;
    EXPECT_NE(page.text.find("page 1 of " + std::to_string(page.pages)), std::string::npos);
  }
}

TEST(RecordPdf, NoPageIsEmptyAndNothingLeavesIt) {
  const Folder folder;
  for (const char* reader : {"customer", "shop"}) {
    const std::string path = folder.file("r.pdf");
    made(kSample + kQuick + "--for " + reader + " -o " + path);
    const std::string boxes = run("pdftotext -bbox " + path + " -");
    int words = 0, pages = 0;
    for (const std::string& line : lines_of(boxes)) {
      if (line.find("<page") != std::string::npos) {
        EXPECT_TRUE(pages == 0 || words > 20) << reader << ", page " << pages;
        ++pages;
        words = 0;
      }
      double left = 0, top = 0, right = 0, bottom = 0;
      const std::size_t at = line.find("xMin=");
      if (at == std::string::npos ||
          std::sscanf(line.c_str() + at, "xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf", &left, &top,
                      &right, &bottom) != 4)
        continue;
      ++words;
      EXPECT_GT(left, 35) << line;
      EXPECT_LT(right, 595.28 - 35) << line;
      EXPECT_GT(top, 30) << line;
      EXPECT_LT(bottom, 841.89 - 20) << line;
    }
    EXPECT_GT(words, 20) << reader;
  }
}

TEST(Record, EveryPictureIsXmlOfTheSizeItSays) {
  std::size_t pictures = 0;
  for (const json& figure : blocks_of(answer("shop"), "figure")) {
    const std::string svg = figure["svg"];
    EXPECT_TRUE(svg.starts_with("<svg ")) << svg.substr(0, 60);
    EXPECT_EQ(not_well_formed(svg), "");
    double width = 0, height = 0;
    const std::size_t at = svg.find("viewBox=\"0 0 ");
    ASSERT_NE(at, std::string::npos);
    ASSERT_EQ(std::sscanf(svg.c_str() + at + 13, "%lf %lf", &width, &height), 2);
    EXPECT_NEAR(figure["width"].get<double>(), width, 1e-6);
    EXPECT_NEAR(figure["height"].get<double>(), height, 1e-6);
    ++pictures;
  }
  EXPECT_GE(pictures, 4u);  // the pressure test, the rise, the pull-down, the cycle
}

TEST(RecordPdf, EmbedsRealFacesAndNothingSeeThrough) {
  const Pdf page = pdf(kSample + kQuick + "--for shop");
  const std::vector<std::string> lines = lines_of(page.fonts);
  ASSERT_GE(lines.size(), 3u);
  for (std::size_t i = 2; i < lines.size(); ++i) {
    EXPECT_NE(lines[i].find("+NotoSans"), std::string::npos) << lines[i];
    EXPECT_NE(lines[i].find("yes yes yes"), std::string::npos)
        << lines[i];  // embedded, a subset, with Unicode
  }
  // Plain objects of the file: nothing of PDF/A's forbidden list.
  for (const char* never : {"/SMask", "/JavaScript", "/Encrypt", "/Launch", "/EmbeddedFile"})
    EXPECT_EQ(page.bytes.find(never), std::string::npos) << never;
}

TEST(RecordPdf, SpeaksEachLanguage) {
  EXPECT_NE(pdf(kSample + kQuick + "--language es").text.find("Parte de servicio"), std::string::npos);
  EXPECT_NE(pdf(kSample + kQuick + "--language fr").text.find("Rapport d'intervention"), std::string::npos);
}

TEST(RecordHtml, IsWellFormedAndHasNoScript) {
  for (const char* reader : {"customer", "shop"}) {
    const std::string html = answer(reader)["html"];
    EXPECT_EQ(not_well_formed(html), "") << reader;
    EXPECT_EQ(html.find("<script"), std::string::npos);
    EXPECT_EQ(html.find(" on"), html.find(" on ")) << "an event handler?";
    EXPECT_EQ(html.find("javascript:"), std::string::npos);
    EXPECT_NE(html.find("@page{size:A4"), std::string::npos);
    EXPECT_NE(html.find("<html lang=\"en\""), std::string::npos);
  }
}

TEST(RecordCsv, ParsesAsRfc4180) {
  const auto rows = parsed_csv(made(kSample + kQuick + "--format csv"));
  ASSERT_GT(rows.size(), 30u);
  EXPECT_EQ(rows[0], (std::vector<std::string>{"section", "item", "value", "unit", "si", "time", "source"}));
  double charged = 0;
  for (const auto& row : rows) {
    ASSERT_EQ(row.size(), 7u) << row[0];
    if (row[0] == "refrigerant" && row[1].starts_with("charged")) charged += std::stod(row[4]);
    if (row[0] == "reading" && row[1] == "suction_pressure") {
      EXPECT_EQ(row[5], "2025-11-20T13:16:00+01:00");
    }
  }
  EXPECT_NEAR(charged, 0.058, 1e-9);
}

// --- what people type ---

json sample_call() { return json::parse(Folder::read(kSample)); }

json of_call(const json& call, const std::string& more = "") {
  const Folder folder;
  const Outcome outcome =
      coldwright("record " + folder.write("call.json", call.dump()) + kQuick + "--json " + more);
  EXPECT_EQ(outcome.status, 0) << outcome.err;
  return outcome.status == 0 ? json::parse(outcome.out) : json::object();
}

TEST(RecordTyped, MarkupComesOutAsText) {
  json call = sample_call();
  call["call"] = "<script>alert(1)</script> & \"co\"";
  call["entries"].push_back({{"kind", "work"}, {"text", "<img src=x onerror=alert(2)>"}});
  const json record = of_call(call);
  const std::string html = record["html"];
  EXPECT_EQ(html.find("<script"), std::string::npos);
  EXPECT_EQ(html.find("<img"), std::string::npos);
  EXPECT_NE(html.find("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;co&quot;"), std::string::npos);
  EXPECT_EQ(not_well_formed(html), "");
  EXPECT_EQ(record["data"]["call"]["name"], call["call"]);  // nothing is lost of it
}

TEST(RecordTyped, ASpreadsheetRunsNothing) {
  json call = sample_call();
  for (const char* text :
       {"=1+1", "+SUM(A1)", "@cmd", "-cmd|' /C calc'!A0", "\t=1", "=HYPERLINK(\"x\",\"y\")"})
    call["entries"].push_back({{"kind", "watch"}, {"text", text}});
  const auto rows = parsed_csv(of_call(call)["csv"]);
  ASSERT_FALSE(rows.empty());
  std::size_t guarded = 0;
  for (const auto& row : rows)
    for (const std::string& cell : row) {
      const std::size_t first = cell.find_first_not_of(' ');
      if (first == std::string::npos) continue;
      const bool number = cell.find_first_not_of("+-.0123456789e") == std::string::npos;
      EXPECT_TRUE(number || std::string("=+-@").find(cell[first]) == std::string::npos) << cell;
      guarded += cell[0] == '\'' ? 1 : 0;
    }
  EXPECT_GE(guarded, 5u);
}

TEST(RecordTyped, NamesOfAnyAlphabetAreSetInOneFace) {
  json call = sample_call();
  call["call"] = "Σκάρβικ, кухня школы, Åse Øst, z\u0335e\u0301";
  const Folder folder;
  const Pdf page = pdf(folder.write("call.json", call.dump()) + kQuick);
  for (const char* word : {"Σκάρβικ", "кухня", "Åse", "Øst"})
    EXPECT_NE(page.text.find(word), std::string::npos);
  for (std::size_t i = 2; i < lines_of(page.fonts).size(); ++i)
    EXPECT_NE(lines_of(page.fonts)[i].find("NotoSans"), std::string::npos);
}

TEST(RecordTyped, LongNamesAndManyReadingsStayOnTheirPages) {
  json call = sample_call();
  call["call"] = std::string(190, 'W');
  for (int i = 0; i < 200; ++i) {
    const std::string minute = std::to_string(100 + i % 60).substr(1), hour = std::to_string(18 + i / 60);
    call["entries"].push_back({{"kind", "test_reading"},
                               {"procedure", "hall_log"},  // none of ours: kept and printed all the same
                               {"box", "3." + std::to_string(i % 10) + " C"},
                               {"at", "2025-11-20T" + hour + ":" + minute + ":30+01:00"}});
  }
  const Folder folder;
  const std::string path = folder.write("call.json", call.dump());
  const Pdf page = pdf(path + kQuick + "--for shop");
  EXPECT_GE(page.pages, 4);
  EXPECT_LE(page.pages, 13);  // 200 rows are five pages more than the sample's
  EXPECT_LE(pdf(path + kQuick + "--for customer").pages, 3);
  std::size_t readings = 0;
  for (const std::string& line : lines_of(page.text))
    readings += line.find(" C") != std::string::npos ? 1 : 0;
  EXPECT_GE(readings, 200u);
}

TEST(RecordTyped, ACallWithoutAMachineHasARecordAndSaysWhy) {
  const json call = {{"call", "Skarrvik clinic"},
                     {"entries", {{{"kind", "work"}, {"text", "Looked, and left again."}}}}};
  const json record = of_call(call);
  EXPECT_FALSE(record["data"]["findings"]["diagnosed"].get<bool>());
  EXPECT_NE(record["html"].get<std::string>().find("kind of cabinet is not on record"), std::string::npos);
  EXPECT_TRUE(blocks_of(record, "bars").empty());
  const Folder folder;
  EXPECT_EQ(pdf(folder.write("call.json", call.dump())).pages, 1);
  EXPECT_EQ(SchemaCheck(json::parse(coldwright("schema record.answer").out))(record), "");
}

TEST(RecordTyped, ACorrectedEntryLeavesNoTrace) {
  json call = sample_call();
  for (json& entry : call["entries"])
    if (entry["kind"] == "refrigerant_moved" && entry["movement"] == "charged") entry["id"] = "in";
  call["entries"].push_back(
      {{"kind", "refrigerant_moved"}, {"movement", "charged"}, {"mass", "57.5 g"}, {"replaces", "in"}});
  const json record = of_call(call);
  EXPECT_EQ(record["data"]["refrigerant"]["sums"]["charged"]["grams"], "57.5");
}

TEST(RecordTyped, OuncesKeepTheirDigits) {
  json call = sample_call();
  call["units"] = "us";
  call["entries"].push_back({{"kind", "refrigerant_moved"}, {"movement", "released"}, {"mass", "1.25 oz"}});
  const json record = of_call(call);
  const json& released = record["data"]["refrigerant"]["sums"]["released"];
  EXPECT_EQ(released["text"], "1.25 oz");
  EXPECT_EQ(released["grams"], "35.4");  // 1.25 x 28.349523, to a hundredth of an ounce
  EXPECT_EQ(record["paper"], "letter");
}

}  // namespace
}  // namespace coldwright::tests

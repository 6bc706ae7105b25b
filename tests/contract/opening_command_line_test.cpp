// The procedures around opening a circuit as typed on the command line.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <vector>

#include "contract/program.hpp"

namespace coldwright::tests {
namespace {

using nlohmann::json;

const std::string kCall = SOURCE_DIR "/data/demo/3-fish-hall-freezer.json";

/// The program with these words, quoted for the shell.
Outcome run(const std::vector<std::string>& words) {
  std::string line;
  for (const std::string& word : words) line += "'" + word + "' ";
  return coldwright(line);
}

TEST(OpeningCommands, PrintAVerdictAndFiguresThatOpen) {
  const Outcome plain = run({"flammable", "--refrigerant", "R290", "--charge", "150g", "--volume", "10 m3",
                             "--t", "25C", "--leaves", "released"});
  EXPECT_EQ(plain.status, 0) << plain.err;
  EXPECT_NE(plain.out.find("15.8 m3"), std::string::npos) << plain.out;  // 0.150/(0.25 x 0.038)
  EXPECT_EQ(plain.out.find("V = m/(s l)"), std::string::npos);
  const Outcome how = run({"flammable", "--refrigerant", "R290", "--charge", "150g", "--how"});
  EXPECT_EQ(how.status, 0) << how.err;
  EXPECT_NE(how.out.find("V = m/(s l)"), std::string::npos);
}

TEST(OpeningCommands, TakeTheCallAndWhatIsTypedWins) {
  const auto parts = [](std::vector<std::string> words) {
    words.insert(words.end(), {"--call", kCall, "--json"});
    const Outcome out = run(words);
    EXPECT_EQ(out.status, 0) << out.err;
    return json::parse(out.out, nullptr, false);
  };
  const json bring = parts({"bring"});
  ASSERT_TRUE(bring.is_object());
  EXPECT_EQ(bring["procedure"], "bring");
  EXPECT_EQ(bring["verdict"]["key"], "leading");
  const json opening = parts({"opening", "--high-length", "0.5 m", "--low-loss", "yes"});
  EXPECT_EQ(opening["refrigerant"], "R290");
  const json tracer = parts({"tracer", "--pressure", "145 psig", "--volume", "2 L"});
  for (const json& row : tracer["figures"]) EXPECT_NE(row["key"], "circuit_volume") << "the volume was typed";
  const json worth = parts({"worth", "--labour-rate", "95 EUR", "--hours", "3.5h", "--parts-cost", "180 EUR",
                            "--new-price", "2400 EUR", "--energy-price", "0.28 EUR"});
  EXPECT_EQ(worth["figures"][worth["figures"].size() - 1]["key"], "repair_cheaper");
}

TEST(OpeningCommands, RefuseWithOneLineThatNamesTheField) {
  for (const auto& [words, field] : std::vector<std::pair<std::vector<std::string>, std::string>>{
           {{"flammable", "--refrigerant", "R134a", "--charge", "150g"}, "refrigerant"},
           {{"opening", "--refrigerant", "R290", "--suction-pressure", "90 psig", "--head-pressure",
             "30 psig"},
            "head_pressure"},
           {{"tracer", "--refrigerant", "R290", "--volume", "2 L"}, "pressure"},
           {{"bring"}, "call"},
           {{"worth", "--labour-rate", "95 EUR", "--hours", "3h", "--parts-cost", "$10", "--new-price",
             "2400 EUR", "--energy-price", "0.28 EUR"},
            "parts_cost"}}) {
    const Outcome out = run(words);
    EXPECT_EQ(out.status, 2) << words[0] << out.out;
    EXPECT_TRUE(out.out.empty()) << words[0];
    EXPECT_NE(out.err.find(field), std::string::npos) << out.err;
  }
}

}  // namespace
}  // namespace coldwright::tests

// The file of the learned correction: the product's own is whole, and a damaged one is told by its place.
#include <gtest/gtest.h>

#include <string>

#include "service/correction_loader.hpp"
#include "service/knowledge_loader.hpp"

using namespace coldwright;

namespace {

const diagnosis::Knowledge& knowledge() {
  static const diagnosis::Knowledge k = *service::load_knowledge();
  return k;
}

std::string file(const std::string& trust, const std::string& trait, const std::string& spread,
                 const std::string& look, const std::string& cause, const std::string& weights) {
  return R"({"trust": )" + trust + R"(, "two": 0.1, "traits": [{"id": ")" + trait +
         R"(", "middle": 1, "spread": )" + spread + R"(}], "looks": [{"subject": "compressor", "value": ")" +
         look + R"("}], "causes": [{"id": ")" + cause + R"(", "weights": )" + weights + "}]}";
}
const char* const kEight = "[1, 2, 3, 4, 5, 6, 7, 8]";

std::string refusal(const std::string& text) {
  const auto read = service::parse_correction(text, knowledge());
  return read ? "taken" : to_text(read.problem());
}

}  // namespace

TEST(CorrectionFile, OfTheProductKnowsEveryCause) {
  ASSERT_TRUE(knowledge().correction);
  EXPECT_EQ(knowledge().correction->causes.size(), knowledge().causes.size());
  EXPECT_GT(knowledge().correction->trust, 0);
}

TEST(CorrectionFile, IsReadAsItStands) {
  const auto read = service::parse_correction(
      file("0.7", "middle_less_room", "6", "off", "restriction", kEight), knowledge());
  ASSERT_TRUE(read) << to_text(read.problem());
  EXPECT_EQ(read->trust, 0.7);
  EXPECT_EQ(read->scales.front().spread, 6);
  EXPECT_EQ(read->looks.front().value, "off");
  EXPECT_EQ(read->causes.front().weights.back(), 8);
}

TEST(CorrectionFile, SaysWhatIsWrongAndWhere) {
  const auto says = [](const std::string& text, const std::string& part) {
    EXPECT_NE(refusal(text).find(part), std::string::npos) << refusal(text);
  };
  says("{", "text that is not JSON");
  says("{}", "correction.json.trust");
  says(file("1.5", "ambient", "6", "off", "restriction", kEight), "correction.json.trust: given 1.5");
  says(file("1", "wind", "6", "off", "restriction", kEight), "correction.json.traits: given wind");
  says(file("1", "ambient", "0", "off", "restriction", kEight), "correction.json.traits.ambient: given 0.0");
  says(file("1", "ambient", "6", "asleep", "restriction", kEight),
       "correction.json.looks: given compressor asleep");
  says(file("1", "ambient", "6", "off", "moths", kEight), "correction.json.causes: given moths");
  says(file("1", "ambient", "6", "off", "restriction", "[1, 2]"),
       "correction.json.causes.restriction: given 2 weights");
}

// The demo calls: they say what they are, answer as data/demo/answers.json says, replay bit for bit, and are
// what tools/make_demo_calls.cpp makes.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "calls/call.hpp"
#include "contract/program.hpp"
#include "service/use_cases.hpp"

namespace coldwright::test {
namespace {

using nlohmann::json;

const std::string kFolder = std::string(SOURCE_DIR) + "/data/demo/";

std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  EXPECT_TRUE(in) << path;
  return {std::istreambuf_iterator<char>(in), {}};
}

json answers() { return json::parse(text_of(kFolder + "answers.json"))["answers"]; }

std::string diagnosed(const std::string& file, const char* with = R"({"seed": 1})") {
  service::Context context;
  context.now_seconds = 1767225600;  // 2026-01-01, any moment
  const auto request = service::request_with_call(text_of(kFolder + file), with);
  EXPECT_TRUE(request) << file;
  if (!request) return "{}";
  const auto answer = service::find_use_case("diagnose")->run(*request, context);
  EXPECT_TRUE(answer) << file << ": " << to_text(answer.problem());
  return answer ? *answer : "{}";
}

class DemoCalls : public testing::TestWithParam<int> {
 protected:
  static json answer_of(int i) { return answers()[static_cast<std::size_t>(i)]; }
};

TEST_P(DemoCalls, AnswerAsRecordedAndReplay) {
  const json hidden = answer_of(GetParam());
  const std::string file = hidden["call"];
  const std::string first = diagnosed(file);
  const char* small = R"({"seed": 7, "population": 40})";  // replays in less time
  EXPECT_EQ(diagnosed(file, small), diagnosed(file, small))
      << file << ": same call, same seed, another answer";
  const json answer = json::parse(first);
  double sum = 0;
  std::size_t rank = 0;
  for (std::size_t i = 0; i < answer["causes"].size(); ++i) {
    sum += answer["causes"][i]["probability"].get<double>();
    if (answer["causes"][i]["cause"] == hidden["hidden"]) rank = i + 1;
  }
  EXPECT_NEAR(sum, 1, 1e-9) << file;
  EXPECT_GE(rank, 1u) << file;
  EXPECT_LE(rank, hidden["rank"].get<std::size_t>())
      << file << ": " << answer["causes"][0]["cause"] << " " << answer["causes"][0]["probability"];
  EXPECT_LE(hidden["rank"].get<int>(), 2) << file;
}

TEST_P(DemoCalls, SayThatTheyAreInventedAndKeepTheSecret) {
  const json hidden = answer_of(GetParam());
  const std::string text = text_of(kFolder + hidden["call"].get<std::string>());
  ASSERT_TRUE(calls::read_call(text));
  EXPECT_NE(text.find("Invented"), std::string::npos);
  EXPECT_NE(text.find("computed by"), std::string::npos);
  EXPECT_NE(text.find("Skarrvik"), std::string::npos);
  // The cause's own name may stand as a thing looked at (the condenser fan), never as a text of its own.
  const json call = json::parse(text);
  for (const json& entry : call["entries"])
    if (entry["kind"] != "observation") {
      EXPECT_EQ(entry.dump().find(hidden["hidden"].get<std::string>()), std::string::npos);
    }
}

INSTANTIATE_TEST_SUITE_P(Skarrvik, DemoCalls, testing::Range(0, 6));

TEST(DemoFolder, IsWhatTheToolMakes) {
  const tests::Folder made;
  const std::filesystem::path tool =
      std::filesystem::path(COLDWRIGHT_BINARY).parent_path().parent_path().parent_path() /
      "tools/make_demo_calls";
  ASSERT_EQ(std::system(("'" + tool.string() + "' '" + made.file("") + "'").c_str()), 0) << tool;
  int files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(kFolder)) {
    const std::string name = entry.path().filename().string();
    EXPECT_EQ(text_of(kFolder + name), text_of(made.file(name)))
        << name << ": run make_demo_calls data/demo again";
    ++files;
  }
  EXPECT_EQ(files, 7);
}

TEST(DemoFolder, TheFirstIsTheBakery) {
  std::string first = "~";
  for (const auto& entry : std::filesystem::directory_iterator(kFolder))
    first = std::min(first, entry.path().filename().string());
  EXPECT_EQ(first.substr(0, 8), "1-bakery");
  for (const json& one : answers())
    if (one["call"] == first) {
      EXPECT_EQ(one["hidden"], "not_pumping");
    }
}

}  // namespace
}  // namespace coldwright::test

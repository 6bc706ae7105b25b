// The fuzzer's small deterministic sister: good calls, broken in thousands of ways, must end in an answer or
// in one Problem, never in a crash. The corpus is shared with the fuzzer.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <vector>

#include "fuzz/call_target.hpp"

namespace coldwright::tests {
namespace {

std::vector<std::string> corpus() {
  std::vector<std::string> paths, texts;
  for (const auto& file : std::filesystem::directory_iterator(std::string(SOURCE_DIR) + "/tests/fuzz/corpus"))
    paths.push_back(file.path().string());
  std::sort(paths.begin(), paths.end());
  for (const std::string& path : paths) {
    std::ifstream in(path, std::ios::binary);
    texts.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
  }
  return texts;
}

/// Pieces that mean something to a reader of calls.
const std::vector<std::string> kPieces = {"{",
                                          "}",
                                          "[",
                                          "]",
                                          "\"",
                                          ":",
                                          ",",
                                          "null",
                                          "NaN",
                                          "-1e999",
                                          "1e308",
                                          "\\u0000",
                                          "\xC3",
                                          "\xED\xA0\x80",
                                          "\xF0\x9F\x8C\xA1",
                                          "\"kind\": \"reading\"",
                                          "\"replaces\": \"plate\"",
                                          "\"id\": \"plate\"",
                                          "\"at\": \"2025-11-20T09:00:00Z\"",
                                          "41 psig",
                                          "-3 inHg",
                                          "3 1/4 oz",
                                          "1,84 A",
                                          "OL",
                                          "-459.68 F",
                                          "\xE2\x88\x92"
                                          "5 C",
                                          "99999999999999999999",
                                          "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[["};

class Mutator {
 public:
  explicit Mutator(unsigned seed) : random_(seed) {}
  std::string operator()(std::string text, const std::string& other) {
    for (std::size_t times = 1 + below(4); times > 0; --times) mutate(text, other);
    return text;
  }

 private:
  std::size_t below(std::size_t n) { return n == 0 ? 0 : static_cast<std::size_t>(random_() % n); }
  void mutate(std::string& text, const std::string& other) {
    const std::size_t at = below(text.size() + 1);
    switch (below(6)) {
      case 0:
        text.resize(at);
        break;
      case 1:
        text.insert(at, kPieces[below(kPieces.size())]);
        break;
      case 2:
        text.erase(at, below(20));
        break;
      case 3:
        if (at < text.size()) text[at] = static_cast<char>(below(256));
        break;
      case 4:
        text.insert(at, text.substr(below(text.size() + 1), below(80)));
        break;
      default:
        text.insert(at, other.substr(below(other.size() + 1), below(80)));
    }
  }
  std::mt19937 random_;
};

TEST(CallParser, TakesTheWholeCorpus) {
  const auto texts = corpus();
  ASSERT_GE(texts.size(), 8u);
  const auto good =
      std::count_if(texts.begin(), texts.end(), [](const std::string& text) { return try_call(text); });
  EXPECT_GE(good, 4);
}

TEST(CallParser, SurvivesMutations) {
  const auto texts = corpus();
  Mutator mutate(20251120);
  int folded = 0;
  for (unsigned i = 0; i < 120000; ++i)
    folded += try_call(mutate(texts[i % texts.size()], texts[(i * 7 + 3) % texts.size()])) ? 1 : 0;
  EXPECT_GT(folded, 100) << "the mutations no longer reach the fold";
}

TEST(CallParser, SurvivesEveryTruncation) {
  for (const std::string& text : corpus())
    for (std::size_t n = 0; n < text.size(); ++n) try_call(std::string_view(text).substr(0, n));
}

}  // namespace
}  // namespace coldwright::tests

// Spoken numbers into digits, as phones write them: "forty one point 5", "three and a half", "minus 12".
// English number words; the words for sign and point in Spanish and French too, since those stand between
// digits there.
#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/heard.hpp"
#include "base/text.hpp"

namespace coldwright::base {
namespace {

using Row = std::pair<std::string_view, int>;
constexpr std::array<Row, 29> kWords = {{
    {"zero", 0},       {"oh", 0},        {"one", 1},       {"two", 2},       {"three", 3},    {"four", 4},
    {"five", 5},       {"six", 6},       {"seven", 7},     {"eight", 8},     {"nine", 9},     {"ten", 10},
    {"eleven", 11},    {"twelve", 12},   {"thirteen", 13}, {"fourteen", 14}, {"fifteen", 15}, {"sixteen", 16},
    {"seventeen", 17}, {"eighteen", 18}, {"nineteen", 19}, {"twenty", 20},   {"thirty", 30},  {"forty", 40},
    {"fifty", 50},     {"sixty", 60},    {"seventy", 70},  {"eighty", 80},   {"ninety", 90},
}};

std::optional<int> number_word(std::string_view word) {
  for (const auto& [name, value] : kWords)
    if (name == word) return value;
  return std::nullopt;
}

template <std::size_t count>
bool one_of(std::string_view word, const std::array<std::string_view, count>& words) {
  for (std::string_view each : words)
    if (each == word) return true;
  return false;
}

bool minus(std::string_view word) {
  return one_of(word, std::array<std::string_view, 4>{"minus", "negative", "menos", "moins"});
}

bool point(std::string_view word) {
  return one_of(word, std::array<std::string_view, 5>{"point", "dot", "punto", "coma", "virgule"});
}

bool digits(std::string_view word) {
  return !word.empty() && word.find_first_not_of("0123456789") == std::string_view::npos;
}

std::vector<std::string> split(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    const char c = i < text.size() ? text[i] : ' ';
    // "forty-one": a hyphen between letters joins number words.
    const bool joint = c == '-' && !word.empty() && number_word(lower(word));
    if (c == ' ' || c == '\t' || joint) {
      if (!word.empty()) words.push_back(std::move(word));
      word.clear();
    } else {
      word += c;
    }
  }
  return words;
}

/// "and a half", "and three quarters": the text of the fraction and how many words it took.
std::pair<std::string, std::size_t> spoken_fraction(const std::vector<std::string>& words, std::size_t i) {
  std::size_t at = i;
  if (at < words.size() && lower(words[at]) == "and") ++at;
  if (at >= words.size()) return {"", 0};
  std::string top = "1";
  std::string word = lower(words[at]);
  if (word == "a" || word == "one") {
    ++at;
  } else if (word == "three" || word == "3") {
    top = "3";
    ++at;
  }
  word = at < words.size() ? lower(words[at]) : "";
  if (word == "half" && top == "1") return {"1/2", at + 1 - i};
  if (word == "quarter" || word == "quarters") return {top + "/4", at + 1 - i};
  if (word == "eighth" || word == "eighths") return {top + "/8", at + 1 - i};
  return {"", 0};
}

struct Run {
  std::string text;       // "105", "41.5", "" when no number stands here
  std::size_t taken = 0;  // words
};

/// A whole number of words from `i`: "one hundred and five".
Run whole_words(const std::vector<std::string>& words, std::size_t i) {
  int total = 0, part = 0;
  int last = 100;  // the least step still allowed: tens take ones, nothing takes tens twice
  Run run;
  std::size_t at = i;
  for (; at < words.size(); ++at) {
    const std::string word = lower(words[at]);
    if (const auto value = number_word(word)) {
      if (*value >= 10 ? last <= 90 : last < 20 && last > 0) break;
      if (*value == 0 && at != i) break;
      part += *value;
      last = *value >= 20 ? *value : 1;
      continue;
    }
    if (word == "hundred" && part > 0 && part < 100) {
      total += part * 100;
      part = 0;
      last = 100;
      continue;
    }
    const bool goes_on = at > i && at + 1 < words.size() && number_word(lower(words[at + 1]));
    if (word == "and" && goes_on && last == 100) continue;
    break;
  }
  if (at == i) return run;
  run.text = std::to_string(total + part);
  run.taken = at - i;
  return run;
}

Run number_at(const std::vector<std::string>& words, std::size_t i) {
  if (i < words.size() && digits(words[i])) return {words[i], 1};
  return whole_words(words, i);
}

/// Digits after a spoken point: "two five", "25", "five".
Run decimals_at(const std::vector<std::string>& words, std::size_t i) {
  Run run;
  for (; i + run.taken < words.size(); ++run.taken) {
    const std::string word = lower(words[i + run.taken]);
    if (digits(word)) {
      run.text += word;
    } else if (const auto value = number_word(word); value && (*value < 10 || run.text.empty())) {
      run.text += std::to_string(*value);
    } else {
      break;
    }
  }
  return run;
}

}  // namespace

std::string digits_for_words(std::string_view text) {
  const std::vector<std::string> words = split(text);
  std::string out;
  const auto put = [&](const std::string& piece, bool glue) {
    if (!out.empty() && !glue) out += ' ';
    out += piece;
  };
  bool after_minus = false;
  for (std::size_t i = 0; i < words.size();) {
    const std::string word = lower(words[i]);
    if (out.empty() && minus(word)) {
      put("-", false);
      after_minus = true;
      ++i;
      continue;
    }
    const bool bare_fraction = word == "half" || word == "quarter" || word == "a" || word == "three";
    if (const auto [fraction, taken] = spoken_fraction(words, i); taken > 0 && bare_fraction) {
      put(fraction, after_minus);
      after_minus = false;
      i += taken;
      continue;
    }
    Run run = number_at(words, i);
    if (run.taken == 0 && point(word) && i + 1 < words.size()) run = {"0", 0};
    if (run.text.empty()) {
      put(words[i++], after_minus);
      after_minus = false;
      continue;
    }
    i += run.taken;
    if (i < words.size() && point(lower(words[i]))) {
      const Run after = decimals_at(words, i + 1);
      if (!after.text.empty()) {
        run.text += "." + after.text;
        i += 1 + after.taken;
      }
    } else if (const auto [fraction, taken] = spoken_fraction(words, i); taken > 0) {
      run.text += " " + fraction;
      i += taken;
    }
    put(run.text, after_minus);
    after_minus = false;
  }
  return out;
}

}  // namespace coldwright::base

// Whether a Problem is said in Spanish and French whole: what a translation leaves as it was may be an
// identifier, a unit or a designation, and no English word.
#pragma once

#include <gtest/gtest.h>

#include <cctype>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "base/field_units.hpp"
#include "service/embedded.hpp"
#include "service/sentences.hpp"
#include "service/use_cases.hpp"

namespace coldwright::tests {

/// Adds the names of properties and the words of "enum", "values", "subject" and "id".
inline void collect_words(const nlohmann::json& node, std::set<std::string>& words) {
  if (node.is_string()) words.insert(node.get<std::string>());
  if (node.is_array())
    for (const auto& item : node)
      if (!item.is_string()) collect_words(item, words);
  if (!node.is_object()) return;
  for (const auto& [key, value] : node.items()) {
    const bool named = key == "enum" || key == "values";
    if (key == "properties")
      for (const auto& [name, schema] : value.items()) words.insert(name);
    if ((key == "subject" || key == "id" || key == "const") && value.is_string())
      words.insert(value.get<std::string>());
    if (named && value.is_array())
      for (const auto& word : value)
        if (word.is_string()) words.insert(word.get<std::string>());
    if (!value.is_string()) collect_words(value, words);
  }
}

inline const std::set<std::string>& machine_words() {
  static const std::set<std::string> words = [] {
    std::set<std::string> out = {"json",    "abs",    "vac",  "call",
                                 "request", "answer", "plate"};  // "plate" names an entry of the tests
    for (const auto& file : service::embedded_files())
      if (file.path.starts_with("schemas/") || file.path == "observations.json" ||
          file.path == "cabinets.json")
        collect_words(nlohmann::json::parse(file.text), out);
    for (const auto& use_case : service::use_cases()) {
      out.emplace(use_case.name);
      out.emplace(use_case.request_schema);
      out.emplace(use_case.answer_schema);
    }
    for (const auto& unit : base::field_units()) out.emplace(unit.symbol);
    return out;
  }();
  return words;
}

/// The first word in `left` that no machine knows: English that nobody translated. Empty when there is none.
inline std::string untranslated(const std::vector<std::string>& left) {
  for (const std::string& text : left) {
    std::string word;
    bool quoted = false;
    for (std::size_t i = 0; i <= text.size(); ++i) {
      const char c = i < text.size() ? text[i] : ' ';
      if (c == '"') quoted = !quoted;
      if (quoted) continue;
      if (std::isalnum(static_cast<unsigned char>(c)) || c == '_' || (c == '-' && word == "entry") ||
          (!word.empty() && word.find_first_of("0123456789") != std::string::npos &&
           (c == '.' || c == '-'))) {
        word += c;
        continue;
      }
      // A designation or a number with its unit holds a digit: "R290", "2F". So do most units said here.
      const bool code = word.find_first_of("0123456789_") != std::string::npos || word == "." || word == "-";
      const bool unit = word.size() < 5 && base::parse_spoken("20 " + word, "").has_value();
      const bool pressure =
          word == "psi" || word == "bar" || word == "kPa" || word == "MPa" || word == "inHg";
      const bool part_of_unit = word == "Btu" || word == "F" || word == "J" || word == "g" || word == "MB" ||
                                (word.size() == 1 && word[0] >= 'A' && word[0] <= 'Z');
      if (!word.empty() && !code && !unit && !pressure && !part_of_unit && machine_words().count(word) == 0)
        return text;
      word.clear();
    }
  }
  return "";
}

inline void expect_said_everywhere(const Problem& english) {
  for (const char* language : {"es", "fr"}) {
    const auto sentences = service::Sentences::load(language);
    ASSERT_TRUE(sentences) << to_text(sentences.problem());
    std::vector<std::string> left;
    for (const std::string* part : {&english.given, &english.allowed, &english.why})
      sentences->say(*part, &left);
    sentences->field(english.field, &left);
    EXPECT_EQ(untranslated(left), "") << language << ": " << to_text(english);
  }
}

}  // namespace coldwright::tests

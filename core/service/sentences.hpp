// The core's own sentences, those of Problems and of the catalogue's notes, in another language. Their key is
// the English text itself, with {1}, {2} where a value stands: data/wording/sentences/<language>.json. A room
// below this one writes plain English and knows no language; docs/decisions/0010-words.md says why.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/field_units.hpp"
#include "base/result.hpp"

namespace coldwright::service {

class Sentences {
 public:
  /// English has none and says everything as it stands.
  static Result<Sentences> load(std::string_view language);
  static Result<Sentences> parse(std::string_view json_text, const base::Numerals& numerals);

  /// `english` in this language. A text of no known form stays, but for the decimal marks of its numbers;
  /// what somebody typed, in quotes, stays in any case. What stayed and holds letters is added to `left`,
  /// where that is given: identifiers, units, and whatever nobody has translated.
  std::string say(std::string_view english, std::vector<std::string>* left = nullptr) const;
  /// A Problem's field, "entry 3 (reading), suction pressure, value".
  std::string field(std::string_view english, std::vector<std::string>* left = nullptr) const;

  /// What may not be missing in another language.
  std::vector<std::string> keys() const;

 private:
  struct Form {
    std::vector<std::string> literals;  // what stands before, between and behind the values
    std::string translation;
    std::size_t weight = 0;  // bytes of its literals: the most particular form is tried first
  };
  using Captures = std::vector<std::string_view>;

  void add(const std::string& key, const std::string& translation);
  static bool match(const Form& form, std::string_view text, Captures& captures);
  std::string said(std::string_view english, bool of_field, std::vector<std::string>* left) const;
  std::string leaf(std::string_view text, std::vector<std::string>* left) const;

  bool english_ = true;
  base::Numerals numerals_;
  std::map<std::string, std::string, std::less<>> whole_, fields_;
  std::vector<Form> forms_;
};

}  // namespace coldwright::service

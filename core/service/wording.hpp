// Words for what the core says in keys and numbers: data/wording/<language>.json, filled with values in the
// reader's units. A template that is missing is never passed over: it shows as "[no wording for ...]", which
// a test looks for.
#pragma once

#include <initializer_list>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/field_units.hpp"
#include "base/result.hpp"
#include "diagnosis/answer.hpp"

namespace coldwright::service {

/// How a cause's severity is told: "{interval} of the charge is missing", the interval as percent of `scale`.
struct Measure {
  std::string text;
  std::string as;    // percent, times, pressure_difference, temperature_difference, plain
  double scale = 1;  // shown = offset + scale * severity, before the unit
  double offset = 0;
};

class Wording {
 public:
  static Result<Wording> load(std::string_view language);
  static Result<Wording> parse(std::string_view json_text);

  bool has(std::string_view section, std::string_view key) const;
  /// A label; "[no wording for section.key]" when there is none.
  std::string word(std::string_view section, std::string_view key) const;
  /// The label of an id that fills {placeholder}, looked for first where the placeholder's name points
  /// ("subject", "reading", ...), then among causes and everywhere else; the text itself when there is none.
  std::string named_word(std::string_view placeholder, std::string_view id) const;
  /// A template of `section` filled with texts: phrase("phrases", "recalled", {{"text", "4.0"}}).
  using Filling = std::initializer_list<std::pair<std::string_view, std::string_view>>;
  std::string phrase(std::string_view section, std::string_view key, Filling filling) const;
  /// "R32, R125 and R134a"; `last` is "and" or "or".
  std::string listed(const std::vector<std::string>& words, std::string_view last) const;
  /// How the language writes numbers.
  base::Numerals numerals() const;
  /// "28.1 to 36.4 psig", or one number when both ends read alike.
  std::string interval(diagnosis::Unit unit, const diagnosis::Interval& interval,
                       const base::Display& display) const;
  /// Cause or pair of causes.
  std::string cause(std::string_view id) const;

  /// The template of `section` (statements, cautions, advice) with its {placeholders} filled: {name} by a
  /// value or word of the statement, {low to high} by two values with their unit said once.
  std::string sentence(std::string_view section, const diagnosis::Statement& statement,
                       const base::Display& display) const;
  /// "30 to 45 % of the charge is missing"; empty when there is no measure or no interval.
  std::string severity(std::string_view measure, const diagnosis::Interval& interval,
                       const base::Display& display) const;

  std::vector<std::string> keys(std::string_view section) const;

 private:
  std::map<std::string, std::map<std::string, std::string, std::less<>>, std::less<>> sections_;
  std::map<std::string, Measure, std::less<>> measures_;
};

/// The languages there are words for: "en", "es", "fr".
std::span<const std::string_view> languages();
/// What is wrong with a language nobody has words for; none when there are.
std::optional<Problem> check_language(std::string_view language);

/// A value in words, in the reader's unit.
base::Shown shown(diagnosis::Unit unit, double value, const base::Display& display);

/// How sure, by our own scale, as a key of the section "sureness": from 95 % "almost_certain", 80
/// "very_likely", 60 "likely", 35 "possible", 10 "less_likely", 2 "unlikely", below "very_unlikely".
std::string_view sureness(double probability);

/// "62 %", or "60 %" where one standard deviation of its error is near ten points; "<1 %", ">99 %" at the
/// ends.
std::string probability_text(double probability, double error, const base::Numerals& numerals);

}  // namespace coldwright::service

// What a procedure takes where nothing was said: each such value goes into the answer's table "taken", so
// that nobody mistakes it for their own. Kept to service/.
#pragma once

#include <charconv>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/field_units.hpp"
#include "base/text.hpp"
#include "service/procedure_answer.hpp"
#include "service/request.hpp"

namespace coldwright::service {

/// A whole number, or its digits in a text: a call's settings and a command line know texts alone.
inline std::optional<std::uint64_t> count_of(Request& request, std::string_view key, std::uint64_t low,
                                             std::uint64_t high) {
  const nlohmann::json* value = request.find(key);
  if (value == nullptr || !value->is_string()) return request.whole(key, low, high);
  const std::string text = value->get<std::string>();
  std::uint64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error == std::errc() && end == text.data() + text.size() && number >= low && number <= high)
    return number;
  request.fail({std::string(key), base::quoted(text),
                "a whole number from " + std::to_string(low) + " to " + std::to_string(high),
                "nothing else is meaningful here"});
  return std::nullopt;
}

class Taken {
 public:
  /// `said`, or `usual` remembered under the label `key` of the section "inputs".
  double value(std::optional<double> said, std::string_view key, base::Dimension dimension, double usual,
               int extra_decimals = 0) {
    if (said) return *said;
    rows_.push_back({std::string(key), dimension, usual, extra_decimals, false, ""});
    return usual;
  }
  /// A pressure shown as a vacuum gauge shows it.
  double vacuum(std::optional<double> said, std::string_view key, double usual) {
    if (said) return *said;
    rows_.push_back({std::string(key), base::Dimension::pressure, usual, 0, true, ""});
    return usual;
  }
  /// A word of the request, such as "one", whose own wording is `word` of the section "inputs".
  void word(std::string_view key, std::string_view word) {
    rows_.push_back({std::string(key), {}, 0, 0, false, std::string(word)});
  }
  void tell(ProcedureAnswer& answer) const {
    if (rows_.empty()) return;
    std::vector<std::vector<std::string>> rows;
    for (const Row& row : rows_)
      rows.push_back({answer.wording().word("inputs", row.key), text(row, answer)});
    answer.table("taken", {"taken_what", "taken_value"}, std::move(rows));
    answer.cite("our-estimate");
    answer.cite("common-practice");
  }

 private:
  struct Row {
    std::string key;
    base::Dimension dimension;
    double si;
    int extra;
    bool vacuum;
    std::string word;
  };
  static std::string text(const Row& row, const ProcedureAnswer& answer) {
    if (!row.word.empty()) return answer.wording().word("inputs", row.word);
    return row.vacuum ? base::show_vacuum(base::Pressure{row.si}, answer.display()).text()
                      : base::show(row.dimension, row.si, answer.display(), row.extra).text();
  }
  std::vector<Row> rows_;
};

}  // namespace coldwright::service

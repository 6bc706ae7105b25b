// Text for a terminal of 80 columns: headings, wrapped sentences, tables, bars. No colour, nothing that a
// pipe would spoil.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

namespace coldwright::cli {

inline constexpr std::size_t columns = 80;

/// The text behind a path of keys, "" when there is none: answers are ours, but a door never trusts.
std::string text_at(const nlohmann::json& json, std::initializer_list<std::string_view> path);
double number_at(const nlohmann::json& json, std::string_view key);
bool flag_at(const nlohmann::json& json, std::string_view key);
/// The list behind a key, empty when there is none.
const nlohmann::json& list_at(const nlohmann::json& json, std::string_view key);

class Page {
 public:
  void heading(std::string_view text);
  void blank();
  /// Wrapped at 80 columns; the first line starts with `lead`, the others with as many blanks.
  void paragraph(std::string_view text, std::string_view lead = "  ");
  void line(std::string_view text);
  /// Columns as wide as their widest cell, two blanks apart; the last one wraps.
  void table(const std::vector<std::vector<std::string>>& rows, std::string_view indent = "  ");
  const std::string& text() const { return text_; }

 private:
  std::string text_;
};

/// "[########............]"
std::string bar(double share, std::size_t width);
/// Filled with blanks to `width` columns.
std::string padded(std::string_view text, std::size_t width);
/// "76 %", "<1 %".
std::string percent(double share);

}  // namespace coldwright::cli

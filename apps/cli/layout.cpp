#include "layout.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::cli {
namespace {

std::size_t width_of(std::string_view utf8) {
  return static_cast<std::size_t>(std::count_if(
      utf8.begin(), utf8.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

/// Words of a text, none longer than a line.
std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  for (char c : text) {
    if (c == ' ' || c == '\n' || c == '\t') {
      if (!word.empty()) words.push_back(std::move(word));
      word.clear();
    } else {
      word += c;
    }
  }
  if (!word.empty()) words.push_back(std::move(word));
  return words;
}

/// True for what follows a number and is read with it: "31.5 psig", "80 %".
bool is_unit(std::string_view word) {
  while (!word.empty() && std::string_view(".,;:").find(word.back()) != std::string_view::npos)
    word.remove_suffix(1);
  constexpr std::string_view units[] = {"%",   "psig", "psia", "psi",  "inHg", "bar(g)", "bar(a)",
                                        "bar", "bar)", "psi)", "°F",   "°C",   "K",      "A",
                                        "V",   "W",    "ohm",  "kohm", "Mohm", "oz",     "lb",
                                        "g",   "kg",   "min",  "h",    "bit",  "Btu/h"};
  return std::find(std::begin(units), std::end(units), word) != std::end(units);
}

/// Numbers and their units stay on one line.
std::vector<std::string> glued(const std::vector<std::string>& words) {
  std::vector<std::string> out;
  for (const std::string& word : words) {
    const bool after_number = !out.empty() && out.back().back() >= '0' && out.back().back() <= '9';
    if (after_number && is_unit(word))
      out.back().append(" ").append(word);
    else
      out.push_back(word);
  }
  return out;
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  std::vector<std::string> lines(1);
  for (const std::string& word : glued(words_of(text))) {
    std::string& last = lines.back();
    if (last.empty())
      last = word;
    else if (width_of(last) + 1 + width_of(word) <= width)
      last.append(" ").append(word);
    else
      lines.push_back(word);
  }
  return lines;
}

}  // namespace

std::string text_at(const nlohmann::json& json, std::initializer_list<std::string_view> path) {
  const nlohmann::json* at = &json;
  for (std::string_view key : path) {
    if (!at->is_object()) return "";
    const auto found = at->find(std::string(key));
    if (found == at->end()) return "";
    at = &*found;
  }
  const std::string* text = at->get_ptr<const std::string*>();
  return text == nullptr ? "" : *text;
}

double number_at(const nlohmann::json& json, std::string_view key) {
  const auto found = json.find(std::string(key));
  return found != json.end() && found->is_number() ? found->get<double>() : 0.0;
}

bool flag_at(const nlohmann::json& json, std::string_view key) {
  const auto found = json.find(std::string(key));
  return found != json.end() && found->is_boolean() && found->get<bool>();
}

const nlohmann::json& list_at(const nlohmann::json& json, std::string_view key) {
  static const nlohmann::json empty = nlohmann::json::array();
  const auto found = json.find(std::string(key));
  return found != json.end() && found->is_array() ? *found : empty;
}

void Page::heading(std::string_view text) {
  if (!text_.empty()) blank();
  line(text);
}

void Page::blank() { text_ += '\n'; }

void Page::line(std::string_view text) {
  std::string whole(text);
  whole.erase(whole.find_last_not_of(' ') + 1);
  text_ += whole + "\n";
}

void Page::paragraph(std::string_view text, std::string_view lead) {
  const std::string hang(width_of(lead), ' ');
  bool first = true;
  for (const std::string& one : wrapped(text, columns - width_of(lead))) {
    line((first ? std::string(lead) : hang) + one);
    first = false;
  }
}

void Page::table(const std::vector<std::vector<std::string>>& rows, std::string_view indent) {
  std::vector<std::size_t> widths;
  for (const auto& row : rows) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
  }
  for (const auto& row : rows) {
    std::string lead(indent);
    for (std::size_t i = 0; i + 1 < row.size(); ++i) lead += padded(row[i], widths[i] + 2);
    if (!row.empty()) paragraph(row.back(), lead);
  }
}

std::string bar(double share, std::size_t width) {
  const auto full =
      static_cast<std::size_t>(std::lround(std::clamp(share, 0.0, 1.0) * static_cast<double>(width)));
  return "[" + std::string(full, '#') + std::string(width - full, '.') + "]";
}

std::string padded(std::string_view text, std::size_t width) {
  const std::size_t used = width_of(text);
  return std::string(text) + std::string(used < width ? width - used : 0, ' ');
}

std::string percent(double share) {
  if (share > 0 && share < 0.01) return "<1 %";
  if (share > 0.99 && share < 1) return ">99 %";
  return std::to_string(std::lround(100 * share)) + " %";
}

}  // namespace coldwright::cli

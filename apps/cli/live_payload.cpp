#include "live_payload.hpp"

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <utility>

namespace coldwright::cli {
namespace {

using nlohmann::json;

constexpr std::size_t kLongestUnit = 12, kMostKeys = 64, kMostKept = 4096;

std::string_view trimmed_ends(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

struct SaidNumber {
  std::string value, unit;
};

std::optional<SaidNumber> number_said(std::string_view text) {
  text = trimmed_ends(text);
  std::string low(text);
  std::transform(low.begin(), low.end(), low.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  for (const char* word : {"on", "open", "true"})
    if (low == word) return SaidNumber{"1", ""};
  for (const char* word : {"off", "closed", "false"})
    if (low == word) return SaidNumber{"0", ""};
  std::size_t end = text.find_first_not_of("0123456789.,+-eE");
  if (end == std::string_view::npos) end = text.size();
  std::string number(text.substr(0, end));
  if (number.starts_with('+')) number.erase(0, 1);
  // One comma and no point is a decimal comma; more would be thousands, which nobody's sensor sends.
  if (std::count(number.begin(), number.end(), ',') == 1 && number.find('.') == std::string::npos)
    number[number.find(',')] = '.';
  double value = 0;
  const auto read = std::from_chars(number.data(), number.data() + number.size(), value);
  if (read.ec != std::errc() || read.ptr != number.data() + number.size() || !std::isfinite(value))
    return std::nullopt;
  const std::string_view unit = trimmed_ends(text.substr(end));
  const auto control = [](unsigned char c) { return c < ' ' || (c >= '0' && c <= '9'); };
  if (unit.size() > kLongestUnit || std::any_of(unit.begin(), unit.end(), control)) return std::nullopt;
  return SaidNumber{number, std::string(unit)};
}

std::optional<SaidNumber> number_in(const json& value) {
  if (value.is_number()) return SaidNumber{value.dump(), ""};
  if (value.is_boolean()) return SaidNumber{value.get<bool>() ? "1" : "0", ""};
  if (value.is_string()) return number_said(std::string_view(value.get_ref<const std::string&>()));
  return std::nullopt;
}

LiveRow row_of(std::string time, std::string sensor, SaidNumber said) {
  if (!said.unit.empty()) sensor += " (" + said.unit + ")";
  return {std::move(time), std::move(sensor), std::move(said.value)};
}

/// "2026-03-04T13:05:06..." and nothing that would upset a table.
bool is_iso_instant(const std::string& text) {
  return text.size() >= 19 && text.size() <= 35 && text[4] == '-' && text[7] == '-' &&
         (text[10] == 'T' || text[10] == ' ') && text[13] == ':' && text[16] == ':' &&
         text.find_first_not_of("0123456789-:TZ+. ") == std::string::npos;
}

std::vector<LiveRow> object_rows(std::string_view topic, const json& object) {
  std::vector<LiveRow> rows;
  std::string time, unit;
  if (const auto at = object.find("time"); at != object.end() && at->is_string())
    if (const auto& text = at->get_ref<const std::string&>(); is_iso_instant(text)) time = text;
  if (const auto at = object.find("unit"); at != object.end() && at->is_string()) {
    unit = at->get<std::string>();
    if (unit.size() > kLongestUnit || unit.find('\n') != std::string::npos) unit.clear();
  }
  for (const auto& [key, value] : object.items()) {
    if (key == "time" || key == "unit" || rows.size() == kMostKeys) continue;
    auto said = number_in(value);
    if (!said) continue;
    if (key == "value" && said->unit.empty()) said->unit = unit;
    rows.push_back(row_of(time, std::string(topic) + (key == "value" ? "" : "/" + key), std::move(*said)));
  }
  return rows;
}

}  // namespace

std::vector<LiveRow> live_rows(std::string_view topic, std::string_view payload) {
  if (trimmed_ends(payload).starts_with('{')) {
    const json object = json::parse(payload, nullptr, false);
    return object.is_object() ? object_rows(topic, object) : std::vector<LiveRow>{};
  }
  auto said = number_said(payload);
  if (!said) return {};
  return {row_of("", std::string(topic), std::move(*said))};
}

std::string live_cell(std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos && !text.starts_with('#'))
    return std::string(text);
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? "\"\"" : c == '\n' || c == '\r' ? " " : std::string(1, c);
  return out + "\"";
}

std::string live_kept(std::string_view payload) {
  const bool cut = payload.size() > kMostKept;
  const json text = std::string(payload.substr(0, kMostKept));
  std::string out = text.dump(-1, ' ', true, json::error_handler_t::replace);
  if (cut) out += " and " + std::to_string(payload.size() - kMostKept) + " bytes more";
  return out;
}

}  // namespace coldwright::cli

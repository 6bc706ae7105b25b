#include "traces/cells.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "base/text.hpp"

namespace coldwright::traces {
namespace {

bool blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }
bool digit(char c) { return c >= '0' && c <= '9'; }

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  // The blank that doesn't break, as some loggers put it beside a unit.
  while (text.size() >= 2 && text.starts_with("\xC2\xA0")) text.remove_prefix(2);
  while (text.size() >= 2 && text.ends_with("\xC2\xA0")) text.remove_suffix(2);
  return text;
}

/// A cell in quotes that begins at `at`; doubled quotes inside become one. Leaves `at` behind it.
std::string_view quoted_cell(std::string_view line, std::size_t& at, std::string& store) {
  const std::size_t from = at + 1;
  bool doubled = false;
  for (at = from; at < line.size(); ++at) {
    if (line[at] != '"') continue;
    if (at + 1 < line.size() && line[at + 1] == '"') {
      doubled = true;
      ++at;
      continue;
    }
    break;
  }
  const std::string_view inside = line.substr(from, std::min(at, line.size()) - from);
  if (at < line.size()) ++at;
  if (!doubled) return inside;
  const std::size_t kept = store.size();
  if (store.capacity() < kept + inside.size()) return inside;  // a view into `store` must stay where it is
  for (std::size_t i = 0; i < inside.size(); ++i) {
    store += inside[i];
    if (inside[i] == '"') ++i;
  }
  return std::string_view(store).substr(kept);
}

void split_at_blanks(std::string_view line, std::vector<std::string_view>& cells, std::string& store) {
  for (std::size_t at = 0; at < line.size();) {
    if (blank(line[at])) {
      ++at;
    } else if (line[at] == '"') {
      cells.push_back(quoted_cell(line, at, store));
    } else {
      const std::size_t from = at;
      while (at < line.size() && !blank(line[at])) ++at;
      cells.push_back(line.substr(from, at - from));
    }
  }
}

}  // namespace

void split(std::string_view line, char separator, std::vector<std::string_view>& cells, std::string& store) {
  cells.clear();
  store.clear();
  store.reserve(line.size());
  if (separator == ' ') return split_at_blanks(line, cells, store);
  for (std::size_t at = 0;;) {
    std::size_t first = at;
    while (first < line.size() && line[first] != separator && blank(line[first])) ++first;
    if (first < line.size() && line[first] == '"') {
      const std::string_view cell = quoted_cell(line, first, store);
      cells.push_back(trimmed(cell));
      at = line.find(separator, first);
    } else {
      const std::size_t end = line.find(separator, at);
      cells.push_back(trimmed(line.substr(at, end == std::string_view::npos ? end : end - at)));
      at = end;
    }
    if (at == std::string_view::npos) return;
    ++at;
  }
}

bool is_missing(std::string_view cell) {
  if (cell.empty()) return true;
  if (cell.find_first_not_of("-.*_?") == std::string_view::npos) return true;
  if (cell.size() > 12) return false;
  const std::string word = base::lower(cell);
  constexpr std::array<std::string_view, 25> kWords = {
      "nan",     "n/a",         "na",      "null",    "none",    "nil", "#n/a",    "#value!", "#num!",
      "-nan",    "err",         "error",   "fault",   "invalid", "bad", "missing", "missed",  "timeout",
      "offline", "unavailable", "unknown", "no data", "nodata",  "inf", "-inf"};
  return std::find(kWords.begin(), kWords.end(), word) != kWords.end();
}

bool is_sentinel(double v) {
  constexpr std::array kMarks = {-127.0,  -999.0,   -999.9,  -9999.0, -99999.0, 9999.0, 99999.0,
                                 32767.0, -32768.0, 65535.0, 6553.5,  3276.7,   -3276.8};
  return std::find(kMarks.begin(), kMarks.end(), v) != kMarks.end();
}

std::optional<Number> number_in(std::string_view cell, char decimal) {
  // The plain case first: it is nearly every cell of a large file.
  if (cell.starts_with('+')) cell.remove_prefix(1);
  double value = 0;
  const char* const end = cell.data() + cell.size();
  if (decimal == '.') {
    const auto done = std::from_chars(cell.data(), end, value);
    if (done.ec == std::errc() && done.ptr == end && std::isfinite(value)) return Number{value, {}};
  }
  if (cell.empty() || cell.size() > 64) return std::nullopt;
  std::array<char, 72> plain{};
  std::size_t length = 0, at = 0;
  if (cell.starts_with("\xE2\x88\x92")) {  // U+2212, the minus of typesetters
    plain[length++] = '-';
    at = 3;
  }
  const char thousands = decimal == '.' ? ',' : '.';
  bool digits = false;
  for (; at < cell.size(); ++at) {
    const char c = cell[at];
    const bool more = at + 1 < cell.size() && digit(cell[at + 1]);
    if (digit(c)) {
      plain[length++] = c;
      digits = true;
    } else if (c == decimal) {
      plain[length++] = '.';
    } else if (c == '-' && length == 0) {
      plain[length++] = c;
    } else if ((c == 'e' || c == 'E') && digits && at + 1 < cell.size() &&
               (digit(cell[at + 1]) || ((cell[at + 1] == '-' || cell[at + 1] == '+') &&
                                        at + 2 < cell.size() && digit(cell[at + 2])))) {
      plain[length++] = 'e';
      if (cell[at + 1] == '-') plain[length++] = '-';
      if (!digit(cell[at + 1])) ++at;
    } else if (digits && more && (c == thousands || c == '\'' || c == ' ')) {
      // 1,234.5 and 1 234,5: three digits must follow, or it is no such sign
      std::size_t run = 0;
      while (at + 1 + run < cell.size() && digit(cell[at + 1 + run])) ++run;
      if (run != 3) break;
    } else {
      break;
    }
  }
  if (!digits) return std::nullopt;
  const auto done = std::from_chars(plain.data(), plain.data() + length, value);
  if (done.ec != std::errc() || done.ptr != plain.data() + length || !std::isfinite(value))
    return std::nullopt;
  return Number{value, trimmed(cell.substr(at))};
}

}  // namespace coldwright::traces

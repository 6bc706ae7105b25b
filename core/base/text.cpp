#include "base/text.hpp"

#include <algorithm>
#include <array>
#include <vector>

namespace coldwright::base {
namespace {

/// Length of the well-formed sequence at `i`, 0 when there is none (RFC 3629, section 4).
std::size_t sequence_length(std::string_view text, std::size_t i) {
  const auto byte = [&](std::size_t k) -> unsigned {
    return k < text.size() ? static_cast<unsigned char>(text[k]) : 0U;
  };
  const auto tail = [&](std::size_t k) { return (byte(k) & 0xC0U) == 0x80U; };
  const unsigned first = byte(i);
  if (first < 0x80) return 1;
  if (first >= 0xC2 && first <= 0xDF) return tail(i + 1) ? 2 : 0;
  if (first >= 0xE0 && first <= 0xEF) {
    const unsigned second = byte(i + 1);
    if (first == 0xE0 && second < 0xA0) return 0;  // overlong
    if (first == 0xED && second > 0x9F) return 0;  // surrogate
    return tail(i + 1) && tail(i + 2) ? 3 : 0;
  }
  if (first >= 0xF0 && first <= 0xF4) {
    const unsigned second = byte(i + 1);
    if (first == 0xF0 && second < 0x90) return 0;
    if (first == 0xF4 && second > 0x8F) return 0;
    return tail(i + 1) && tail(i + 2) && tail(i + 3) ? 4 : 0;
  }
  return 0;
}

/// Letters changed, left out, added, or swapped with a neighbour: each counts one.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before_last(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U)});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
    before_last.swap(last);
    last.swap(row);
  }
  return last[b.size()];
}

}  // namespace

std::optional<std::size_t> first_invalid_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t n = sequence_length(text, i);
    if (n == 0) return i;
    i += n;
  }
  return std::nullopt;
}

std::string quoted(std::string_view text, std::size_t most) {
  std::string out = "\"";
  std::size_t shown = 0;
  for (std::size_t i = 0; i < text.size(); ++shown) {
    if (shown == most) {
      out += "...";
      break;
    }
    const std::size_t n = sequence_length(text, i);
    const bool printable =
        n > 1 || (n == 1 && static_cast<unsigned char>(text[i]) >= 0x20 && text[i] != 0x7F);
    if (printable)
      out += text.substr(i, n);
    else
      out += '?';
    i += std::max<std::size_t>(n, 1);
  }
  out += '"';
  return out;
}

std::optional<std::string> nearest(std::string_view typed, std::span<const std::string> allowed) {
  if (typed.empty() || typed.size() > 64) return std::nullopt;
  const std::string low = lower(typed);
  const std::string* best = nullptr;
  std::size_t best_distance = 0;
  for (const std::string& word : allowed) {
    const std::size_t distance = edit_distance(low, lower(word));
    const std::size_t limit = std::clamp<std::size_t>(word.size() / 3, 1, 3);
    if (distance <= limit && (best == nullptr || distance < best_distance)) {
      best = &word;
      best_distance = distance;
    }
  }
  if (best == nullptr) return std::nullopt;
  return *best;
}

std::string listed(std::span<const std::string> words, std::string_view last) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0 && i + 1 < words.size()) out += ", ";
    if (i > 0 && i + 1 == words.size()) out.append(" ").append(last).append(" ");
    out += words[i];
  }
  return out;
}

std::size_t shown_width(std::string_view utf8) {
  return static_cast<std::size_t>(std::count_if(
      utf8.begin(), utf8.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string lower(std::string_view ascii) {
  std::string out(ascii);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
}

std::string plain_signs(std::string_view text) {
  std::string out(text);
  using Pair = std::pair<std::string_view, std::string_view>;
  constexpr std::array<Pair, 25> same = {{
      {"\u2212", "-"},    {"\u2013", "-"},    {"\u2010", "-"},    {"\u2011", "-"},  // minus, dash, hyphens
      {"\u00A0", " "},    {"\u202F", " "},    {"\u2009", " "},  // no-break and thin spaces
      {"\u00BD", " 1/2"}, {"\u00BC", " 1/4"}, {"\u00BE", " 3/4"}, {"\u215B", " 1/8"},
      {"\u215C", " 3/8"}, {"\u215D", " 5/8"}, {"\u215E", " 7/8"}, {"\u2153", " 1/3"},
      {"\u2154", " 2/3"}, {"\u2044", "/"},                      // fractions
      {"\u2033", "\""},   {"\u201D", "\""},   {"\u2019", "'"},  // inches and feet as a phone writes them
      {"\u00BA", "°"},    {"\u02DA", "°"},                      // look-alikes of the degree sign
      {"\u03BC", "µ"},    {"\u2126", "Ω"},    {"\u00B7", ""},   // micro, ohm, middle dot
  }};
  for (const auto& [from, to] : same) replace_all(out, from, to);
  const auto keep = out.find_first_not_of(" \t\r\n");
  if (keep == std::string::npos) return "";
  return out.substr(keep, out.find_last_not_of(" \t\r\n") - keep + 1);
}

}  // namespace coldwright::base

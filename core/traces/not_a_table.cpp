// Files that are something else, told by how they begin.
#include <algorithm>

#include "traces/guess_parts.hpp"

namespace coldwright::traces {
namespace {

constexpr const char* kSave = "a logger's or spreadsheet's table, saved as delimited text";

/// Signs that no text has, in its first four kilobytes.
bool binary(std::string_view head) {
  const std::string_view start = head.substr(0, 4096);
  const auto odd = std::count_if(start.begin(), start.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 9 || (byte > 13 && byte < 32);
  });
  return static_cast<std::size_t>(odd) * 20 > start.size();
}

}  // namespace

std::optional<Problem> not_a_table(std::string_view head, Encoding encoding) {
  const std::size_t first = head.find_first_not_of(" \t\r\n\xEF\xBB\xBF");
  if (first == std::string_view::npos)
    return Problem{"trace", "an empty file", "rows of at least a time and a number",
                   "there is nothing to read"};
  if (encoding == Encoding::utf16_le || encoding == Encoding::utf16_be) return std::nullopt;
  for (const char* packed : {"\x1F\x8B", "PK\x03\x04", "BZh",
                             "\xFD"
                             "7zXZ",
                             "7z\xBC\xAF", "\x28\xB5\x2F\xFD", "\xD0\xCF\x11\xE0"})
    if (head.starts_with(packed))
      return Problem{"trace", "a packed file or a spreadsheet's own format", kSave,
                     "only delimited text is read"};
  if (head.starts_with("%PDF") || head.starts_with("SQLite format") || binary(head))
    return Problem{"trace", "a binary file", kSave, "only delimited text is read"};
  const std::string_view text = head.substr(first);
  const std::size_t next = text.find_first_not_of(" \t\r\n", 1);
  const char second = next == std::string_view::npos ? ' ' : text[next];
  if ((text[0] == '{' && second == '"') || (text[0] == '[' && (second == '{' || second == '[')))
    return Problem{"trace", "JSON", kSave, "only delimited text is read"};
  if (text[0] == '<' && (second == '?' || second == '!' || (second >= 'A' && second <= 'z')))
    return Problem{"trace", "XML or HTML", kSave, "only delimited text is read"};
  return std::nullopt;
}

}  // namespace coldwright::traces

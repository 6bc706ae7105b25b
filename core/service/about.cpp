#include "service/about.hpp"

#include <cstdint>

#include "service/embedded.hpp"

namespace coldwright::service {
namespace {

/// The text after "name = " in a BibTeX entry, braces balanced and then dropped.
std::string bib_field(std::string_view entry, std::string_view name) {
  for (std::size_t at = entry.find(name); at != std::string_view::npos; at = entry.find(name, at + 1)) {
    const char before = at == 0 ? ' ' : entry[at - 1];
    std::size_t i = entry.find_first_not_of(" \t", at + name.size());
    if ((before != ' ' && before != '\n' && before != ',') || i == std::string_view::npos || entry[i] != '=')
      continue;
    i = entry.find('{', i);
    if (i == std::string_view::npos) return "";
    std::string out;
    int depth = 0;
    for (; i < entry.size(); ++i) {
      if (entry[i] == '{')
        ++depth;
      else if (entry[i] == '}')
        --depth;
      else
        out += entry[i];
      if (depth == 0) break;
    }
    return out;
  }
  return "";
}

/// TeX's ways to write what a terminal shows plainly.
std::string plain(std::string text) {
  constexpr std::pair<std::string_view, std::string_view> swaps[] = {
      {"\\\"u", "ü"}, {"\\\"o", "ö"}, {"\\\"a", "ä"}, {"\\'e", "é"}, {"--", "-"}, {"\\&", "&"}};
  for (const auto& [from, to] : swaps)
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
      text.replace(at, from.size(), to);
  return text;
}

/// "Lemmon, E. W. and McLinden, M. O. and Wagner, W." becomes "Lemmon and others".
std::string first_author(const std::string& authors) {
  const std::size_t more = authors.find(" and ");
  std::string first = authors.substr(0, more);
  const std::size_t comma = first.find(',');
  if (comma != std::string::npos) first.resize(comma);
  if (more == std::string::npos) return first;
  const std::string rest = authors.substr(more + 5);
  if (rest.find(" and ") != std::string::npos) return first + " and others";
  return first + " and " + rest.substr(0, rest.find(','));
}

std::string_view bib_entry(std::string_view bibliography, std::string_view key) {
  const std::string head = "{" + std::string(key) + ",";
  const std::size_t at = bibliography.find(head);
  if (at == std::string_view::npos) return {};
  return bibliography.substr(at, bibliography.find("\n@", at) - at);
}

}  // namespace

std::string data_version() {
  std::uint64_t hash = 14695981039346656037ULL;  // FNV-1a
  const auto take = [&](std::string_view text) {
    for (char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  };
  for (const EmbeddedFile& file : embedded_files()) {
    take(file.path);
    take(file.text);
  }
  constexpr std::string_view hex = "0123456789abcdef";
  std::string out;
  for (int shift = 60; shift > 20; shift -= 4) out += hex[(hash >> shift) & 15U];
  return out;
}

std::string citation(std::string_view source) {
  const std::size_t comma = source.find(',');
  const std::string_view key = source.substr(0, comma);
  const std::string_view entry = bib_entry(embedded("references.bib").value_or(""), key);
  const std::string title = bib_field(entry, "title");
  if (title.empty()) return std::string(source);
  const std::string author = first_author(bib_field(entry, "author"));
  const std::string year = bib_field(entry, "year");
  std::string out = author + (year.empty() ? "" : " (" + year + ")") + (author.empty() ? "" : ", ") + title;
  std::string where = bib_field(entry, "journal");
  if (where.empty()) where = bib_field(entry, "booktitle");
  if (where.empty()) where = bib_field(entry, "publisher");
  if (!where.empty()) out += ", " + where;
  if (comma != std::string_view::npos)
    out += ", " + std::string(source.substr(source.find_first_not_of(" ,", comma)));
  return plain(out);
}

}  // namespace coldwright::service

// A file's first lines as a table: which sign parts them, where the data begin, what the headings are.
#include <algorithm>
#include <map>

#include "traces/cells.hpp"
#include "traces/decode.hpp"
#include "traces/guess_parts.hpp"
#include "traces/times.hpp"

namespace coldwright::traces {
namespace {

constexpr std::size_t kLines = 4000;

/// Cells that a row of data has: numbers, times, gaps. A header has none.
bool like_data(std::string_view cell, char decimal) {
  const auto number = number_in(cell, decimal);
  if (number && number->rest.size() < 5) return true;
  return written_time(cell).has_value();
}

/// What a cell's commas or points speak for: decimals, thousands, or either.
struct Marks {
  std::size_t sure = 0, either = 0, bare = 0;  // bare: whole numbers of up to three digits without any sign
};

/// "12,5" is a decimal; "2,970" may be either; "0,970" isn't thousands.
void count_marks(const std::string& cell, char sign, Marks& marks) {
  const std::size_t at = cell.find(sign);
  marks.bare += !cell.empty() && cell.size() <= 3 && cell != "0" &&
                cell.find_first_not_of("0123456789") == std::string::npos;
  if (at == std::string::npos || !number_in(cell, sign)) return;
  const char other = sign == ',' ? '.' : ',';
  if (cell.find(other) != std::string::npos) {
    marks.sure += cell.rfind(other) < at;
    return;
  }
  const std::size_t begin = cell.find_first_of("0123456789"), before = at - std::min(begin, at);
  std::size_t digits = 0;
  while (at + 1 + digits < cell.size() && cell[at + 1 + digits] >= '0' && cell[at + 1 + digits] <= '9')
    ++digits;
  const bool thousands = digits == 3 && before >= 1 && before <= 3 && cell[begin] != '0';
  ++(thousands ? marks.either : marks.sure);
}

}  // namespace

Parting parting(const std::vector<std::string>& lines, char separator) {
  std::map<std::size_t, std::size_t> counts;
  std::vector<std::string_view> cells;
  std::string store;
  std::size_t all = 0;
  for (const std::string& line : lines) {
    if (line.find_first_not_of(" \t,;") == std::string::npos) continue;
    split(line, separator, cells, store);
    while (cells.size() > 2 && cells.back().empty()) cells.pop_back();
    ++counts[cells.size()];
    ++all;
  }
  Parting out{separator, 0, 0};
  std::size_t most = 0;
  for (const auto& [width, count] : counts)
    if (count >= most) {
      most = count;
      out.width = width;
    }
  // Gaps at the end of a row leave it short: the widest that is common counts.
  for (const auto& [width, count] : counts)
    if (width > out.width && count * 4 > all) out.width = width;
  std::size_t fitting = 0;
  for (const auto& [width, count] : counts) fitting += width <= out.width && width > 1 ? count : 0;
  out.share = all == 0 ? 0 : static_cast<double>(fitting) / static_cast<double>(all);
  return out;
}

std::vector<std::string> lines_of(std::string_view head, Encoding encoding) {
  Decoder decoder(encoding);
  decoder.feed(head);
  std::vector<std::string> lines;
  while (lines.size() < kLines) {
    const auto line = decoder.line();
    if (!line) break;
    lines.emplace_back(*line);
  }
  // The last line may be cut where the head ends; it counts only when it is all there is of it.
  if (head.size() < head_bytes && lines.size() < kLines)
    if (const auto rest = decoder.rest(); rest && !rest->empty()) lines.emplace_back(*rest);
  return lines;
}

Parting choose(const std::vector<std::string>& lines) {
  Parting best;
  for (const char separator : {'\t', ';', '|', ',', ' '}) {
    const Parting one = parting(lines, separator);
    if (one.width < 2 || one.share < 0.4) continue;
    if (best.width < 2 || one.share > best.share + 0.2) best = one;
  }
  return best;
}

/// The numbers' sign. Where each number of a column has three digits behind it and smaller ones have none, it
/// parts thousands.
char decimal_of(const std::vector<std::vector<std::string>>& rows) {
  std::vector<Marks> commas, points;
  for (const auto& row : rows) {
    commas.resize(std::max(commas.size(), row.size()));
    points.resize(commas.size());
    for (std::size_t c = 0; c < row.size(); ++c) {
      if (written_time(row[c])) continue;
      count_marks(row[c], ',', commas[c]);
      count_marks(row[c], '.', points[c]);
    }
  }
  std::size_t with_comma = 0, with_point = 0, thousands_comma = 0, thousands_point = 0;
  const auto add = [](const Marks& marks, std::size_t& decimals, std::size_t& thousands) {
    const bool decimal = marks.sure > 0 || marks.bare == 0;
    (decimal ? decimals : thousands) += marks.sure + marks.either;
  };
  for (std::size_t c = 0; c < commas.size(); ++c) {
    add(commas[c], with_comma, thousands_comma);
    add(points[c], with_point, thousands_point);
  }
  if (with_comma == 0 && with_point == 0) return thousands_point > thousands_comma ? ',' : '.';
  return with_comma > with_point ? ',' : '.';
}

Table tabled(const std::vector<std::string>& lines, const Parting& parted, int& header_rows) {
  Table table;
  table.width = parted.width;
  std::vector<std::string_view> cells;
  std::string store;
  bool begun = false;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    split(lines[i], parted.separator, cells, store);
    while (cells.size() > parted.width && cells.back().empty()) cells.pop_back();
    std::vector<std::string> row(cells.begin(), cells.end());
    std::size_t numbers = 0, filled = 0;
    for (const std::string& cell : row) {
      filled += !cell.empty();
      numbers += like_data(cell, '.') || like_data(cell, ',');
    }
    const bool is_data = row.size() >= 2 && row.size() <= parted.width && numbers >= 1 &&
                         numbers * 3 >= filled && !lines[i].starts_with('#');
    if (!begun && is_data && i + 1 < lines.size()) {
      // One line like data inside a preamble isn't its beginning: the next must be one too.
      std::string again_store;
      std::vector<std::string_view> again;
      split(lines[i + 1], parted.separator, again, again_store);
      std::size_t more = 0;
      for (const std::string_view cell : again) more += like_data(cell, '.') || like_data(cell, ',');
      begun =
          more >= 1 && (again.size() + 1 >= row.size() || again.size() >= 2) && row.size() * 2 > parted.width;
    } else if (!begun && is_data) {
      begun = true;
    }
    if (!begun) {
      table.header.push_back(std::move(row));
      header_rows = static_cast<int>(i) + 1;
    } else if (is_data) {
      table.rows.push_back(std::move(row));
    }
  }
  return table;
}

Heads heads_of(const Table& table) {
  Heads out{std::vector<std::string>(table.width), std::vector<std::string>(table.width)};
  int names_row = -1, units_row = -1;
  for (int i = static_cast<int>(table.header.size()) - 1; i >= 0; --i) {
    const auto& row = table.header[static_cast<std::size_t>(i)];
    if (row.size() < 2 && table.width > 1) continue;
    std::size_t units = 0, filled = 0;
    for (const std::string& cell : row) {
      filled += !cell.empty();
      units +=
          !cell.empty() && cell.size() < 10 && !unit_in(cell).empty() && cell.find(' ') == std::string::npos;
    }
    if (filled == 0) continue;
    if (units_row < 0 && names_row < 0 && units * 2 >= filled && i > 0) {
      units_row = i;
      continue;
    }
    names_row = i;
    break;
  }
  const auto copy = [&](int from, std::vector<std::string>& to) {
    if (from < 0) return;
    const auto& row = table.header[static_cast<std::size_t>(from)];
    for (std::size_t c = 0; c < row.size() && c < to.size(); ++c) {
      to[c] = row[c];
      if (c == 0)
        while (!to[c].empty() && (to[c].front() == '#' || to[c].front() == ' ')) to[c].erase(0, 1);
    }
  };
  copy(names_row, out.names);
  copy(units_row, out.units);
  return out;
}

bool commas_in_numbers(const Table& table, const Heads& heads) {
  std::size_t named = 0;
  for (std::size_t c = 0; c < heads.names.size(); ++c) {
    if (heads.names[c].empty()) continue;
    if (c != named) return false;
    ++named;
  }
  if (named < 2 || table.width != 2 * named - 1) return false;
  std::size_t whole = 0;
  for (const auto& row : table.rows)
    whole +=
        row.size() == table.width &&
        std::all_of(row.begin() + static_cast<std::ptrdiff_t>(named), row.end(), [](const std::string& cell) {
          return !cell.empty() && cell.size() < 6 &&
                 cell.find_first_not_of("0123456789") == std::string::npos;
        });
  return whole * 10 > table.rows.size() * 9;
}

}  // namespace coldwright::traces

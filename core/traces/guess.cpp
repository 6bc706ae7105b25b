#include "traces/guess.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "base/text.hpp"
#include "traces/cells.hpp"
#include "traces/decode.hpp"
#include "traces/guess_parts.hpp"
#include "traces/times.hpp"

namespace coldwright::traces {
namespace {

constexpr std::size_t kLines = 4000;

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

/// Cells that a row of data has: numbers, times, gaps. A header has none.
bool like_data(std::string_view cell, char decimal) {
  const auto number = number_in(cell, decimal);
  if (number && number->rest.size() < 5) return true;
  return written_time(cell).has_value();
}

struct Parting {
  char separator = ',';
  std::size_t width = 0;
  double share = 0;  // of the lines that have so many cells
};

Parting parting(const std::vector<std::string>& lines, char separator) {
  std::map<std::size_t, std::size_t> counts;
  std::vector<std::string_view> cells;
  std::string store;
  std::size_t all = 0;
  for (const std::string& line : lines) {
    if (line.find_first_not_of(" \t,;") == std::string::npos) continue;
    split(line, separator, cells, store);
    while (cells.size() > 1 && cells.back().empty()) cells.pop_back();
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

Parting choose(const std::vector<std::string>& lines) {
  Parting best;
  for (const char separator : {'\t', ';', '|', ',', ' '}) {
    const Parting one = parting(lines, separator);
    if (one.width < 2 || one.share < 0.4) continue;
    if (best.width < 2 || one.share > best.share + 0.2) best = one;
  }
  return best;
}

/// Whether the numbers' sign is a comma: some cell has one, and no cell has a point that it would part from.
char decimal_of(const std::vector<std::vector<std::string>>& rows, char separator) {
  if (separator == ',') {
    // In quotes a comma may still be the decimals': "12,5".
    std::size_t comma = 0, point = 0;
    for (const auto& row : rows)
      for (const std::string& cell : row) {
        const std::size_t at = cell.find(',');
        if (at != std::string::npos && cell.size() - at - 1 != 3 && number_in(cell, ',')) ++comma;
        if (cell.find('.') != std::string::npos && number_in(cell, '.')) ++point;
      }
    return comma > point ? ',' : '.';
  }
  std::size_t comma = 0, point = 0;
  for (const auto& row : rows)
    for (const std::string& cell : row) {
      const std::size_t c = cell.rfind(','), p = cell.rfind('.');
      if (c != std::string::npos && written_time(cell) == std::nullopt && (p == std::string::npos || p < c))
        comma += number_in(cell, ',').has_value();
      if (p != std::string::npos && written_time(cell) == std::nullopt && (c == std::string::npos || c < p))
        point += number_in(cell, '.').has_value();
    }
  return comma > point ? ',' : '.';
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

struct Heads {
  std::vector<std::string> names, units;
};

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

std::vector<double> numbers_in(const Table& table, std::size_t column, char decimal, std::string& unit,
                               std::size_t& texts) {
  std::vector<double> out;
  texts = 0;
  for (const auto& row : table.rows) {
    if (column >= row.size() || is_missing(row[column])) continue;
    const auto number = number_in(row[column], decimal);
    if (!number || number->rest.size() > 8) {
      ++texts;
      continue;
    }
    if (!number->rest.empty() && unit.empty()) unit = std::string(number->rest);
    if (!is_sentinel(number->value)) out.push_back(number->value);
  }
  return out;
}

/// A column of texts beside one of numbers, with few different texts: names of sensors, or a door's words.
bool few_words(const Table& table, std::size_t column, std::vector<std::string>& words) {
  std::set<std::string> seen;
  std::size_t count = 0;
  for (const auto& row : table.rows)
    if (column < row.size() && !row[column].empty()) {
      seen.insert(row[column]);
      ++count;
    }
  words.assign(seen.begin(), seen.end());
  return !seen.empty() && seen.size() <= 40 && seen.size() * 3 <= count;
}

bool door_words(const std::vector<std::string>& words) {
  for (const std::string& word : words) {
    const std::string low = base::lower(word);
    if (low != "open" && low != "closed" && low != "close" && low != "shut" && low != "abierta" &&
        low != "cerrada" && low != "ouverte" &&
        low !=
            "ferm\xC3\xA9"
            "e")
      return false;
  }
  return true;
}

void find_time(const Table& table, const Heads& heads, Guess& out, std::vector<bool>& taken) {
  struct Candidate {
    std::size_t column;
    TimeGuess guess;
    std::vector<Question> questions;
  };
  std::vector<Candidate> found;
  for (std::size_t c = 0; c < table.width; ++c) {
    Candidate one{c, {}, {}};
    one.guess = guess_time(table, c, heads.names[c], out.layout.decimal, one.questions);
    if (one.guess.share > 0.7) found.push_back(std::move(one));
  }
  const auto use = [&](const Candidate& one, What what) {
    ColumnLayout& column = out.layout.columns[one.column];
    column.what = what;
    column.confidence = one.questions.empty() ? 0.97 : 0.7;
    column.why = "cells";
    taken[one.column] = true;
    out.questions.insert(out.questions.end(), one.questions.begin(), one.questions.end());
  };
  // A date with its time in one column first, then the two in two, then a clock or a count alone.
  for (const Candidate& one : found)
    if (one.guess.date && one.guess.clock && one.guess.layout.form <= TimeForm::epoch) {
      out.layout.time = one.guess.layout;
      return use(one, What::time);
    }
  for (const Candidate& day : found)
    for (const Candidate& hour : found)
      if (day.guess.date && !day.guess.clock && !hour.guess.date && hour.guess.clock) {
        out.layout.time = day.guess.layout;
        use(day, What::date);
        return use(hour, What::time_of_day);
      }
  for (const Candidate& one : found) {
    out.layout.time = one.guess.layout;
    return use(one, one.guess.layout.form == TimeForm::time_of_day ? What::time_of_day : What::time);
  }
}

void long_form(const Table& table, std::size_t name, std::size_t value, Guess& out) {
  std::map<std::string, std::vector<double>> by_name;
  for (const auto& row : table.rows)
    if (std::max(name, value) < row.size())
      if (const auto number = number_in(row[value], out.layout.decimal))
        by_name[row[name]].push_back(number->value);
  out.layout.columns[name].what = What::sensor_name;
  out.layout.columns[value].what = What::sensor_value;
  out.layout.columns[name].confidence = out.layout.columns[value].confidence = 0.85;
  out.layout.columns[name].why = out.layout.columns[value].why = "names_and_values";
  for (const auto& [sensor, values] : by_name) {
    const std::size_t asked = out.questions.size();
    const ColumnLayout one = guess_number(sensor, "", values, static_cast<int>(value), out.questions);
    for (std::size_t i = asked; i < out.questions.size(); ++i) out.questions[i].sensor = sensor;
    out.layout.sensors.push_back({sensor, one.what, one.unit});
  }
}

}  // namespace

Result<Guess> guess(std::string_view head, const Said& said) {
  Guess out;
  Layout& layout = out.layout;
  layout.encoding = guess_encoding(head);
  const std::vector<std::string> lines = lines_of(head.substr(0, head_bytes), layout.encoding);
  const Parting parted = said.separator ? parting(lines, *said.separator) : choose(lines);
  if (parted.width < 2)
    return Problem{"trace", "no table in its first lines",
                   "rows of at least a time and a number, parted by commas, semicolons, tabs or blanks",
                   "only delimited text is read"};
  layout.separator = parted.separator;
  const Table table = tabled(lines, parted, layout.header_rows);
  if (table.rows.empty())
    return Problem{"trace", "no row of numbers in its first lines", "rows of at least a time and a number",
                   "there is nothing to read"};
  layout.decimal = said.decimal ? *said.decimal : decimal_of(table.rows, layout.separator);
  const Heads heads = heads_of(table);
  layout.columns.resize(table.width);
  for (std::size_t c = 0; c < table.width; ++c) layout.columns[c].header = heads.names[c];
  std::vector<bool> taken(table.width, false);
  find_time(table, heads, out, taken);
  // Numbers and words that are left.
  std::vector<std::size_t> numeric, worded;
  for (std::size_t c = 0; c < table.width; ++c) {
    if (taken[c]) continue;
    std::string unit = heads.units[c];
    std::size_t texts = 0;
    const auto values = numbers_in(table, c, layout.decimal, unit, texts);
    (values.size() > texts ? numeric : worded).push_back(c);
  }
  std::vector<std::string> words;
  if (numeric.size() == 1)
    for (const std::size_t c : worded)
      if (few_words(table, c, words) && !door_words(words) && words.size() > 1) {
        long_form(table, c, numeric.front(), out);
        return out;
      }
  for (const std::size_t c : numeric) {
    std::string unit = heads.units[c];
    std::size_t texts = 0;
    const auto values = numbers_in(table, c, layout.decimal, unit, texts);
    layout.columns[c] = guess_number(heads.names[c], unit, values, static_cast<int>(c), out.questions);
  }
  for (const std::size_t c : worded) {
    const bool door = few_words(table, c, words) && door_words(words);
    layout.columns[c].what = door ? What::door : What::comment;
    layout.columns[c].confidence = door ? 0.9 : 0.6;
    layout.columns[c].why = "cells";
  }
  return out;
}

}  // namespace coldwright::traces

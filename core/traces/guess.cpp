#include "traces/guess.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "base/text.hpp"
#include "traces/cells.hpp"
#include "traces/decode.hpp"
#include "traces/guess_parts.hpp"
#include "traces/times.hpp"

namespace coldwright::traces {
namespace {

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
  std::map<std::string, std::pair<std::vector<double>, std::string>> by_name;
  for (const auto& row : table.rows)
    if (std::max(name, value) < row.size())
      if (const auto number = number_in(row[value], out.layout.decimal)) {
        auto& [values, unit] = by_name[row[name]];
        values.push_back(number->value);
        if (unit.empty()) unit = std::string(number->rest);
      }
  out.layout.columns[name].what = What::sensor_name;
  out.layout.columns[value].what = What::sensor_value;
  out.layout.columns[name].confidence = out.layout.columns[value].confidence = 0.85;
  out.layout.columns[name].why = out.layout.columns[value].why = "names_and_values";
  for (const auto& [sensor, read] : by_name) {
    const std::size_t asked = out.questions.size();
    const ColumnLayout one =
        guess_number(sensor, read.second, read.first, static_cast<int>(value), out.questions);
    for (std::size_t i = asked; i < out.questions.size(); ++i) out.questions[i].sensor = sensor;
    out.layout.sensors.push_back({sensor, one.what, one.unit});
  }
}

}  // namespace

Result<Guess> guess(std::string_view head, const Said& said) {
  Guess out;
  Layout& layout = out.layout;
  layout.encoding = guess_encoding(head);
  if (auto other = not_a_table(head, layout.encoding)) return *other;
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
  layout.decimal = said.decimal ? *said.decimal : decimal_of(table.rows);
  const Heads heads = heads_of(table);
  if (layout.separator == ',' && commas_in_numbers(table, heads))
    return Problem{"trace", "commas that part cells and decimals alike",
                   "numbers with a point, in quotes, or cells parted by semicolons",
                   "which digits belong together can't be told"};
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
    // An empty column still has its name.
    const bool nothing = values.empty() && texts == 0 && what_in(with_blanks(heads.names[c]));
    (values.size() > texts || nothing ? numeric : worded).push_back(c);
  }
  std::vector<std::string> words;
  if (numeric.size() == 1)
    for (const std::size_t c : worded)
      if (few_words(table, c, words) && !door_words(words) &&
          (words.size() > 1 || names_sensor(with_blanks(heads.names[c])))) {
        long_form(table, c, numeric.front(), out);
        return out;
      }
  for (const std::size_t c : numeric) {
    std::string unit = heads.units[c];
    std::size_t texts = 0;
    const auto values = numbers_in(table, c, layout.decimal, unit, texts);
    layout.columns[c] = guess_number(heads.names[c], unit, values, static_cast<int>(c), out.questions);
  }
  settle_columns(layout, out.questions);
  for (const std::size_t c : worded) {
    const bool door = few_words(table, c, words) && door_words(words);
    layout.columns[c].what = door ? What::door : What::comment;
    layout.columns[c].confidence = door ? 0.9 : 0.6;
    layout.columns[c].why = "cells";
  }
  return out;
}

}  // namespace coldwright::traces

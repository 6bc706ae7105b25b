// The steps of guessing a layout. Within this room only.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "traces/guess.hpp"

namespace coldwright::traces {

/// The head's rows in cells: those before the data, and those of it.
struct Table {
  std::vector<std::vector<std::string>> header;  // preamble, names, units
  std::vector<std::vector<std::string>> rows;
  std::size_t width = 0;
};

/// Problem for what is no delimited text: empty, packed, binary, JSON, XML.
std::optional<Problem> not_a_table(std::string_view head, Encoding encoding);

/// Which sign parts the cells.
struct Parting {
  char separator = ',';
  std::size_t width = 0;
  double share = 0;  // of the lines that have so many cells
};
struct Heads {
  std::vector<std::string> names, units;  // by column
};
std::vector<std::string> lines_of(std::string_view head, Encoding encoding);
/// How its lines part with that sign.
Parting parting(const std::vector<std::string>& lines, char separator);
Parting choose(const std::vector<std::string>& lines);
/// Counts the lines before the data into `header_rows`.
Table tabled(const std::vector<std::string>& lines, const Parting& parted, int& header_rows);
char decimal_of(const std::vector<std::vector<std::string>>& rows);
Heads heads_of(const Table& table);
/// Whether each number of a file parted by commas was cut in two by its decimal comma.
bool commas_in_numbers(const Table& table, const Heads& heads);

/// How a column of time is written, and how sure that is; `questions` gets what its data can't tell.
struct TimeGuess {
  TimeLayout layout;
  double share = 0;  // of its cells that are times
  bool date = false, clock = false;
};
TimeGuess guess_time(const Table& table, std::size_t column, std::string_view header, char decimal,
                     std::vector<Question>& questions);

/// How a column's numbers look, whatever they are.
struct Shape {
  double low = 0, mid = 0, high = 0;  // 2, 50 and 98 %
  bool constant = false;              // one number throughout
  bool counting = false;              // goes up or down by the same whole step from row to row
  bool rising = false;                // never falls, but for a reset, and does rise
  bool switching = false;             // near zero for long, and jumps by half its range between neighbours
  bool precise = false;               // more than one decimal somewhere
};
Shape shape_of(const std::vector<double>& values);

/// What a column of numbers is, from its header, its unit and its values.
ColumnLayout guess_number(std::string_view header, std::string_view unit, const std::vector<double>& values,
                          int column, std::vector<Question>& questions);
/// What only all columns together tell: which of several powers is the machine's, which repeats another.
void settle_columns(Layout& layout, std::vector<Question>& questions);

/// The unit in a header, "[°C]", "(psig)", "Power_W", or nothing; normalised to base's spelling.
std::string unit_in(std::string_view header);
/// Which kind of quantity a unit measures, among those of traces.
std::optional<base::Dimension> dimension_of(std::string_view unit);

/// A header in small letters, its signs made blanks, a blank at both ends.
std::string with_blanks(std::string_view header);
// Of a header as with_blanks() gives it:
std::optional<What> what_in(const std::string& header);
bool names_machine(std::string_view header);  // "fridge": the machine, not what is measured there
bool names_whole(std::string_view header);    // "total", "house": more than one machine
bool names_energy(std::string_view header);
bool names_sensor(std::string_view header);  // a column of sensors' names: "sensor", "topic"

}  // namespace coldwright::traces

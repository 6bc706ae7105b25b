// The steps of guessing a layout. Within this room only.
#pragma once

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

/// How a column of time is written, and how sure that is; `questions` gets what its data can't tell.
struct TimeGuess {
  TimeLayout layout;
  double share = 0;  // of its cells that are times
  bool date = false, clock = false;
};
TimeGuess guess_time(const Table& table, std::size_t column, std::string_view header, char decimal,
                     std::vector<Question>& questions);

/// What a column of numbers is, from its header, its unit and its values.
ColumnLayout guess_number(std::string_view header, std::string_view unit, const std::vector<double>& values,
                          int column, std::vector<Question>& questions);
/// The unit in a header, "[°C]", "(psig)", "Power_W", or nothing; normalised to base's spelling.
std::string unit_in(std::string_view header);

}  // namespace coldwright::traces

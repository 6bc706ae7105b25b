// A line of a delimited file in its cells, and a cell as a number or as nothing.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "traces/layout.hpp"

namespace coldwright::traces {

/// Cells of a line, blanks and quotes (RFC 4180 [shafranovich2005]) taken off. The views point into `line`,
/// or into `store` where doubled quotes had to go. ' ' as separator: any run of blanks or tabs.
void split(std::string_view line, char separator, std::vector<std::string_view>& cells, std::string& store);

/// What loggers write where nothing was read: "", "NaN", "n/a", "---", "err", ...
bool is_missing(std::string_view cell);
/// Numbers that loggers write in place of a reading: -127, -999, -9999, 32767, ...
bool is_sentinel(double number);

/// A cell as a number: sign, thousands parted by the other sign, blanks or apostrophes, exponent. `rest` is
/// what stands behind the number ("W" of "12.5 W").
struct Number {
  double value;
  std::string_view rest;
};
std::optional<Number> number_in(std::string_view cell, char decimal);

}  // namespace coldwright::traces

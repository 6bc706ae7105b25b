// Reading a call file or standard input, never more of it than a call file may have; writing what was drawn.
#pragma once

#include <optional>
#include <string>

#include "base/result.hpp"

namespace coldwright::cli {

/// "-" is standard input. A file over the limit is refused by its size, without being read.
Result<std::string> read_call_file(const std::string& path);

/// A Problem when it could not be written in full.
std::optional<Problem> write_file(const std::string& path, const std::string& bytes);

bool shown_on_a_terminal();

}  // namespace coldwright::cli

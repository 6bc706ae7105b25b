// Reading a call file or standard input, never more of it than a call file may have.
#pragma once

#include <string>

#include "base/result.hpp"

namespace coldwright::cli {

/// "-" is standard input. A file over the limit is refused by its size, without being read.
Result<std::string> read_call_file(const std::string& path);

}  // namespace coldwright::cli

// The memory of units and models on the command line: memory files in and out, and the words for what is
// corrected, forgotten and asked back.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "arguments.hpp"
#include "base/result.hpp"

namespace coldwright::cli {

/// A memory file's JSON; the core says what is wrong with its content.
Result<nlohmann::json> read_memory_file(const std::string& path);

/// The request of "memory": call files, the earlier memory, what is to change.
Result<std::string> memory_request(const Arguments& arguments);

}  // namespace coldwright::cli

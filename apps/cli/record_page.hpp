// The answer of "record" in the form asked for: PDF, HTML, facts as JSON, table as CSV.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>

#include "base/result.hpp"

namespace coldwright::cli {

/// `format` is "pdf", "html", "json" or "csv".
Result<std::string> record_file(const nlohmann::json& answer, const std::string& format, std::int64_t now);

/// The shop's own words out of a file: {"name", "address", "phone", "licence"}; what they may be is for the
/// core to say.
Result<nlohmann::json> read_shop(const std::string& path);

}  // namespace coldwright::cli

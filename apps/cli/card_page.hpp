// The answer of "card" as a printed page.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>

#include "base/result.hpp"

namespace coldwright::cli {

/// `paper` is "a4", "letter" or empty: then letter goes with US units.
Result<std::string> card_pdf(const nlohmann::json& answer, const std::string& paper, std::int64_t now);

}  // namespace coldwright::cli

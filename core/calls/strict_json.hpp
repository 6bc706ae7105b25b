// JSON from outside, read without trust: size, depth, UTF-8, duplicate keys and numbers are checked before
// anything is believed.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace coldwright::calls {

struct JsonLimits {
  std::size_t bytes = std::size_t{1} << 20;
  int depth = 32;
};

/// `what` names the text in a Problem: "call file".
Result<nlohmann::json> parse_strict(std::string_view text, std::string_view what,
                                    const JsonLimits& limits = {});

/// Never aborts: broken bytes are replaced.
std::string dump(const nlohmann::json& json, int indent = -1);

}  // namespace coldwright::calls

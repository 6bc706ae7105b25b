// Reads a request's keys, remembering the first problem. Kept to service/: it pulls in the JSON library.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/field_units.hpp"
#include "base/result.hpp"

namespace coldwright::service {

/// A call file of the largest size, every byte of it escaped, and some room.
inline constexpr std::size_t kLargestRequest = std::size_t{8} << 20;

class Request {
 public:
  /// Refuses what isn't a JSON object, and every key outside `keys`.
  static Result<Request> read(std::string_view json_text, std::vector<std::string> keys);

  bool has(std::string_view key) const { return json_.contains(std::string(key)); }
  const nlohmann::json* find(std::string_view key) const;
  /// Absent when the key is; a Problem is remembered when it isn't a text.
  std::optional<std::string> text(std::string_view key);
  std::string required_text(std::string_view key, std::string_view allowed);
  std::optional<std::uint64_t> whole(std::string_view key, std::uint64_t low, std::uint64_t high);
  std::optional<base::UnitSystem> units();
  /// From "altitude" or "barometer"; sea level when neither is given.
  base::SitePressure site();

  void fail(Problem problem) {
    if (!problem_) problem_ = std::move(problem);
  }
  const std::optional<Problem>& problem() const { return problem_; }

 private:
  nlohmann::json json_;
  std::optional<Problem> problem_;
};

}  // namespace coldwright::service

// What layout a file has, from its first lines; and what stays open, as questions.
#pragma once

#include <optional>
#include <string_view>

#include "traces/layout.hpp"

namespace coldwright::traces {

/// As many bytes of a file are looked at.
inline constexpr std::size_t head_bytes = std::size_t{1} << 18;

/// What a person has said already; the rest is guessed around it.
struct Said {
  std::optional<char> separator = std::nullopt, decimal = std::nullopt;
};

/// `head` is the file's start, raw bytes. Problem when there is no table in it.
Result<Guess> guess(std::string_view head, const Said& said = {});

}  // namespace coldwright::traces

// A moment as RFC 3339 writes it, kept in UTC. The clock itself always comes in as an argument.
#pragma once

#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace coldwright::calls {

struct Instant {
  std::int64_t seconds = 0;      // since 1970-01-01T00:00:00Z, leap seconds not counted
  std::int32_t nanoseconds = 0;  // 0..999,999,999
  friend constexpr auto operator<=>(Instant, Instant) = default;
};

/// "2025-11-20T09:30:00+01:00"; a space for the T and a missing ":00" of seconds are taken, a missing offset
/// isn't: without it nobody knows when that was.
Result<Instant> parse_instant(std::string_view text, std::string_view field);

std::string to_text(Instant instant);  // "2025-11-20T08:30:00Z"

}  // namespace coldwright::calls

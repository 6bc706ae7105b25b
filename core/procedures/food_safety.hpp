// How long a food's own temperature stood above the limit for cold holding, from a few stamped readings.
//
// Cold holding is at 5 C (41 F) or less [fda2022, 3-501.16]. Where time stands in for temperature, the food
// starts at 5 C or less and goes within 4 h, or within 6 h when it never exceeds 21 C (70 F) [fda2022,
// 3-501.19 (B), (C)]. Between two readings the temperature is taken as a straight line; how much longer it
// could have been is told beside it. This counts time and compares; whether a food may be kept is for the
// operator and the local authority.
#pragma once

#include <optional>
#include <vector>

#include "base/result.hpp"

namespace coldwright::procedures {

/// [fda2022, 3-501.16 (A)(2); 3-501.19 (B), (C)]
inline constexpr double cold_holding_limit = 278.15;                              // K
inline constexpr double six_hour_limit = 294.15;                                  // K
inline constexpr double time_limit = 4 * 3600.0, longer_time_limit = 6 * 3600.0;  // s

struct FoodReading {
  double seconds;  // on any clock that all readings share
  double T;        // K
};

struct FoodHistory {
  std::size_t readings = 0;
  double first = 0, last = 0;         // s, of the readings
  double warmest = 0;                 // K, as read
  double above = 0;                   // s above the limit, by straight lines, all together
  double longest_above = 0;           // s, the longest stretch of it
  double longest_possible = 0;        // s, from the last reading at or under the limit to the next one
  double longest_gap = 0;             // s, between two readings
  bool above_at_first = false;        // warm already when first read: since when isn't known
  bool above_at_last = false;         // still warm when last read
  bool above_six_hour_limit = false;  // any reading above 21 C
};

/// Of readings in order of time. A Problem when there are none, when a temperature isn't one (outside
/// 200..400 K), or when a stamp isn't later than the one before it.
Result<FoodHistory> food_history(const std::vector<FoodReading>& readings);

/// How the longest stretch lies against the two limits of time.
enum class FoodTime {
  never_above,  // every reading at or under 5 C
  within,       // under 4 h even at its longest possible, and known from end to end
  open,         // under the limit as far as read, but it began before, goes on after, or could be longer
  over_four,    // over 4 h, under 6 h, and never read above 21 C
  over,         // over its limit: 6 h where no reading is above 21 C, else 4 h
};
FoodTime food_time(const FoodHistory& history);

}  // namespace coldwright::procedures

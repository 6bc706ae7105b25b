#include "procedures/food_safety.hpp"

#include <algorithm>

#include "base/field_units.hpp"

namespace coldwright::procedures {
namespace {

/// "41 F" comes out a rounding error away from 5 C, and is not above it.
constexpr double kRounding = 1e-6;
bool is_above(const FoodReading& reading) { return reading.T > cold_holding_limit + kRounding; }

/// When the straight line between two readings on either side of the limit crosses it.
double crossing(const FoodReading& a, const FoodReading& b) {
  return a.seconds + (cold_holding_limit - a.T) / (b.T - a.T) * (b.seconds - a.seconds);
}

std::optional<Problem> wrong(const std::vector<FoodReading>& readings) {
  if (readings.empty())
    return Problem{"product_temperature", "nothing", "one reading or more", "there is no history of nothing"};
  for (std::size_t i = 0; i < readings.size(); ++i) {
    if (!(readings[i].T > 200 && readings[i].T < 400))
      return Problem{"product_temperature", base::number_text(readings[i].T, 1) + " K", "200 to 400 K",
                     "no food is that cold or warm"};
    if (i > 0 && !(readings[i].seconds > readings[i - 1].seconds))
      return Problem{"product_temperature", "two readings at one time, or out of order",
                     "each later than the one before", "time between them is what counts"};
  }
  return std::nullopt;
}

}  // namespace

Result<FoodHistory> food_history(const std::vector<FoodReading>& readings) {
  if (auto problem = wrong(readings)) return *problem;
  FoodHistory out;
  out.readings = readings.size();
  out.first = readings.front().seconds;
  out.last = readings.back().seconds;
  out.warmest = readings.front().T;
  out.above_at_first = is_above(readings.front());
  out.above_at_last = is_above(readings.back());
  double since = out.first;    // of the stretch above that is open, by straight lines
  double cold_at = out.first;  // the last reading that was not above
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const FoodReading& now = readings[i];
    out.warmest = std::max(out.warmest, now.T);
    out.above_six_hour_limit = out.above_six_hour_limit || now.T > six_hour_limit + kRounding;
    if (i == 0) continue;
    const FoodReading& before = readings[i - 1];
    out.longest_gap = std::max(out.longest_gap, now.seconds - before.seconds);
    const bool was = is_above(before), is = is_above(now);
    if (!was) cold_at = before.seconds;
    if (!was && is) since = crossing(before, now);
    const double until = was && !is ? crossing(before, now) : now.seconds;
    if (was || is) {
      out.above += until - std::max(since, before.seconds);
      out.longest_above = std::max(out.longest_above, until - since);
      out.longest_possible = std::max(out.longest_possible, now.seconds - cold_at);
    }
  }
  return out;
}

FoodTime food_time(const FoodHistory& h) {
  if (!h.above_at_first && !h.above_at_last && h.longest_above <= 0) return FoodTime::never_above;
  const double limit = h.above_six_hour_limit ? time_limit : longer_time_limit;
  if (h.longest_above > limit) return FoodTime::over;
  if (h.longest_above > time_limit) return FoodTime::over_four;
  if (h.above_at_first || h.above_at_last || h.longest_possible > time_limit) return FoodTime::open;
  return FoodTime::within;
}

}  // namespace coldwright::procedures

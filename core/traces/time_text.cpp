// Moments written for people.
#include <cmath>
#include <cstdio>

#include "traces/times.hpp"

namespace coldwright::traces {
namespace {

std::string two(long long n) { return (n < 10 ? "0" : "") + std::to_string(n); }

std::string clock(long long seconds) {
  return two(seconds / 3600) + ":" + two(seconds / 60 % 60) + ":" + two(seconds % 60);
}

}  // namespace

Civil civil_of(std::int64_t days) {
  // The inverse of days_of(), counted from March.
  const std::int64_t z = days + 719468, era = (z >= 0 ? z : z - 146096) / 146097, of_era = z - era * 146097;
  const std::int64_t of_year = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
  const std::int64_t day = of_era - (365 * of_year + of_year / 4 - of_year / 100);
  const std::int64_t m = (5 * day + 2) / 153, month = m < 10 ? m + 3 : m - 9;
  const std::int64_t year = of_year + era * 400 + (month <= 2 ? 1 : 0);
  return {static_cast<int>(year), static_cast<int>(month), static_cast<int>(day - (153 * m + 2) / 5 + 1)};
}

std::string date_text(double seconds) {
  const auto whole = static_cast<long long>(std::floor(seconds + 0.5));
  const long long days = whole >= 0 ? whole / 86400 : -((-whole + 86399) / 86400);
  const Civil date = civil_of(days);
  return std::to_string(date.year) + "-" + two(date.month) + "-" + two(date.day) + " " +
         clock(whole - days * 86400);
}

std::string elapsed_text(double seconds) {
  const auto whole = static_cast<long long>(std::floor(std::abs(seconds) + 0.5));
  const std::string text =
      whole >= 86400 ? std::to_string(whole / 86400) + " d " + clock(whole % 86400) : clock(whole);
  return (seconds < -0.5 ? "-" : "") + text;
}

}  // namespace coldwright::traces

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

std::string date_text(double seconds) {
  const auto whole = static_cast<long long>(std::floor(seconds + 0.5));
  const long long days = whole >= 0 ? whole / 86400 : -((-whole + 86399) / 86400);
  // The inverse of days_of(), counted from March.
  const long long z = days + 719468, era = (z >= 0 ? z : z - 146096) / 146097, of_era = z - era * 146097;
  const long long of_year = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
  const long long day = of_era - (365 * of_year + of_year / 4 - of_year / 100);
  const long long m = (5 * day + 2) / 153, month = m < 10 ? m + 3 : m - 9;
  const long long year = of_year + era * 400 + (month <= 2 ? 1 : 0);
  return std::to_string(year) + "-" + two(month) + "-" + two(day - (153 * m + 2) / 5 + 1) + " " +
         clock(whole - days * 86400);
}

std::string elapsed_text(double seconds) {
  const auto whole = static_cast<long long>(std::floor(std::abs(seconds) + 0.5));
  const std::string text =
      whole >= 86400 ? std::to_string(whole / 86400) + " d " + clock(whole % 86400) : clock(whole);
  return (seconds < -0.5 ? "-" : "") + text;
}

}  // namespace coldwright::traces

#include "calls/instant.hpp"

#include <fmt/format.h>

#include <optional>

#include "base/text.hpp"

namespace coldwright::calls {
namespace {

/// Walks over the text; every step says whether it found what it wanted.
struct Cursor {
  std::string_view text;
  std::size_t at = 0;
  bool number(int digits, int& out) {
    if (at + static_cast<std::size_t>(digits) > text.size()) return false;
    out = 0;
    for (int i = 0; i < digits; ++i, ++at) {
      if (text[at] < '0' || text[at] > '9') return false;
      out = out * 10 + (text[at] - '0');
    }
    return true;
  }
  bool one_of(std::string_view allowed) {
    if (at >= text.size() || allowed.find(text[at]) == std::string_view::npos) return false;
    ++at;
    return true;
  }
  bool peek(char c) const { return at < text.size() && text[at] == c; }
};

struct Fields {
  int year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0;
  std::int32_t nanoseconds = 0;
  int offset_minutes = 0;
};

bool leap(int year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

int days_in(int year, int month) {
  constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return month == 2 && leap(year) ? 29 : days[month - 1];
}

bool scan_fraction(Cursor& cursor, std::int32_t& nanoseconds) {
  if (!cursor.one_of(".")) return true;
  int digits = 0, digit = 0;
  std::int32_t scale = 100'000'000;
  for (; cursor.at < cursor.text.size() && cursor.text[cursor.at] >= '0' && cursor.text[cursor.at] <= '9';
       ++digits) {
    if (!cursor.number(1, digit)) return false;
    nanoseconds += digit * scale;
    scale /= 10;
  }
  return digits > 0;
}

bool scan_offset(Cursor& cursor, int& minutes) {
  if (cursor.one_of("Zz")) return true;
  const bool minus = cursor.peek('-');
  int hours = 0, rest = 0;
  if (!cursor.one_of("+-") || !cursor.number(2, hours) || !cursor.one_of(":") || !cursor.number(2, rest))
    return false;
  if (hours > 23 || rest > 59) return false;
  minutes = (hours * 60 + rest) * (minus ? -1 : 1);
  return true;
}

std::optional<Fields> scan(std::string_view text) {
  Cursor c{text};
  Fields f;
  const bool date =
      c.number(4, f.year) && c.one_of("-") && c.number(2, f.month) && c.one_of("-") && c.number(2, f.day);
  if (!date || !c.one_of("Tt ") || !c.number(2, f.hour) || !c.one_of(":") || !c.number(2, f.minute))
    return std::nullopt;
  if (c.one_of(":") && (!c.number(2, f.second) || !scan_fraction(c, f.nanoseconds))) return std::nullopt;
  if (!scan_offset(c, f.offset_minutes) || c.at != text.size()) return std::nullopt;
  const bool day_ok = f.month >= 1 && f.month <= 12 && f.day >= 1 && f.day <= days_in(f.year, f.month);
  if (!day_ok || f.hour > 23 || f.minute > 59 || f.second > 60) return std::nullopt;
  return f;
}

/// Days since 1970-01-01 in the proleptic Gregorian calendar, by counting years from 0000-03-01 so that the
/// leap day is a year's last.
std::int64_t days_from_civil(int year, int month, int day) {
  const std::int64_t y = month <= 2 ? year - 1 : year;
  const std::int64_t m = (month + 9) % 12;
  const std::int64_t era = (y >= 0 ? y : y - 399) / 400;
  const std::int64_t in_era = y - era * 400;
  const std::int64_t day_of_year = (153 * m + 2) / 5 + day - 1;
  return era * 146097 + in_era * 365 + in_era / 4 - in_era / 100 + day_of_year - 719468;
}

}  // namespace

Result<Instant> parse_instant(std::string_view text, std::string_view field) {
  const auto f = text.size() <= 64 ? scan(text) : std::nullopt;
  if (!f)
    return Problem{std::string(field), base::quoted(text),
                   "a time such as 2025-11-20T09:30:00+01:00 or 2025-11-20T08:30:00Z",
                   "a moment is written as RFC 3339 does, with the hours it is ahead of or behind UTC"};
  const std::int64_t seconds = days_from_civil(f->year, f->month, f->day) * 86400 + f->hour * 3600 +
                               f->minute * 60 + f->second - f->offset_minutes * 60;
  return Instant{seconds, f->nanoseconds};
}

std::string to_text(Instant instant) {
  std::int64_t days = instant.seconds / 86400;
  std::int64_t rest = instant.seconds % 86400;
  if (rest < 0) {
    rest += 86400;
    --days;
  }
  int year = 1970;
  for (; days < 0; --year) days += leap(year - 1) ? 366 : 365;
  for (; days >= (leap(year) ? 366 : 365); ++year) days -= leap(year) ? 366 : 365;
  int month = 1;
  for (; days >= days_in(year, month); ++month) days -= days_in(year, month);
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", year, month, days + 1, rest / 3600,
                     rest / 60 % 60, rest % 60);
}

}  // namespace coldwright::calls

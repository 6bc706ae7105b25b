#include "traces/times.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "base/text.hpp"
#include "traces/cells.hpp"

namespace coldwright::traces {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c & 0x80) != 0; }

/// The number of a month's name by its first three letters, in English, Spanish, French or German.
int month_named(std::string_view word) {
  struct Name {
    std::string_view start;
    int month;
  };
  constexpr std::array kNames = {Name{"jan", 1},
                                 Name{"ene", 1},
                                 Name{"feb", 2},
                                 Name{"fev", 2},
                                 Name{"f\xC3\xA9v", 2},
                                 Name{"mar", 3},
                                 Name{"m\xC3\xA4r", 3},
                                 Name{"apr", 4},
                                 Name{"abr", 4},
                                 Name{"avr", 4},
                                 Name{"may", 5},
                                 Name{"mai", 5},
                                 Name{"juin", 6},
                                 Name{"jun", 6},
                                 Name{"juil", 7},
                                 Name{"jul", 7},
                                 Name{"aug", 8},
                                 Name{"ago", 8},
                                 Name{"aou", 8},
                                 Name{"ao\xC3\xBB", 8},
                                 Name{"sep", 9},
                                 Name{"oct", 10},
                                 Name{"okt", 10},
                                 Name{"nov", 11},
                                 Name{"dec", 12},
                                 Name{"dic", 12},
                                 Name{"dez", 12},
                                 Name{"d\xC3\xA9"
                                      "c",
                                      12}};
  const std::string low = base::lower(word);
  for (const Name& name : kNames)
    if (low.starts_with(name.start)) return name.month;
  return 0;
}

/// Reads along a cell.
struct Cursor {
  std::string_view text;
  std::size_t at = 0;
  bool done() const { return at >= text.size(); }
  char here() const { return done() ? '\0' : text[at]; }
  bool take(char c) {
    if (here() != c) return false;
    ++at;
    return true;
  }
  /// Digits at the cursor; -1 when there are none or too many.
  long long number(int* width = nullptr) {
    const std::size_t from = at;
    long long value = 0;
    while (is_digit(here()) && at - from < 15) value = value * 10 + (text[at++] - '0');
    if (width != nullptr) *width = static_cast<int>(at - from);
    return at == from ? -1 : value;
  }
  void blanks() {
    while (here() == ' ' || here() == '\t') ++at;
  }
  std::string_view word() {
    const std::size_t from = at;
    while (letter(here())) ++at;
    return text.substr(from, at - from);
  }
};

/// "13:05", "13:05:06.250", "1:05 PM", "36:05:06".
bool read_clock(Cursor& c, WrittenTime& out) {
  const long long hours = c.number();
  if (hours < 0 || hours > 100000 || !c.take(':')) return false;
  int width = 0;
  const long long minutes = c.number(&width);
  if (minutes < 0 || minutes > 59 || width > 2) return false;
  double seconds = 0;
  if (c.take(':')) {
    const long long whole = c.number(&width);
    if (whole < 0 || whole > 60 || width > 2) return false;
    seconds = static_cast<double>(whole);
    if (c.here() == '.' || c.here() == ',' || c.here() == ':') {
      ++c.at;
      const long long part = c.number(&width);
      if (part < 0) return false;
      seconds += static_cast<double>(part) * std::pow(10.0, -width);
    }
  }
  out.clock = static_cast<double>(hours) * 3600 + static_cast<double>(minutes) * 60 + seconds;
  out.has_clock = true;
  c.blanks();
  const char first = static_cast<char>(c.here() | 0x20);
  if (first == 'a' || first == 'p') {
    const std::size_t from = c.at++;
    c.take('.');
    c.blanks();
    if ((c.here() | 0x20) != 'm') {
      c.at = from;
      return false;
    }
    ++c.at;
    c.take('.');
    if (hours < 1 || hours > 12) return false;
    out.twelve_hour = true;
    out.clock += (first == 'p' ? 12 : 0) * 3600.0 - (hours == 12 ? 12 * 3600.0 : 0);
  }
  return true;
}

bool read_zone(Cursor& c, WrittenTime& out) {
  c.blanks();
  if (c.done()) return true;
  if (c.here() == '+' || c.here() == '-') {
    const int sign = c.here() == '-' ? -1 : 1;
    ++c.at;
    int width = 0;
    const long long hours = c.number(&width);
    long long minutes = 0, whole = hours;
    if (width == 4) {
      whole = hours / 100;
      minutes = hours % 100;
    } else if (c.take(':')) {
      minutes = c.number();
    }
    if (hours < 0 || whole > 14 || minutes < 0 || minutes > 59) return false;
    out.zone_minutes = sign * static_cast<int>(whole * 60 + minutes);
  } else {
    const std::string_view word = c.word();
    if (word == "Z" || word == "z" || word == "UTC" || word == "GMT")
      out.zone_minutes = 0;
    else if (word.empty() || word.size() > 5)
      return false;  // a zone by its letters means several places: taken as local
    if (out.zone_minutes == 0 && (c.here() == '+' || c.here() == '-')) return read_zone(c, out);
  }
  c.blanks();
  if (c.take('[')) c.at = c.text.size();  // a zone's name in brackets
  return c.done();
}

/// 20260304T130506 and 20260304130506.
bool read_compact(Cursor& c, WrittenTime& out, long long value, int width) {
  long long day = value;
  if (width == 14 || width == 12) {
    const long long unit = width == 14 ? 1000000 : 10000;
    long long clock = value % unit;
    day = value / unit;
    if (width == 12) clock *= 100;
    out.clock = static_cast<double>(clock / 10000 * 3600 + clock / 100 % 100 * 60 + clock % 100);
    out.has_clock = true;
    if (clock / 10000 > 23 || clock / 100 % 100 > 59 || clock % 100 > 60) return false;
  } else if (width != 8) {
    return false;
  }
  out.first = static_cast<int>(day / 10000);
  out.second = static_cast<int>(day / 100 % 100);
  out.third = static_cast<int>(day % 100);
  out.year_leads = out.has_date = true;
  if (out.first < 1970 || out.first > 2100 || !days_of(out.first, out.second, out.third)) return false;
  if (out.has_clock) return read_zone(c, out);
  if (c.done()) return true;
  if (!c.take('T')) c.blanks();
  int digits = 0;
  Cursor ahead = c;
  const long long clock = ahead.number(&digits);
  if (digits == 6 || digits == 4) {
    const long long full = digits == 4 ? clock * 100 : clock;
    out.clock = static_cast<double>(full / 10000 * 3600 + full / 100 % 100 * 60 + full % 100);
    out.has_clock = true;
    c = ahead;
    return read_zone(c, out);
  }
  return read_clock(c, out) && read_zone(c, out);
}

}  // namespace

std::optional<std::int64_t> days_of(int year, int month, int day) {
  constexpr std::array<int, 12> kDays = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  if (year < 1900 || year > 2200 || month < 1 || month > 12 || day < 1) return std::nullopt;
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  if (day > kDays[static_cast<std::size_t>(month - 1)] + (month == 2 && leap ? 1 : 0)) return std::nullopt;
  // The civil calendar counted from March, so that the leap day comes last.
  const std::int64_t y = month <= 2 ? year - 1 : year;
  const std::int64_t era = y / 400, of_era = y - era * 400;
  const std::int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

std::optional<WrittenTime> written_time(std::string_view cell) {
  if (cell.size() < 4 || cell.size() > 48) return std::nullopt;
  Cursor c{cell};
  WrittenTime out;
  // A weekday leads in some files, a month's name in others.
  if (letter(c.here())) {
    std::string_view word = c.word();
    if (month_named(word) == 0 || (!c.done() && c.here() == ',')) {
      if (word.size() < 2) return std::nullopt;
      c.take('.');
      c.take(',');
      c.blanks();
      word = letter(c.here()) ? c.word() : std::string_view();
    }
    if (!word.empty()) {
      out.month = month_named(word);
      if (out.month == 0) return std::nullopt;
      out.named_month = true;
      c.take('.');
      if (!c.take('-')) c.blanks();
    }
  }
  if (!is_digit(c.here())) return std::nullopt;
  const std::size_t start = c.at;
  int width = 0;
  const long long lead = c.number(&width);
  if (c.here() == ':' && !out.named_month) {
    c.at = start;
    return read_clock(c, out) && read_zone(c, out) ? std::optional(out) : std::nullopt;
  }
  if (width >= 8 && !out.named_month)
    return read_compact(c, out, lead, width) ? std::optional(out) : std::nullopt;
  if (width > 4) return std::nullopt;
  out.first = static_cast<int>(lead);
  out.year_leads = width == 4 && !out.named_month;
  const auto gap = [&] {
    bool any = false;
    while (c.here() == '-' || c.here() == '/' || c.here() == '.' || c.here() == ' ' || c.here() == ',') {
      ++c.at;
      any = true;
    }
    return any;
  };
  if (!gap()) return std::nullopt;
  if (letter(c.here()) && !out.named_month) {
    out.month = month_named(c.word());
    if (out.month == 0) return std::nullopt;
    out.named_month = true;
    if (!gap()) return std::nullopt;
  }
  const std::size_t clock_at = c.at;
  long long second = c.number(&width);
  if (second < 0 || width > 4) return std::nullopt;
  if (out.named_month && c.here() == ':') {
    // "Mar 4 13:05:06 2026": the year stands last.
    c.at = clock_at;
    if (!read_clock(c, out)) return std::nullopt;
    second = c.number(&width);
    if (width != 4) return std::nullopt;
    out.second = static_cast<int>(second);
    out.has_date = true;
    return read_zone(c, out) ? std::optional(out) : std::nullopt;
  }
  out.second = static_cast<int>(second);
  if (!out.named_month) {
    if (!gap()) return std::nullopt;
    const long long third = c.number(&width);
    if (third < 0 || (width != 2 && width != 4 && !(out.year_leads && width == 1))) return std::nullopt;
    out.third = static_cast<int>(third);
  }
  out.has_date = true;
  if (c.done()) return out;
  if (c.here() == 'T' || c.here() == 't' || c.here() == ',' || c.here() == '_' || c.here() == ':' ||
      c.here() == '-')
    ++c.at;
  c.blanks();
  if (c.done()) return out;
  return read_clock(c, out) && read_zone(c, out) ? std::optional(out) : std::nullopt;
}

std::optional<double> TimeReader::moment(const WrittenTime& w) {
  if (w.zone_minutes) {
    zone_ = w.zone_minutes;
    ++with_zone;
  } else {
    ++without_zone;
  }
  const double zone = w.zone_minutes.value_or(0) * 60.0;
  if (!w.has_date) {
    if (layout_.form == TimeForm::elapsed) return w.clock;
    if (w.clock >= 86400 + 1) return std::nullopt;
    if (last_clock_ >= 0 && w.clock < last_clock_ - 43200) day_ += 86400;
    last_clock_ = w.clock;
    return day_ + w.clock;
  }
  dated_ = true;
  int year = w.third, month = w.first, day = w.second;
  if (w.named_month) {
    month = w.month;
    day = w.year_leads ? w.second : w.first;
    year = w.year_leads ? w.first : w.second;
  } else if (w.year_leads || layout_.form == TimeForm::year_first) {
    year = w.first;
    month = w.second;
    day = w.third;
  } else if (layout_.form == TimeForm::day_first) {
    day = w.first;
    month = w.second;
  }
  if (year < 100) year += year < 70 ? 2000 : 1900;
  const auto days = days_of(year, month, day);
  if (!days || w.clock > 86401) return std::nullopt;
  return static_cast<double>(*days) * 86400 + w.clock - zone;
}

/// Nearly every row of a large file repeats the date of the one before: "2026-03-04 13:05:06".
std::optional<double> TimeReader::quick(std::string_view cell) {
  if (cell.size() < 19 || cached_date_.size() != 11 || cell.compare(0, 11, cached_date_) != 0)
    return std::nullopt;
  const auto two = [&](std::size_t i) {
    return is_digit(cell[i]) && is_digit(cell[i + 1]) ? (cell[i] - '0') * 10 + (cell[i + 1] - '0') : -1;
  };
  const int h = two(11), m = two(14), s = two(17);
  if (h < 0 || h > 23 || m < 0 || m > 59 || s < 0 || s > 59 || cell[13] != ':' || cell[16] != ':')
    return std::nullopt;
  const bool utc = cell.size() == 20 && cell[19] == 'Z';
  if (cell.size() != 19 && !utc) return std::nullopt;
  ++(utc ? with_zone : without_zone);
  if (utc) zone_ = 0;
  return static_cast<double>(cached_days_) * 86400 + h * 3600 + m * 60 + s;
}

std::optional<double> TimeReader::read(std::string_view cell) {
  switch (layout_.form) {
    case TimeForm::epoch:
    case TimeForm::serial_days:
    case TimeForm::elapsed: {
      if (layout_.form == TimeForm::elapsed && cell.find(':') != std::string_view::npos) break;
      const auto number = number_in(cell, decimal_);
      if (!number || is_missing(cell)) return std::nullopt;
      dated_ = layout_.form != TimeForm::elapsed;
      // Day 25569 of a spreadsheet's count is 1970-01-01; its clock is no finer than the tenth of a second.
      if (layout_.form == TimeForm::serial_days) {
        const double at = std::round((number->value - 25569) * 864000) / 10;
        return at > -2.3e9 && at < 7.3e9 ? std::optional(at) : std::nullopt;
      }
      // Within 1900 to 2200, as dates are; what lies beyond is a slip.
      const double at = number->value * layout_.seconds_per_unit;
      if (!(at > -2.3e9 && at < 7.3e9)) return std::nullopt;
      return at;
    }
    default:
      break;
  }
  if (const auto fast = quick(cell)) return fast;
  const auto written = written_time(cell);
  if (!written) return std::nullopt;
  const auto at = moment(*written);
  const bool plain = at && written->has_date && cell.size() >= 19 && cell[13] == ':' && is_digit(cell[9]);
  if (plain && (!written->zone_minutes || *written->zone_minutes == 0) && !written->twelve_hour) {
    cached_date_ = cell.substr(0, 11);
    cached_days_ = static_cast<std::int64_t>(std::floor(*at / 86400));
  }
  return at;
}

std::optional<double> TimeReader::read(std::string_view date, std::string_view clock) {
  const auto day = written_time(date), hour = written_time(clock);
  if (!day || !day->has_date || !hour || !hour->has_clock || hour->has_date) return std::nullopt;
  WrittenTime both = *day;
  both.clock = hour->clock;
  both.has_clock = true;
  both.zone_minutes = hour->zone_minutes;
  return moment(both);
}

}  // namespace coldwright::traces

// A cell as a moment. Seconds since 1970-01-01 UTC where the file has dates, else since the trace's start.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "traces/layout.hpp"

namespace coldwright::traces {

/// Days of a date since 1970-01-01, Gregorian; none for one that isn't in the calendar.
std::optional<std::int64_t> days_of(int year, int month, int day);

struct Civil {
  int year, month, day;
};
/// The date of such a day.
Civil civil_of(std::int64_t days);

/// "2026-03-04 13:05:06" of seconds since 1970; the file's own clock, whatever its zone.
std::string date_text(double seconds);
/// "2 d 03:05:06" of seconds since the start.
std::string elapsed_text(double seconds);

/// What is written in a cell, before anybody says which number is the day.
struct WrittenTime {
  int first = 0, second = 0, third = 0;  // of the date, in the order written
  bool has_date = false, year_leads = false, named_month = false;
  int month = 0;  // when named
  bool has_clock = false, twelve_hour = false;
  double clock = 0;  // s since midnight; more than a day for a time since the start
  std::optional<int> zone_minutes;
};
/// Nothing when the cell is no date or time.
std::optional<WrittenTime> written_time(std::string_view cell);

/// Reads one file's times in their order, since a time of day goes on past midnight.
class TimeReader {
 public:
  explicit TimeReader(const TimeLayout& layout, char decimal) : layout_(layout), decimal_(decimal) {}

  /// Of one cell.
  std::optional<double> read(std::string_view cell);
  /// Of a date and a time of day in two cells.
  std::optional<double> read(std::string_view date, std::string_view clock);
  /// Whether what was read counts from 1970 rather than from the start.
  bool dated() const { return dated_; }
  /// The last zone that stood in a cell.
  std::optional<int> zone_minutes() const { return zone_; }
  /// Cells that had a zone, and those that hadn't.
  std::uint64_t with_zone = 0, without_zone = 0;
  /// From here on the day stands first, or the month.
  void turn(TimeForm form) {
    layout_.form = form;
    cached_date_.clear();
  }

 private:
  std::optional<double> quick(std::string_view cell);
  std::optional<double> moment(const WrittenTime& written);

  TimeLayout layout_;
  char decimal_;
  bool dated_ = false;
  std::optional<int> zone_;
  double day_ = 0, last_clock_ = -1;
  std::string cached_date_;
  std::int64_t cached_days_ = 0;
};

}  // namespace coldwright::traces

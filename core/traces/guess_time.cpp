// How a column of time is written: what its cells allow, and how its steps look under each reading.
#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.hpp"
#include "traces/cells.hpp"
#include "traces/guess_parts.hpp"
#include "traces/times.hpp"

namespace coldwright::traces {
namespace {

/// How the steps of a column look when read in one form: those that run backwards, and their scatter.
struct Steps {
  int read = 0, back = 0;
  double scatter = 0;  // largest step over the median one
};

Steps steps_of(const std::vector<std::string>& cells, TimeForm form) {
  TimeReader reader({form, 1}, '.');
  Steps out;
  std::vector<double> steps;
  std::optional<double> last;
  for (const std::string& cell : cells) {
    const auto at = reader.read(cell);
    if (!at) continue;
    ++out.read;
    if (last) {
      if (*at < *last) ++out.back;
      steps.push_back(std::abs(*at - *last));
    }
    last = at;
  }
  if (steps.size() > 1) {
    std::sort(steps.begin(), steps.end());
    out.scatter = steps.back() / std::max(1.0, steps[steps.size() / 2]);
  }
  return out;
}

TimeLayout count_of(const std::vector<double>& values, std::string_view header, int column,
                    std::vector<Question>& questions) {
  const double first = values.front();
  const auto of_epoch = [](double seconds) { return seconds > 3.0e8 && seconds < 4.2e9; };  // 1979 to 2103
  for (const double unit : {1.0, 1e-3, 1e-6, 1e-9})
    if (of_epoch(first * unit)) return {TimeForm::epoch, unit};
  bool part = false;
  for (const double v : values) part = part || v != std::floor(v);
  if (first > 25000 && first < 75000 && part) return {TimeForm::serial_days, 1};
  const std::string low = base::lower(header);
  const auto has = [&](std::string_view word) { return low.find(word) != std::string::npos; };
  if (has("ms") || has("milli")) return {TimeForm::elapsed, 1e-3};
  if (has("min")) return {TimeForm::elapsed, 60};
  if (has("hour") || has("[h]") || has("(h)") || has("hora") || has("heure") || has("stunde"))
    return {TimeForm::elapsed, 3600};
  if (has("day") || has("[d]")) return {TimeForm::elapsed, 86400};
  const bool seconds = low == "s" || low.ends_with(" s") || low.ends_with("_s");
  if (!has("sec") && !has("[s]") && !has("(s)") && !seconds)
    questions.push_back({"elapsed_unit", column, {"s", "min", "h"}});
  return {TimeForm::elapsed, 1};
}

}  // namespace

TimeGuess guess_time(const Table& table, std::size_t column, std::string_view header, char decimal,
                     std::vector<Question>& questions) {
  TimeGuess out;
  std::vector<std::string> written;
  std::vector<double> numbers;
  int filled = 0, dates = 0, clocks = 0, leads = 0, named = 0, past_a_day = 0;
  int largest_first = 0, largest_second = 0;
  for (const auto& row : table.rows) {
    if (column >= row.size() || is_missing(row[column])) continue;
    ++filled;
    const std::string& cell = row[column];
    const auto number = number_in(cell, decimal);
    if (number && number->rest.empty()) numbers.push_back(number->value);
    const auto time = written_time(cell);
    if (!time) continue;
    written.push_back(cell);
    dates += time->has_date;
    clocks += time->has_clock;
    leads += time->year_leads;
    named += time->named_month;
    past_a_day += !time->has_date && time->clock >= 86400;
    if (time->has_date && !time->year_leads && !time->named_month) {
      largest_first = std::max(largest_first, time->first);
      largest_second = std::max(largest_second, time->second);
    }
  }
  if (filled == 0) return out;
  const int id = static_cast<int>(column);
  const double share = static_cast<double>(written.size()) / filled;
  if (share > 0.7) {
    const int count = static_cast<int>(written.size());
    out.share = share;
    out.date = 2 * dates > count;
    out.clock = 2 * clocks > count;
    if (!out.date) {
      out.layout.form = past_a_day > 0 ? TimeForm::elapsed : TimeForm::time_of_day;
      const std::string low = base::lower(header);
      if (low.find("elapsed") != std::string::npos || low.find("run") != std::string::npos)
        out.layout.form = TimeForm::elapsed;
      return out;
    }
    if (2 * leads > count || 2 * named > count) {
      out.layout.form = 2 * leads > count ? TimeForm::year_first : TimeForm::day_first;
      return out;
    }
    if (largest_first > 12 || largest_second > 12) {
      out.layout.form = largest_first > 12 ? TimeForm::day_first : TimeForm::month_first;
      return out;
    }
    // Neither number passes twelve: the reading under which time runs on evenly is the likelier.
    const Steps day = steps_of(written, TimeForm::day_first),
                month = steps_of(written, TimeForm::month_first);
    const bool dotted = written.front().find('.') != std::string::npos &&
                        written.front().find('.') < written.front().find(':');
    const auto worth = [](const Steps& s) { return s.back * 1e6 + s.scatter - s.read; };
    const bool tell = std::abs(worth(day) - worth(month)) > 20;
    const bool day_first = tell ? worth(day) < worth(month) : dotted;
    out.layout.form = day_first ? TimeForm::day_first : TimeForm::month_first;
    out.layout.open = true;
    if (!tell && !dotted)  // with points it is the day first wherever that is written
      questions.push_back({"day_or_month", id,
                           day_first ? std::vector<std::string>{"day_first", "month_first"}
                                     : std::vector<std::string>{"month_first", "day_first"}});
    return out;
  }
  // A count: it must rise, but for a disorder here and there.
  if (numbers.size() * 10 < static_cast<std::size_t>(filled) * 7 || numbers.size() < 2) return out;
  std::size_t rising = 0, falling = 0, changes = 0;
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    rising += numbers[i] > numbers[i - 1];
    falling += numbers[i] < numbers[i - 1];
    changes += numbers[i] != numbers[i - 1];
  }
  const std::string low = base::lower(header);
  bool said = false;
  for (const char* word :
       {"time", "elapsed", "epoch", "stamp", "unix", "tiempo", "temps", "zeit", "date", "hora"})
    said = said || low.find(word) != std::string::npos;
  const bool one_way = changes > 0 && std::max(rising, falling) * 20 >= changes * 19 &&
                       std::max(rising, falling) * 10 >= numbers.size() * 6;
  const bool epoch = numbers.front() > 3e8;
  if (!one_way && !said && !epoch) return out;
  out.share = said || epoch ? 0.95 : 0.75;
  out.date = out.clock = true;
  out.layout = count_of(numbers, header, id, questions);
  return out;
}

}  // namespace coldwright::traces

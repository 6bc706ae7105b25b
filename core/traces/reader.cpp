#include "traces/reader.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "traces/cells.hpp"
#include "traces/clean.hpp"

namespace coldwright::traces {
namespace {

/// What a sensor on a small cabinet can read, SI; wide, against slipped signs and broken probes (common
/// practice).
bool possible(What what, double si) {
  if (is_energy(what)) return si >= 0;
  const auto dimension = info(what).dimension;
  if (!dimension) return true;
  switch (*dimension) {
    case base::Dimension::temperature:
      return si > 183 && si < 473;
    case base::Dimension::temperature_difference:
      return si > -100 && si < 100;
    case base::Dimension::pressure:
      return si > 0 && si < 6e6;
    case base::Dimension::power:
      return si > -500 && si < 5e4;
    case base::Dimension::current:
      return si > -1 && si < 200;
    case base::Dimension::voltage:
      return si >= 0 && si < 700;
    default:
      return true;
  }
}

std::optional<float> door_word(std::string_view cell) {
  const std::string word = base::lower(cell);
  for (const char* open : {"open", "opened", "abierta", "ouverte", "true", "on", "yes"})
    if (word == open) return 1.0F;
  for (const char* shut : {"closed", "close", "shut", "cerrada",
                           "ferm\xC3\xA9"
                           "e",
                           "false", "off", "no"})
    if (word == shut) return 0.0F;
  return std::nullopt;
}

}  // namespace

Reader::Reader(std::string name, const Layout& layout, base::SitePressure site)
    : layout_(layout), site_(site), decoder_(layout.encoding), times_(layout.time, layout.decimal) {
  trace_.name = std::move(name);
  const auto scaled = [&](What what, const std::string& unit) {
    const auto scale = scale_of(unit, what, site_);
    return scale ? *scale : Scale{};
  };
  for (std::size_t c = 0; c < layout_.columns.size(); ++c) {
    const ColumnLayout& column = layout_.columns[c];
    const int at = static_cast<int>(c);
    if (column.what == What::time || column.what == What::time_of_day) time_ = time_ < 0 ? at : time_;
    if (column.what == What::date) date_ = at;
    if (column.what == What::sensor_name) name_ = at;
    if (column.what == What::sensor_value) value_ = at;
    if (!info(column.what).dimension && column.what != What::door) continue;
    kept_.push_back({at, trace_.series.size(), column.what, scaled(column.what, column.unit)});
    trace_.series.push_back({column.what, column.header, column.unit, at, false, 0, {}});
  }
  if (date_ >= 0 && time_ >= 0 && layout_.columns[static_cast<std::size_t>(time_)].what == What::time)
    date_ = -1;
  for (const NamedSensor& sensor : layout_.sensors) {
    if (!info(sensor.what).dimension && sensor.what != What::door) {
      of_no_use_.insert(sensor.name);
      continue;
    }
    sensors_[sensor.name] = {value_, trace_.series.size(), sensor.what, scaled(sensor.what, sensor.unit)};
    trace_.series.push_back({sensor.what, sensor.name, sensor.unit, value_, false, 0, {}});
  }
  first_.assign(trace_.series.size(), std::nan(""));
}

void Reader::aside(Reason reason, int column, std::string_view text) {
  SetAside& one = aside_[{reason, column}];
  one.reason = reason;
  one.column = column;
  if (one.count < one.lines.size()) one.lines[static_cast<std::size_t>(one.count)] = lines_;
  if (one.count == 0 && !text.empty()) one.text = base::quoted(text, 40);
  ++one.count;
}

void Reader::feed(std::string_view bytes) {
  // In small pieces, so that what waits for its line's end stays small.
  constexpr std::size_t kPiece = 1 << 16;
  for (std::size_t from = 0; from < bytes.size(); from += kPiece) {
    decoder_.feed(bytes.substr(from, kPiece));
    while (const auto text = decoder_.line()) line(*text);
  }
}

void Reader::expect(double times) {
  if (!(times > 1) || times > 1e6) return;
  const auto rows = static_cast<std::size_t>(1.02 * times * static_cast<double>(trace_.t.size())) + 1000;
  trace_.t.reserve(rows);
  for (Series& series : trace_.series) series.value.reserve(rows);
}

void Reader::line(std::string_view text) {
  ++lines_;
  if (lines_ <= static_cast<std::uint64_t>(layout_.header_rows)) return;
  if (text.find_first_not_of(" \t,;|") == std::string_view::npos) return;
  ++trace_.rows;
  if (decoder_.cut()) return aside(Reason::unreadable_row, -1, text.substr(0, 60));
  if (text.front() == '#' || text.starts_with("//")) return aside(Reason::comment_row, -1, text);
  split(text, layout_.separator, cells_, store_);
  if (static_cast<std::size_t>(time_) >= cells_.size() || cells_.size() < 2)
    return aside(heading_again() ? Reason::repeated_header : Reason::unreadable_row, -1, text);
  row();
}

bool Reader::heading_again() const {
  std::size_t same = 0, named = 0;
  for (std::size_t c = 0; c < cells_.size() && c < layout_.columns.size(); ++c) {
    named += !layout_.columns[c].header.empty();
    same += !layout_.columns[c].header.empty() && layout_.columns[c].header == cells_[c];
  }
  return named > 0 && same * 2 >= named;
}

std::optional<double> Reader::moment() {
  const std::string_view cell = cells_[static_cast<std::size_t>(time_)];
  const bool two = date_ >= 0 && static_cast<std::size_t>(date_) < cells_.size();
  const auto read = [&] {
    return two ? times_.read(cells_[static_cast<std::size_t>(date_)], cell) : times_.read(cell);
  };
  auto at = read();
  if (!layout_.time.open) return at;
  if (!at) {
    // No such date: perhaps there is one with day and month the other way about.
    turn_dates();
    at = read();
    if (!at) turn_dates();
  }
  const double day = at ? std::floor((*at + times_.zone_minutes().value_or(0) * 60) / 86400) : last_day_;
  if (day != last_day_) layout_.time.open = civil_of(static_cast<std::int64_t>(day)).day <= 12;
  last_day_ = day;
  return at;
}

/// Day and month change places, in what was read and in what comes.
void Reader::turn_dates() {
  const bool day_first = layout_.time.form == TimeForm::day_first;
  layout_.time.form = day_first ? TimeForm::month_first : TimeForm::day_first;
  times_.turn(layout_.time.form);
  const double zone = times_.zone_minutes().value_or(0) * 60;
  for (double& at : trace_.t) {
    const double days = std::floor((at + zone) / 86400);
    const Civil date = civil_of(static_cast<std::int64_t>(days));
    if (const auto turned = days_of(date.year, date.day, date.month))
      at += (static_cast<double>(*turned) - days) * 86400;
  }
}

/// No number ever passed twelve: a log runs on, so the reading under which it spans less is right.
void Reader::settle_dates() {
  if (!layout_.time.open || !times_.dated()) return;
  const auto span = [&] {
    const auto [low, high] = std::minmax_element(trace_.t.begin(), trace_.t.end());
    return *high - *low;
  };
  const double before = span();
  turn_dates();
  const double after = span();
  if (after > before) turn_dates();
  layout_.time.open = std::max(before, after) < 2 * std::min(before, after) + 86400;
}

void Reader::row() {
  const auto at = moment();
  if (!at || !std::isfinite(*at)) {
    bool number = false;
    for (const Kept& kept : kept_)
      if (static_cast<std::size_t>(kept.column) < cells_.size())
        number = number || number_in(cells_[static_cast<std::size_t>(kept.column)], layout_.decimal);
    const std::string_view cell = cells_[static_cast<std::size_t>(time_)];
    if (heading_again()) return aside(Reason::repeated_header, -1, cell);
    return aside(number ? Reason::unreadable_time : Reason::unreadable_row, -1, cell);
  }
  if (name_ >= 0) return one_value(*at);
  values(*at);
}

bool Reader::begin_row(double at) {
  trace_.t.push_back(at);
  for (Series& series : trace_.series) series.value.push_back(kNothing);
  return true;
}

void Reader::values(double at) {
  begin_row(at);
  for (const Kept& kept : kept_)
    if (static_cast<std::size_t>(kept.column) < cells_.size())
      trace_.series[kept.series].value.back() = read(kept, cells_[static_cast<std::size_t>(kept.column)]);
    else
      aside(Reason::missing_value, kept.column);
}

void Reader::one_value(double at) {
  if (static_cast<std::size_t>(std::max(name_, value_)) >= cells_.size())
    return aside(Reason::unreadable_row, -1, cells_.front());
  ++values_;
  const std::string_view name = cells_[static_cast<std::size_t>(name_)];
  const auto sensor = sensors_.find(name);
  if (sensor == sensors_.end()) {
    if (!of_no_use_.contains(name)) aside(Reason::unknown_sensor, -1, name);
    return;
  }
  const float value = read(sensor->second, cells_[static_cast<std::size_t>(value_)]);
  const bool together = !trace_.t.empty() && trace_.t.back() == at &&
                        std::isnan(trace_.series[sensor->second.series].value.back());
  if (!together) begin_row(at);
  trace_.series[sensor->second.series].value.back() = value;
}

float Reader::in_own_unit(const Kept& kept, double number, std::string_view unit) {
  const auto own = scale_of(unit, kept.what, site_);
  const Series& series = trace_.series[kept.series];
  if (!own) {
    // "0.5 W *": what stands behind the unit is a remark. What is no unit at all makes the cell unreadable.
    aside(Reason::unreadable_value, kept.column, unit);
    return kNothing;
  }
  if (own->scale != kept.scale.scale || own->offset != kept.scale.offset) {
    aside(Reason::unit_in_cell, kept.column);
    aside_[{Reason::unit_in_cell, kept.column}].text = std::string(unit) + " > " + series.unit;
  }
  return static_cast<float>(number * own->scale + own->offset);
}

float Reader::read(const Kept& kept, std::string_view cell) {
  if (kept.what == What::door)
    if (const auto word = door_word(cell)) return *word;
  const auto number = number_in(cell, layout_.decimal);
  if (!number) {
    aside(is_missing(cell) ? Reason::missing_value : Reason::unreadable_value, kept.column, cell);
    return kNothing;
  }
  double si = 0;
  if (!number->rest.empty() && kept.what != What::door) {
    si = in_own_unit(kept, number->value, number->rest);
  } else {
    if (is_sentinel(number->value) && kept.what != What::energy_counter) {
      aside(Reason::sentinel_value, kept.column, cell);
      return kNothing;
    }
    si = number->value * kept.scale.scale + kept.scale.offset;
  }
  if (kept.what == What::energy_counter && possible(kept.what, si)) {
    // From its first number on: a float keeps a small difference better than a large count.
    double& first = first_[kept.series];
    if (std::isnan(first)) first = si;
    return static_cast<float>(si - first);
  }
  if (std::isnan(si) || possible(kept.what, si)) return static_cast<float>(si);
  // A stretch in another unit looks impossible at first; clean.hpp sees whether that is it.
  if (kept.what == What::power && si > 0 && si < 5e7) return static_cast<float>(si);
  aside(Reason::impossible_value, kept.column, cell);
  return kNothing;
}

Result<Trace> Reader::finish() {
  while (const auto text = decoder_.line()) line(*text);
  if (const auto text = decoder_.rest()) line(*text);
  if (trace_.t.empty()) {
    std::string why = "no line after the heading has a time that can be read as the layout says";
    return Problem{"trace", std::to_string(trace_.rows) + " rows, none of use",
                   "rows whose time and numbers are written as the layout says", std::move(why)};
  }
  trace_.dated = times_.dated();
  trace_.zoned = times_.with_zone > times_.without_zone || layout_.time.form == TimeForm::epoch;
  for (auto& [key, one] : aside_) trace_.aside.push_back(std::move(one));
  settle_dates();
  clean(trace_);
  if (name_ >= 0) trace_.used = values_;
  return std::move(trace_);
}

}  // namespace coldwright::traces

// A unit that changes within a column, and a sensor that hangs.
#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "traces/clean.hpp"

namespace coldwright::traces {
namespace {

constexpr double kZeroC = 273.15;

SetAside stretch(const Trace& trace, Reason reason, const Series& series, std::size_t from, std::size_t to,
                 std::string text) {
  SetAside one;
  one.reason = reason;
  one.column = series.column;
  one.count = to - from;
  one.from = trace.t[from];
  one.to = trace.t[std::min(to, trace.t.size()) - 1];
  one.text = std::move(text);
  return one;
}

/// Median of up to `most` values from `at` on, stepping by `step`; NaN when there are none.
double median_near(const std::vector<float>& v, std::ptrdiff_t at, int step, int most) {
  std::array<float, 9> seen{};
  int count = 0;
  for (; at >= 0 && at < static_cast<std::ptrdiff_t>(v.size()) && count < most; at += step)
    if (!std::isnan(v[static_cast<std::size_t>(at)]))
      seen[static_cast<std::size_t>(count++)] = v[static_cast<std::size_t>(at)];
  if (count == 0) return std::nan("");
  std::nth_element(seen.begin(), seen.begin() + count / 2, seen.begin() + count);
  return seen[static_cast<std::size_t>(count / 2)];
}

/// The number that stood in the file, degrees, and its Kelvin when the unit was the other one.
struct Degrees {
  bool fahrenheit;  // the column's unit
  double number(double kelvin) const { return fahrenheit ? (kelvin - kZeroC) * 1.8 + 32 : kelvin - kZeroC; }
  double of_other(double kelvin) const {
    const double x = number(kelvin);
    return fahrenheit ? x + kZeroC : (x - 32) / 1.8 + kZeroC;
  }
};

/// Temperatures: one step by exactly the law between °C and °F, kept on both sides, is a changed setting.
void settle_degrees(Trace& trace, Series& series) {
  std::vector<float>& v = series.value;
  if (series.unit.find('K') != std::string::npos) return;
  const Degrees degrees{series.unit.find('F') != std::string::npos};
  bool other = false;
  std::size_t since = 0;
  std::vector<std::pair<std::size_t, std::size_t>> parts;
  for (std::size_t i = 1; i < v.size(); ++i) {
    if (std::isnan(v[i]) || std::isnan(v[i - 1]) || std::abs(v[i] - v[i - 1]) < 8) continue;
    if (trace.t[i] - trace.t[i - 1] > trace.gap) continue;
    const double before = median_near(v, static_cast<std::ptrdiff_t>(i) - 1, -1, 5);
    const double after = median_near(v, static_cast<std::ptrdiff_t>(i), 1, 5);
    const double expected = other ? degrees.of_other(before) : before;
    const double found = other ? after : degrees.of_other(after);
    const double slack = 1.5 + 0.02 * std::abs(v[i] - v[i - 1]);
    if (std::abs(found - expected) > slack || std::abs(after - before) < 8) continue;
    if (other) parts.emplace_back(since, i);
    since = i;
    other = !other;
  }
  if (other) parts.emplace_back(since, v.size());
  // Which part is in the column's unit? The larger one, unless the first tells otherwise: it began so.
  for (const auto& [from, to] : parts) {
    for (std::size_t i = from; i < to; ++i)
      if (!std::isnan(v[i])) v[i] = static_cast<float>(degrees.of_other(v[i]));
    trace.aside.push_back(
        stretch(trace, Reason::unit_changed, series, from, to, degrees.fahrenheit ? "°C > °F" : "°F > °C"));
  }
}

/// The numbers that running gives in two units a thousand apart.
struct Prefixes {
  double limit, low_run;
  bool is_high(float v) const { return v > limit; }
  bool is_low(float v) const { return v > 0.5 * low_run && v < 2 * low_run; }
};

/// Where the unit changes near `at`, from the larger numbers to the smaller or back. What rests in between
/// could be of either unit: there it is where the numbers jump most.
std::size_t edge_of(const std::vector<float>& v, std::size_t at, std::size_t block, const Prefixes& prefixes,
                    bool falls) {
  if (at == 0 || at >= v.size()) return at;
  const std::size_t first = at > block ? at - block : 0, last = std::min(v.size(), at + block);
  std::size_t end = last, begin = first;
  for (std::size_t i = first; i < last && end == last; ++i)
    if (falls ? prefixes.is_low(v[i]) : prefixes.is_high(v[i])) end = i;
  for (std::size_t i = first; i < end; ++i)
    if (falls ? prefixes.is_high(v[i]) : prefixes.is_low(v[i])) begin = i + 1;
  std::size_t best = end;
  double most = std::log(5.0);
  for (std::size_t i = begin; i + 3 <= end; ++i) {
    if (i == 0) continue;
    const double before = median_near(v, static_cast<std::ptrdiff_t>(i) - 1, -1, 5);
    const double after = median_near(v, static_cast<std::ptrdiff_t>(i), 1,
                                     static_cast<int>(std::min<std::size_t>(5, end - i)));
    if (!(before > 0) || !(after > 0)) continue;
    const double jump = falls ? std::log(before / after) : std::log(after / before);
    if (jump <= most) continue;
    most = jump;
    best = i;
  }
  return best;
}

/// Power and current: a thousandfold change that lasts is a changed prefix.
void settle_prefix(Trace& trace, Series& series) {
  std::vector<float>& v = series.value;
  // Blocks long enough to hold a run each; their tops fall in two groups a thousand apart, or they don't.
  const std::size_t block = std::max<std::size_t>(20, v.size() / 24);
  std::vector<double> tops, sorted;
  for (std::size_t from = 0; from < v.size(); from += block) {
    std::vector<float> part;
    for (std::size_t i = from; i < std::min(v.size(), from + block); ++i)
      if (v[i] > 0) part.push_back(v[i]);
    tops.push_back(0);
    if (part.size() < 5) continue;
    const std::size_t at = part.size() * 95 / 100;
    std::nth_element(part.begin(), part.begin() + static_cast<std::ptrdiff_t>(at), part.end());
    tops.back() = part[at];
    sorted.push_back(part[at]);
  }
  if (sorted.size() < 2) return;
  std::sort(sorted.begin(), sorted.end());
  std::size_t gap = 1;
  for (std::size_t k = 1; k < sorted.size(); ++k)
    if (sorted[k] / sorted[k - 1] > sorted[gap] / sorted[gap - 1]) gap = k;
  const double low_top = sorted[gap / 2], high = sorted[(gap + sorted.size()) / 2];
  const double ratio = high / low_top;
  if (sorted[gap] / sorted[gap - 1] < 100 || ratio < 400 || ratio > 2500) return;
  const double limit = std::sqrt(sorted[gap] * sorted[gap - 1]);
  const auto is_low = [&](double top) { return top > 0 && top < limit; };
  const double likely = series.what == What::power ? 5000 : 40;
  const bool lift = high < likely;  // the high part is plausible in this unit: the low part is a thousandth
  const Prefixes prefixes{limit, low_top};
  const double factor = lift ? 1000 : 1e-3;
  const auto converts = [&](std::size_t b) { return lift ? is_low(tops[b]) : tops[b] > limit; };
  for (std::size_t b = 0; b < tops.size();) {
    if (!converts(b)) {
      ++b;
      continue;
    }
    std::size_t e = b;
    while (e < tops.size() && (converts(e) || tops[e] <= 0)) ++e;
    const std::size_t from = edge_of(v, b * block, block, prefixes, lift);
    const std::size_t to = edge_of(v, std::min(v.size(), e * block), block, prefixes, !lift);
    for (std::size_t i = from; i < to; ++i) v[i] = static_cast<float>(v[i] * factor);
    trace.aside.push_back(
        stretch(trace, Reason::unit_changed, series, from, to,
                series.what == What::power ? (lift ? "kW > W" : "W > kW") : (lift ? "A > mA" : "mA > A")));
    b = e;
  }
}

/// The longest stretch of equal values one may expect of a signal that repeats its last value with this
/// share of its samples: log(n) / log(1/share), the growth of the longest run of successes [schilling1990].
double expected_run(double share, std::size_t n) {
  return std::log(static_cast<double>(n)) / -std::log(std::min(share, 0.9995));
}

void find_stuck_in(Trace& trace, Series& series) {
  std::vector<float>& v = series.value;
  std::size_t pairs = 0;
  double low = 1e30, high = -1e30;
  for (std::size_t i = 1; i < v.size(); ++i) {
    if (std::isnan(v[i]) || std::isnan(v[i - 1])) continue;
    ++pairs;
    low = std::min(low, static_cast<double>(v[i]));
    high = std::max(high, static_cast<double>(v[i]));
  }
  if (pairs < 50) return;
  const auto dimension = info(series.what).dimension;
  const bool electric = is_electric(series.what);
  // Runs end often: count those that stay short to know how often a value repeats when nothing is wrong.
  std::map<std::size_t, std::size_t> runs;  // length, how many
  std::size_t all = 0;
  for (std::size_t i = 0; i < v.size();) {
    std::size_t j = i + 1;
    while (j < v.size() && v[j] == v[i]) ++j;
    if (!std::isnan(v[i]) && !(electric && v[i] <= low + 0.02 * (high - low))) {
      ++runs[j - i];
      ++all;
    }
    i = j;
  }
  if (runs.empty()) return;
  double usual = 0;
  std::size_t longest = 0, left = std::max<std::size_t>(1, all * 95 / 100);
  const auto kept = static_cast<double>(left);
  for (const auto& [length, count] : runs) {
    const std::size_t taken = std::min(count, left);
    if (taken == 0) break;
    usual += static_cast<double>(length) * static_cast<double>(taken) / kept;
    longest = length;
    left -= taken;
  }
  const double share = 1 - 1 / std::max(usual, 1.0001);
  const double limit = std::max({4 * expected_run(share, pairs), 8.0 * static_cast<double>(longest), 30.0});
  for (std::size_t i = 0; i < v.size();) {
    std::size_t j = i + 1;
    while (j < v.size() && v[j] == v[i]) ++j;
    const bool floor = electric && v[i] <= low + 0.02 * (high - low);
    const double lasted = trace.t[j - 1] - trace.t[i];
    if (!std::isnan(v[i]) && !floor && static_cast<double>(j - i) > limit && lasted > 1200 && dimension) {
      SetAside one = stretch(trace, Reason::stuck_sensor, series, i, j, "");
      one.seconds = lasted;
      for (std::size_t k = i; k < j; ++k) v[k] = kNothing;
      trace.aside.push_back(std::move(one));
    }
    i = j;
  }
}

}  // namespace

void settle_units(Trace& trace) {
  for (Series& series : trace.series) {
    const auto dimension = info(series.what).dimension;
    if (dimension == base::Dimension::temperature) settle_degrees(trace, series);
    if (is_electric(series.what)) settle_prefix(trace, series);
    if (series.what != What::power) continue;
    // What was let through for a changed unit, and isn't one.
    SetAside beyond;
    beyond.reason = Reason::impossible_value;
    beyond.column = series.column;
    for (float& v : series.value)
      if (v > 5e4F) {
        v = kNothing;
        ++beyond.count;
      }
    if (beyond.count > 0) trace.aside.push_back(beyond);
  }
}

void find_stuck(Trace& trace) {
  for (Series& series : trace.series)
    if (series.what != What::door) find_stuck_in(trace, series);
}

}  // namespace coldwright::traces

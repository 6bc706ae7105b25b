// Energies become powers; a clamp the wrong way round is turned.
#include <algorithm>
#include <cmath>

#include "traces/clean.hpp"
#include "traces/levels.hpp"

namespace coldwright::traces {
namespace {

SetAside noted(Reason reason, const Series& series, std::size_t count) {
  SetAside one;
  one.reason = reason;
  one.column = series.column;
  one.count = count;
  return one;
}

/// The mean power of each interval, from what was used in it.
void from_intervals(const Trace& trace, Series& series) {
  for (std::size_t i = 0; i < trace.t.size(); ++i) {
    const double step = i + 1 < trace.t.size() ? trace.t[i + 1] - trace.t[i] : trace.interval;
    const double lasts = step > trace.gap ? trace.interval : step;
    series.value[i] = lasts > 0 ? static_cast<float>(series.value[i] / lasts) : kNothing;
  }
}

/// The smallest step that a counter moves on by.
double step_of(const std::vector<float>& count) {
  double step = 0;
  float last = kNothing;
  for (const float now : count) {
    if (std::isnan(now)) continue;
    if (now > last && (step == 0 || now - last < step)) step = now - last;
    last = now;
  }
  return step;
}

/// A counter moves on in steps of its own. Between two moves no more than one step was used; what it moves on
/// by beyond that was used in the last interval.
void from_counter(Trace& trace, Series& series) {
  const std::vector<float> count = series.value;
  const std::vector<double>& t = trace.t;
  std::vector<float>& power = series.value;
  std::fill(power.begin(), power.end(), kNothing);
  const double step = step_of(count);
  std::vector<double> waits;
  std::size_t resets = 0;
  const auto moved = [&](std::size_t from, std::size_t to) {
    const double risen = static_cast<double>(count[to]) - count[from], took = t[to] - t[from];
    if (risen <= 0) {
      ++resets;
      return;
    }
    waits.push_back(took);
    const double slow = std::min(risen, step) / took, last = t[to] - t[to - 1];
    for (std::size_t i = from; i + 1 < to; ++i) power[i] = static_cast<float>(slow);
    power[to - 1] = static_cast<float>((risen - slow * (took - last)) / last);
  };
  for (std::size_t begin = 0; begin < count.size();) {
    std::size_t end = begin + 1;  // of the stretch without a gap
    while (end < count.size() && t[end] - t[end - 1] <= trace.gap) ++end;
    std::size_t last = begin;
    while (last < end && std::isnan(count[last])) ++last;
    bool any = false;
    for (std::size_t i = last + 1; i < end; ++i) {
      if (std::isnan(count[i]) || count[i] == count[last]) continue;
      moved(last, i);
      last = i;
      any = true;
    }
    // What never moves shows that nothing was used.
    if (!any && end - begin > 1 && last < end)
      std::fill(power.begin() + static_cast<std::ptrdiff_t>(begin),
                power.begin() + static_cast<std::ptrdiff_t>(end), 0.0F);
    begin = end;
  }
  if (resets > 0) trace.aside.push_back(noted(Reason::counter_reset, series, resets));
  // How long the counter stands before it moves on, s.
  const double wait = waits.empty() ? 0 : quantile(waits, 0.5);
  if (wait > 2.5 * trace.interval && wait > 180) {
    SetAside coarse = noted(Reason::coarse_counter, series, waits.size());
    coarse.seconds = wait;
    series.resolves = wait;
    coarse.text = std::to_string(std::lround(step / 3600)) + " Wh";
    trace.aside.push_back(std::move(coarse));
  }
}

}  // namespace

void power_from_energy(Trace& trace) {
  for (Series& series : trace.series) {
    if (!is_energy(series.what)) continue;
    if (series.what == What::energy)
      from_intervals(trace, series);
    else
      from_counter(trace, series);
    series.what = What::power;
    series.unit = "W";
    series.derived = true;
  }
}

/// Some loggers leave the cell empty while nothing is drawn: then what is written is all running, and the
/// empty cells stand together in long stretches, again and again.
void fill_rests(Trace& trace) {
  for (Series& series : trace.series) {
    if (!is_electric(series.what)) continue;
    const auto missing =
        std::count_if(series.value.begin(), series.value.end(), [](float v) { return std::isnan(v); });
    if (static_cast<std::size_t>(missing) * 10 < series.value.size() * 3) continue;
    std::vector<float> values;
    std::vector<std::size_t> lengths;
    std::size_t run = 0;
    for (std::size_t i = 0; i < series.value.size(); ++i) {
      const bool empty = std::isnan(series.value[i]);
      if (!empty) values.push_back(series.value[i]);
      if (!empty && run > 0) lengths.push_back(run);
      run = empty ? run + 1 : 0;
    }
    const std::size_t empty = series.value.size() - values.size();
    // Only where the file said nothing: a number that couldn't be used is no rest.
    std::uint64_t said = 0;
    for (const SetAside& one : trace.aside)
      if (one.reason == Reason::missing_value && one.column == series.column) said += one.count;
    if (said < empty) continue;
    if (values.size() < 20 || lengths.size() < 5) continue;
    std::sort(values.begin(), values.end());
    std::sort(lengths.begin(), lengths.end());
    if (values[values.size() / 50] < 0.3F * values[values.size() / 2] || lengths[lengths.size() / 4] < 4)
      continue;
    for (float& v : series.value)
      if (std::isnan(v)) v = 0;
    trace.aside.push_back(noted(Reason::empty_rest, series, empty));
  }
}

void settle_sign(Trace& trace) {
  for (Series& series : trace.series) {
    if (!is_electric(series.what)) continue;
    std::vector<float> sizes;
    const std::size_t every = std::max<std::size_t>(1, series.value.size() / 400000);
    for (std::size_t i = 0; i < series.value.size(); i += every)
      if (!std::isnan(series.value[i])) sizes.push_back(std::abs(series.value[i]));
    if (sizes.size() < 3) continue;
    const auto top = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() * 98 / 100);
    std::nth_element(sizes.begin(), top, sizes.end());
    const float limit = std::max(0.05F * *top, series.what == What::power ? 1.5F : 0.02F);
    std::size_t below = 0, above = 0;
    for (const float v : series.value) {
      below += v < -limit;
      above += v > limit;
    }
    if (below == 0) continue;
    if (below > 9 * above) {
      for (float& v : series.value) v = -v;
      trace.aside.push_back(noted(Reason::turned_sign, series, below));
      std::swap(below, above);
    }
    // Here and there a negative number is a disturbed message; many are a supply of their own.
    if (below == 0 || below * 20 > above) continue;
    for (float& v : series.value)
      if (v < -limit) v = kNothing;
    trace.aside.push_back(noted(Reason::impossible_value, series, below));
  }
}

}  // namespace coldwright::traces

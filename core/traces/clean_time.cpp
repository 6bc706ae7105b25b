// Times in order, each once.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "traces/clean.hpp"

namespace coldwright::traces {
namespace {

double median_step(const std::vector<double>& t) {
  std::vector<double> steps;
  const std::size_t every = std::max<std::size_t>(1, t.size() / 200000);
  for (std::size_t i = 1; i < t.size(); i += every)
    if (t[i] > t[i - 1]) steps.push_back(t[i] - t[i - 1]);
  if (steps.empty()) return 0;
  std::nth_element(steps.begin(), steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2), steps.end());
  return steps[steps.size() / 2];
}

void rearrange(Trace& trace, const std::vector<std::uint32_t>& by) {
  std::vector<double> t(by.size());
  for (std::size_t i = 0; i < by.size(); ++i) t[i] = trace.t[by[i]];
  trace.t.swap(t);
  for (Series& series : trace.series) {
    std::vector<float> value(by.size());
    for (std::size_t i = 0; i < by.size(); ++i) value[i] = series.value[by[i]];
    series.value.swap(value);
  }
}

void note(Trace& trace, Reason reason, std::uint64_t count, double from, double to, double seconds = 0) {
  SetAside one;
  one.reason = reason;
  one.count = count;
  one.from = from;
  one.to = to;
  one.seconds = seconds;
  trace.aside.push_back(std::move(one));
}

/// Whether the part that begins with a step back goes on evenly from there and lies over what came before it:
/// then the clock was set, for a logger doesn't write the same hour twice. A single row out of place jumps
/// on.
bool overlaps(const std::vector<double>& t, std::size_t from, std::size_t to, double usual) {
  if (to - from < 3 || t[from + 1] - t[from] > 5 * usual) return false;
  std::size_t inside = 0;
  for (std::size_t i = 0; i < from; ++i) inside += t[i] >= t[from] && t[i] <= t[to - 1];
  return inside > 2;
}

}  // namespace

/// A logger whose clock was never set counts from 1970 or 2000: a few such rows before the true ones have no
/// time.
void drop_unset(Trace& trace) {
  if (!trace.dated) return;
  constexpr double kYear = 31556952, k2000 = 946684800;
  const auto unset = [&](double at) {
    return (at >= 0 && at < kYear) || (at >= k2000 && at < k2000 + 86400);
  };
  const auto count = std::count_if(trace.t.begin(), trace.t.end(), unset);
  if (count == 0 || static_cast<std::size_t>(count) * 10 > trace.t.size()) return;
  std::vector<std::uint32_t> kept;
  for (std::size_t i = 0; i < trace.t.size(); ++i)
    if (!unset(trace.t[i])) kept.push_back(static_cast<std::uint32_t>(i));
  rearrange(trace, kept);
  note(trace, Reason::unset_clock, static_cast<std::uint64_t>(count), 0, 0);
}

void order(Trace& trace) {
  std::vector<double>& t = trace.t;
  std::vector<std::size_t> back;
  std::size_t forward = 0;
  for (std::size_t i = 1; i < t.size(); ++i) {
    if (t[i] < t[i - 1]) back.push_back(i);
    forward += t[i] > t[i - 1];
  }
  if (!back.empty() && back.size() > 9 * forward && t.size() > 2) {
    std::vector<std::uint32_t> turned(t.size());
    for (std::size_t i = 0; i < turned.size(); ++i)
      turned[i] = static_cast<std::uint32_t>(turned.size() - 1 - i);
    rearrange(trace, turned);
    note(trace, Reason::newest_first, t.size(), 0, 0);
    return order(trace);
  }
  if (!back.empty() && back.size() <= 8 && t.size() / back.size() > 20) {
    // A few steps back: a set clock where the parts overlap; else blocks in the wrong order, sorted below.
    const double usual = median_step(t);
    for (std::size_t k = 0; k < back.size(); ++k) {
      const std::size_t from = back[k], to = k + 1 < back.size() ? back[k + 1] : t.size();
      const double by = t[from - 1] + usual - t[from];
      if (by < 2 * usual || !overlaps(t, from, to, usual)) continue;
      for (std::size_t i = from; i < t.size(); ++i) t[i] += by;
      note(trace, Reason::clock_step, 1, t[from], t[from], by);
    }
  }
  std::size_t moved = 0;
  double highest = t.front();
  for (const double at : t) {
    moved += at < highest;
    highest = std::max(highest, at);
  }
  if (moved == 0) return;
  std::vector<std::uint32_t> by(t.size());
  std::iota(by.begin(), by.end(), 0U);
  std::stable_sort(by.begin(), by.end(), [&](std::uint32_t a, std::uint32_t b) { return t[a] < t[b]; });
  rearrange(trace, by);
  note(trace, Reason::shuffled, moved, 0, 0);
}

void merge_duplicates(Trace& trace) {
  std::vector<double>& t = trace.t;
  const std::size_t n = t.size();
  std::size_t groups = 0, in_groups = 0;
  for (std::size_t i = 0; i < n;) {
    std::size_t j = i + 1;
    while (j < n && t[j] == t[i]) ++j;
    if (j - i > 1) {
      ++groups;
      in_groups += j - i;
    }
    i = j;
  }
  if (groups == 0) return;
  // Most rows share their stamp: the logger writes minutes and reads more often. Spread over the stamp's
  // time.
  const double step = median_step(t);
  if (in_groups * 10 > n * 6 && step > 0 && groups > 2) {
    for (std::size_t i = 0; i < n;) {
      std::size_t j = i + 1;
      while (j < n && t[j] == t[i]) ++j;
      const double room = j < n ? std::min(step, t[j] - t[i]) : step, first = t[i];
      for (std::size_t k = i; k < j; ++k)
        t[k] = first + room * static_cast<double>(k - i) / static_cast<double>(j - i);
      i = j;
    }
    return note(trace, Reason::coarse_stamps, in_groups, 0, 0, step);
  }
  std::size_t out = 0, same = 0, other = 0;
  for (std::size_t i = 0; i < n;) {
    std::size_t j = i + 1;
    while (j < n && t[j] == t[i]) ++j;
    bool differ = false;
    for (Series& series : trace.series) {
      double sum = 0;
      int count = 0;
      float first = kNothing;
      for (std::size_t k = i; k < j; ++k) {
        const float v = series.value[k];
        if (std::isnan(v)) continue;
        differ = differ || (count > 0 && v != first);
        if (count == 0) first = v;
        sum += v;
        ++count;
      }
      series.value[out] = count == 0 ? kNothing : count == 1 ? first : static_cast<float>(sum / count);
    }
    t[out++] = t[i];
    (differ ? other : same) += j - i - 1;
    i = j;
  }
  t.resize(out);
  for (Series& series : trace.series) series.value.resize(out);
  if (same > 0) note(trace, Reason::duplicate_same, same, 0, 0);
  if (other > 0) note(trace, Reason::duplicate_other, other, 0, 0);
}

void find_gaps(Trace& trace) {
  const std::vector<double>& t = trace.t;
  trace.interval = median_step(t);
  std::vector<double> steps;
  const std::size_t every = std::max<std::size_t>(1, t.size() / 200000);
  for (std::size_t i = 1; i < t.size(); i += every) steps.push_back(t[i] - t[i - 1]);
  double usual_most = trace.interval;
  if (steps.size() > 20) {
    // Loggers that write on change leave long steps that are no gaps: what one step in fifty exceeds.
    const std::size_t at = steps.size() * 49 / 50;
    std::nth_element(steps.begin(), steps.begin() + static_cast<std::ptrdiff_t>(at), steps.end());
    usual_most = std::min(steps[at], 1800.0);
  }
  trace.gap = std::max({5 * trace.interval, 3 * usual_most, trace.interval + 60});
  SetAside gaps;
  gaps.reason = Reason::gap;
  double longest = 0;
  for (std::size_t i = 1; i < t.size(); ++i) {
    const double step = t[i] - t[i - 1];
    if (step <= trace.gap) continue;
    ++gaps.count;
    gaps.seconds += step;
    if (step > longest) {
      longest = step;
      gaps.from = t[i - 1];
      gaps.to = t[i];
    }
  }
  if (gaps.count > 0) trace.aside.push_back(gaps);
}

void clean(Trace& trace) {
  drop_unset(trace);
  order(trace);
  merge_duplicates(trace);
  trace.start = trace.t.front();
  for (double& at : trace.t) at -= trace.start;
  // Stretches noted above were in the file's own count.
  for (SetAside& one : trace.aside)
    if (one.reason == Reason::clock_step) {
      one.from -= trace.start;
      one.to -= trace.start;
    }
  find_gaps(trace);
  power_from_energy(trace);
  fill_rests(trace);
  settle_units(trace);
  settle_sign(trace);
  find_stuck(trace);
  trace.used = trace.t.size();
}

}  // namespace coldwright::traces

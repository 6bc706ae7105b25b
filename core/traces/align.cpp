#include "traces/align.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::traces {
namespace {

constexpr double kReach = 26 * 3600.0;

/// A signal at even steps; NaN in gaps.
std::vector<float> at_steps(const Trace& trace, const Series& series, double step) {
  std::vector<float> out(static_cast<std::size_t>(trace.t.back() / step) + 1, kNothing);
  std::vector<double> sum(out.size(), 0);
  std::vector<int> count(out.size(), 0);
  for (std::size_t i = 0; i < trace.t.size(); ++i) {
    if (std::isnan(series.value[i])) continue;
    const auto at = static_cast<std::size_t>(trace.t[i] / step);
    sum[at] += series.value[i];
    ++count[at];
  }
  for (std::size_t k = 0; k < out.size(); ++k)
    if (count[k] > 0) out[k] = static_cast<float>(sum[k] / count[k]);
  // A coarse logger's value stands until the next.
  const auto hold = static_cast<std::size_t>(std::max(1.0, 1.5 * trace.interval / step));
  std::size_t since = 0;
  for (std::size_t k = 1; k < out.size(); ++k) {
    if (count[k] > 0)
      since = 0;
    else if (++since <= hold)
      out[k] = out[k - 1];
  }
  return out;
}

/// Standardised: mean 0, variance 1, clipped at 3; what is missing is 0 and weighs nothing.
void standardise(std::vector<float>& v) {
  double n = 0, sum = 0, square = 0;
  for (const float x : v)
    if (!std::isnan(x)) {
      ++n;
      sum += x;
      square += static_cast<double>(x) * x;
    }
  if (n < 2) return;
  const double mean = sum / n, sd = std::sqrt(std::max(square / n - mean * mean, 1e-12));
  for (float& x : v) x = std::isnan(x) ? x : static_cast<float>(std::clamp((x - mean) / sd, -3.0, 3.0));
}

/// What the compressor drives: electric signals and pressures as they stand, temperatures by their slope.
std::vector<float> driven(const Trace& trace, const Series& series, double step) {
  std::vector<float> v = at_steps(trace, series, step);
  if (info(series.what).dimension == base::Dimension::temperature) {
    const auto span = static_cast<std::size_t>(std::max(1.0, std::max(60.0, 2 * trace.interval) / step));
    std::vector<float> slope(v.size(), kNothing);
    for (std::size_t k = span; k + span < v.size(); ++k) slope[k] = v[k + span] - v[k - span];
    v.swap(slope);
  }
  standardise(v);
  return v;
}

std::vector<float> running(const Trace& trace, const Phases& phases, double step) {
  std::vector<float> out(static_cast<std::size_t>(trace.t.back() / step) + 1, kNothing);
  for (const Phase& p : phases.phases) {
    const bool on = p.state == State::running || p.state == State::start;
    const auto from = static_cast<std::size_t>(std::max(0.0, p.from / step));
    for (std::size_t k = from; k < out.size() && static_cast<double>(k) * step < p.to; ++k)
      out[k] = on ? 1.0F : 0.0F;
  }
  standardise(out);
  return out;
}

/// Correlation of a with b shifted by `shift` steps, and how many steps they share.
std::pair<double, double> correlation(const std::vector<float>& a, const std::vector<float>& b,
                                      std::ptrdiff_t shift) {
  double n = 0, xy = 0, xx = 0, yy = 0;
  const auto size = static_cast<std::ptrdiff_t>(b.size());
  const std::ptrdiff_t begin = std::max<std::ptrdiff_t>(0, shift);
  const std::ptrdiff_t end = std::min(static_cast<std::ptrdiff_t>(a.size()), size + shift);
  for (std::ptrdiff_t k = begin; k < end; ++k) {
    const float x = a[static_cast<std::size_t>(k)], y = b[static_cast<std::size_t>(k - shift)];
    if (std::isnan(x) || std::isnan(y)) continue;
    ++n;
    xy += static_cast<double>(x) * y;
    xx += static_cast<double>(x) * x;
    yy += static_cast<double>(y) * y;
  }
  return {xx > 0 && yy > 0 ? xy / std::sqrt(xx * yy) : 0, n};
}

int switches(const Phases& phases) {
  int count = 0;
  for (std::size_t i = 1; i < phases.phases.size(); ++i)
    count += (phases.phases[i].state == State::off) != (phases.phases[i - 1].state == State::off);
  return count;
}

struct Search {
  const std::vector<float>& a;
  const std::vector<float>& b;
  double step, switches_per_step;
  double zero;  // steps between the two starts as the clocks say

  /// ln likelihood of a shift: -n/2 ln(1 - r2), n the switches in the common part.
  double worth(std::ptrdiff_t shift) const {
    const auto [r, n] = correlation(a, b, shift);
    const double looks = n * switches_per_step;
    return looks < 3 ? 0 : -0.5 * looks * std::log(1 - std::min(r * r, 0.9999));
  }
};

const Series* best_series(const Trace& trace) {
  const auto signal = signal_of(trace);
  return signal ? &trace.series[static_cast<std::size_t>(*signal)] : nullptr;
}

}  // namespace

std::optional<Clock> align(const Trace& first, const Phases& of_first, const Trace& other) {
  const Series* signal = best_series(other);
  const int count = switches(of_first);
  if (signal == nullptr || count < 3 || first.t.back() <= 0 || other.t.back() <= 0) return std::nullopt;
  // Steps as fine as the loggers, as coarse as a million products a shift allow.
  const double longest = std::max(first.t.back(), other.t.back());
  const double step =
      std::max({std::min(10.0, std::max(first.interval, other.interval)), longest / 20000, 1.0});
  const auto a = running(first, of_first, step);
  const auto b = driven(other, *signal, step);
  const double zero = first.dated && other.dated ? (other.start - first.start) / step : 0;
  const Search search{a, b, step, count / static_cast<double>(a.size()), zero};
  // Every fourth step at first, then each around the best.
  const auto reach = static_cast<std::ptrdiff_t>(kReach / step);
  const auto middle = static_cast<std::ptrdiff_t>(std::llround(zero));
  const std::ptrdiff_t stride = std::max<std::ptrdiff_t>(1, static_cast<std::ptrdiff_t>(60 / step));
  std::vector<std::pair<std::ptrdiff_t, double>> tried;
  std::ptrdiff_t best = middle;
  double most = -1;
  const auto take = [&](std::ptrdiff_t shift) {
    const double worth = search.worth(shift);
    tried.emplace_back(shift, worth);
    if (worth > most) {
      most = worth;
      best = shift;
    }
  };
  for (std::ptrdiff_t shift = middle - reach; shift <= middle + reach; shift += stride) take(shift);
  for (std::ptrdiff_t centre = best, shift = centre - 2 * stride; shift <= centre + 2 * stride; ++shift)
    take(shift);
  Clock clock;
  clock.offset = (static_cast<double>(best) - zero) * step;
  clock.gain = most;
  // The offset's interval where the likelihood is within chi2(1, 0.90)/2 = 1.35 of its best; never finer than
  // the steps and the loggers' own intervals.
  double total = 0, near = 0;
  clock.low = clock.high = clock.offset;
  for (const auto& [shift, worth] : tried) {
    const double offset = (static_cast<double>(shift) - zero) * step;
    const double p = std::exp(worth - most);
    total += p;
    const bool beside = std::abs(offset - clock.offset) < 600;
    near += beside ? p : 0;
    if (!beside || worth < most - 1.35) continue;
    clock.low = std::min(clock.low, offset);
    clock.high = std::max(clock.high, offset);
  }
  const double least = step + 0.5 * std::max(first.interval, other.interval);
  clock.low -= least;
  clock.high += least;
  clock.probability = total > 0 ? near / total : 0;
  const double hours = std::round(clock.offset / 3600);
  clock.whole_hours = hours != 0 && std::abs(clock.offset - hours * 3600) < 60;
  clock.trusted = clock.gain > 6 && clock.probability > 0.9;
  // Drift: the two halves by themselves.
  if (clock.trusted && count >= 12) {
    const auto half = [&](bool second) {
      std::vector<float> part = a;
      for (std::size_t k = 0; k < part.size(); ++k)
        if ((k * 2 >= part.size()) != second) part[k] = kNothing;
      const Search one{part, b, step, search.switches_per_step, zero};
      std::ptrdiff_t at = best;
      double top = -1;
      for (std::ptrdiff_t s = best - 2 * stride; s <= best + 2 * stride; ++s)
        if (const double w = one.worth(s); w > top) {
          top = w;
          at = s;
        }
      return static_cast<double>(at) * step;
    };
    const double apart = half(true) - half(false), days = 0.5 * first.t.back() / 86400;
    if (std::abs(apart) > 2 * least && days > 0) clock.drift = apart / days;
  }
  return clock;
}

void merge_into(Trace& first, const Trace& other, const Clock& clock) {
  const double shift = (first.dated && other.dated ? other.start - first.start : 0) + clock.offset;
  const double middle = 0.5 * first.t.back();
  const double hold = std::max(1.5 * other.interval, 0.6 * first.interval);
  for (const Series& series : other.series) {
    Series merged = series;
    merged.column = -1;
    merged.value.assign(first.t.size(), kNothing);
    std::size_t k = 0;
    for (std::size_t i = 0; i < first.t.size(); ++i) {
      // The other clock's own time at this moment.
      const double at = first.t[i] - shift - clock.drift * (first.t[i] - middle) / 86400;
      while (k + 1 < other.t.size() && other.t[k + 1] <= at) ++k;
      if (other.t[k] <= at && at - other.t[k] <= hold) merged.value[i] = series.value[k];
    }
    first.series.push_back(std::move(merged));
  }
}

}  // namespace coldwright::traces

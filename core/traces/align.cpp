#include "traces/align.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::traces {
namespace {

constexpr double kReach = 26 * 3600.0;
constexpr double kMostDrift = 300e-6;  // a cheap logger's clock in a cold box (our estimate)

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

/// Correlation of a, from..to-1, with b shifted by `shift` steps, and how many steps they share.
std::pair<double, double> correlation(const std::vector<float>& a, const std::vector<float>& b,
                                      std::ptrdiff_t shift, std::ptrdiff_t from, std::ptrdiff_t to) {
  double n = 0, sx = 0, sy = 0, xy = 0, xx = 0, yy = 0;
  const auto size = static_cast<std::ptrdiff_t>(b.size());
  const std::ptrdiff_t begin = std::max(from, shift);
  const std::ptrdiff_t end = std::min(to, size + shift);
  for (std::ptrdiff_t k = begin; k < end; ++k) {
    const float x = a[static_cast<std::size_t>(k)], y = b[static_cast<std::size_t>(k - shift)];
    if (std::isnan(x) || std::isnan(y)) continue;
    ++n;
    sx += static_cast<double>(x);
    sy += static_cast<double>(y);
    xy += static_cast<double>(x) * y;
    xx += static_cast<double>(x) * x;
    yy += static_cast<double>(y) * y;
  }
  if (n < 2) return {0, 0};
  const double cxx = xx - sx * sx / n, cyy = yy - sy * sy / n;
  return {cxx > 0 && cyy > 0 ? (xy - sx * sy / n) / std::sqrt(cxx * cyy) : 0, n};
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
  double switches_per_step;

  /// ln likelihood of a shift: -n/2 ln(1 - r2), n the switches in the part from..to-1 of a.
  double worth(std::ptrdiff_t shift, std::ptrdiff_t from, std::ptrdiff_t to) const {
    const auto [r, n] = correlation(a, b, shift, from, to);
    const double looks = n * switches_per_step;
    return looks < 3 ? 0 : -0.5 * looks * std::log(1 - std::min(r * r, 0.9999));
  }
  double worth(std::ptrdiff_t shift) const { return worth(shift, 0, static_cast<std::ptrdiff_t>(a.size())); }
};

const Series* best_series(const Trace& trace) {
  const auto signal = signal_of(trace);
  return signal ? &trace.series[static_cast<std::size_t>(*signal)] : nullptr;
}

/// Both signals at even steps of the first file's time.
struct Pair {
  std::vector<float> a, b;
  double step = 1, zero = 0;  // steps between the two starts as the clocks say
  Search search(int switches) const { return {a, b, switches / static_cast<double>(a.size())}; }
};
Pair pair_of(const Trace& first, const Phases& of_first, const Trace& other, const Series& signal,
             double step) {
  Pair out{running(first, of_first, step), driven(other, signal, step), step, 0};
  if (first.dated && other.dated) out.zero = (other.start - first.start) / step;
  return out;
}

/// The first look: every offset within reach, drift left out. Its probability stands against all others
/// tried.
Clock coarse(const Pair& pair, int switches, bool dated) {
  const Search search = pair.search(switches);
  const double step = pair.step;
  // Two clocks with dates differ by a zone and a day at most; without, one file lies anywhere over the other.
  const auto middle = dated ? static_cast<std::ptrdiff_t>(std::llround(pair.zero)) : 0;
  const auto reach = static_cast<std::ptrdiff_t>(kReach / step);
  const std::ptrdiff_t lowest = dated ? middle - reach : -static_cast<std::ptrdiff_t>(pair.b.size());
  const std::ptrdiff_t highest = dated ? middle + reach : static_cast<std::ptrdiff_t>(pair.a.size());
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
  for (std::ptrdiff_t shift = lowest; shift <= highest; shift += stride) take(shift);
  for (std::ptrdiff_t centre = best, shift = centre - 2 * stride; shift <= centre + 2 * stride; ++shift)
    take(shift);
  Clock clock;
  clock.offset = (static_cast<double>(best) - pair.zero) * step;
  clock.gain = most;
  double total = 0, near = 0;
  for (const auto& [shift, worth] : tried) {
    const double p = std::exp(worth - most);
    total += p;
    if (std::abs((static_cast<double>(shift) - pair.zero) * step - clock.offset) < 600) near += p;
  }
  clock.probability = total > 0 ? near / total : 0;
  return clock;
}

/// ln likelihood of each part of the first file over offsets near the one found: offset and drift together
/// are a straight line through the parts.
struct Parts {
  std::vector<std::vector<double>> worth;  // [part][offset]
  std::vector<double> at;                  // the part's middle, s from the record's middle
  double lowest = 0, step = 1;             // s of the first offset, and from each to the next
  double half = 0;                         // s, half the record that both share

  double total(double offset, double drift) const {
    double sum = 0;
    for (std::size_t k = 0; k < worth.size(); ++k) {
      const double place = (offset + drift * at[k] - lowest) / step;
      const double last = static_cast<double>(worth[k].size() - 1);
      const auto i = static_cast<std::size_t>(std::clamp(place, 0.0, last - 1));
      const double part = std::clamp(place - static_cast<double>(i), 0.0, 1.0);
      sum += worth[k][i] * (1 - part) + worth[k][i + 1] * part;
    }
    return sum;
  }
};

Parts parts_of(const Pair& pair, int switches, const Clock& near, double within) {
  Parts out;
  out.step = pair.step;
  const Search search = pair.search(switches);
  const auto shift = static_cast<std::ptrdiff_t>(std::llround(near.offset / pair.step + pair.zero));
  const auto size = static_cast<std::ptrdiff_t>(pair.a.size());
  const std::ptrdiff_t begin = std::clamp<std::ptrdiff_t>(shift, 0, size);
  const std::ptrdiff_t end =
      std::clamp<std::ptrdiff_t>(shift + static_cast<std::ptrdiff_t>(pair.b.size()), 0, size);
  // Drift moves a part's own offset by less than a step only if the part is short; each needs eight switches.
  const double shared = search.switches_per_step * static_cast<double>(end - begin);
  const auto count = static_cast<std::ptrdiff_t>(std::clamp(shared / 8, 1.0, 48.0));
  out.half = 0.5 * static_cast<double>(end - begin) * pair.step;
  const auto reach = static_cast<std::ptrdiff_t>(
                         std::ceil((within + (count >= 3 ? kMostDrift * out.half : 0)) / pair.step)) +
                     2;
  out.lowest = (static_cast<double>(shift - reach) - pair.zero) * pair.step;
  for (std::ptrdiff_t k = 0; k < count; ++k) {
    const std::ptrdiff_t from = begin + (end - begin) * k / count,
                         to = begin + (end - begin) * (k + 1) / count;
    std::vector<double> worth;
    for (std::ptrdiff_t s = shift - reach; s <= shift + reach; ++s)
      worth.push_back(search.worth(s, from, to));
    out.worth.push_back(std::move(worth));
    out.at.push_back((0.5 * static_cast<double>(from + to) - 0.5 * static_cast<double>(size)) * pair.step);
  }
  return out;
}

/// The most likely line and, for each of its two numbers, where the profile falls by chi2(1, 0.90)/2 = 1.35.
void fit_line(const Parts& parts, double within, double least, Clock& clock) {
  const bool drifts = parts.worth.size() >= 3 && parts.half > 0;
  const double fine = drifts ? 0.25 * parts.step / parts.half : 1;
  const int turns = drifts ? static_cast<int>(std::min(400.0, kMostDrift / fine)) : 0;
  const double slope = drifts ? kMostDrift / std::max(turns, 1) : 0, centre = clock.offset;
  const int moves = static_cast<int>(std::ceil(2 * within / parts.step));
  std::vector<double> by_drift(static_cast<std::size_t>(2 * turns + 1), -1e300);
  std::vector<double> by_offset(static_cast<std::size_t>(2 * moves + 1), -1e300);
  double most = -1e300;
  for (int d = -turns; d <= turns; ++d)
    for (int m = -moves; m <= moves; ++m) {
      const double offset = centre + 0.5 * m * parts.step, drift = d * slope;
      const double total = parts.total(offset, drift);
      double& of_drift = by_drift[static_cast<std::size_t>(d + turns)];
      double& of_offset = by_offset[static_cast<std::size_t>(m + moves)];
      of_drift = std::max(of_drift, total);
      of_offset = std::max(of_offset, total);
      if (total <= most) continue;
      most = total;
      clock.offset = offset;
      clock.drift = drift * 86400;
    }
  clock.low = clock.high = clock.offset;
  clock.drift_low = clock.drift_high = clock.drift;
  for (int m = -moves; m <= moves; ++m) {
    if (by_offset[static_cast<std::size_t>(m + moves)] < most - 1.35) continue;
    clock.low = std::min(clock.low, centre + 0.5 * m * parts.step);
    clock.high = std::max(clock.high, centre + 0.5 * m * parts.step);
  }
  // Never finer than the steps and the loggers' own intervals.
  clock.low -= least;
  clock.high += least;
  if (!drifts) return;
  for (int d = -turns; d <= turns; ++d) {
    if (by_drift[static_cast<std::size_t>(d + turns)] < most - 1.35) continue;
    clock.drift_low = std::min(clock.drift_low, d * slope * 86400);
    clock.drift_high = std::max(clock.drift_high, d * slope * 86400);
  }
  const double finest =
      0.5 * slope * 86400 + 0.5 * parts.step / parts.half / std::sqrt(parts.at.size()) * 86400;
  clock.drift_low -= finest;
  clock.drift_high += finest;
  clock.drift_tried = true;
}

}  // namespace

std::optional<Clock> align(const Trace& first, const Phases& of_first, const Trace& other) {
  const Series* signal = best_series(other);
  const int count = switches(of_first);
  if (signal == nullptr || count < 3 || first.t.back() <= 0 || other.t.back() <= 0) return std::nullopt;
  const double longest = std::max(first.t.back(), other.t.back());
  const double interval = std::max(first.interval, other.interval),
               finest = std::max(std::min(10.0, interval), 1.0);
  const bool dated = first.dated && other.dated;
  // First in steps as coarse as a million products an offset allow, then around the best one finely.
  const Pair wide = pair_of(first, of_first, other, *signal, std::max(finest, longest / 20000));
  Clock clock = coarse(wide, count, dated);
  const double step = std::max(finest, longest / 400000), within = 2 * std::max(wide.step, 60.0);
  const Pair near = pair_of(first, of_first, other, *signal, step);
  fit_line(parts_of(near, count, clock, within), within, 0.5 * (step + interval), clock);
  // A drift that may as well be none isn't taken.
  if (clock.drift_low <= 0 && clock.drift_high >= 0) clock.drift = 0;
  const double hours = std::round(clock.offset / 3600);
  clock.whole_hours = dated && hours != 0 && std::abs(clock.offset - hours * 3600) < 60;
  clock.trusted = clock.gain > 6 && clock.probability > 0.9;
  return clock;
}

}  // namespace coldwright::traces

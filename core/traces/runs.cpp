// A signal's noise, and its samples as runs of nearly one level.
#include <algorithm>
#include <cmath>

#include "traces/levels.hpp"

namespace coldwright::traces {

double quantile(std::vector<double>& v, double q) {
  if (v.empty()) return 0;
  const auto at = v.begin() + static_cast<std::ptrdiff_t>(q * static_cast<double>(v.size() - 1));
  std::nth_element(v.begin(), at, v.end());
  return *at;
}

Noise noise_of(const std::vector<float>& value) {
  std::vector<double> low, high, all;
  const std::size_t every = std::max<std::size_t>(1, value.size() / 400000);
  for (std::size_t i = 0; i < value.size(); i += every)
    if (!std::isnan(value[i])) all.push_back(value[i]);
  if (all.size() < 3) return {};
  std::vector<double> sorted = all;
  const double top = quantile(sorted, 0.98), bottom = quantile(sorted, 0.02),
               half = 0.5 * (root(top) + root(bottom)), middle = half * std::abs(half);
  double step = 1e300, high_level = 0;
  for (std::size_t i = 1; i < value.size(); ++i) {
    if (std::isnan(value[i]) || std::isnan(value[i - 1])) continue;
    const double off = std::abs(static_cast<double>(value[i]) - value[i - 1]);
    if (off > 0) step = std::min(step, off);
    if (i % every != 0) continue;
    const bool upper = value[i] > middle && value[i - 1] > middle;
    const bool lower = value[i] <= middle && value[i - 1] <= middle;
    if (upper) {
      high.push_back(off);
      high_level += value[i];
    }
    if (lower) low.push_back(off);
  }
  constexpr double kSigma = 1 / 0.4506;
  const double least = step < 1e299 ? 0.3 * std::min(step, 0.01 * (top - bottom) + 1e-9) : 0;
  Noise noise;
  const double s0 = low.empty() ? 0 : quantile(low, 0.25) * kSigma;
  const double s1 = high.empty() ? s0 : quantile(high, 0.25) * kSigma;
  const double l1 = high.empty() ? 1 : high_level / static_cast<double>(high.size());
  noise.floor = std::max({std::min(s0, 0.1 * (top - bottom)), least, 1e-6 * std::abs(top)});
  noise.share = std::clamp((s1 - noise.floor) / std::max(l1, 1e-9), 0.0, 0.25);
  return noise;
}

std::vector<Run> runs_of(const std::vector<double>& t, double gap, const std::vector<float>& value,
                         const Noise& noise, double interval) {
  std::vector<double> sample;
  const std::size_t every = std::max<std::size_t>(1, value.size() / 100000);
  for (std::size_t i = 0; i < value.size(); i += every)
    if (!std::isnan(value[i])) sample.push_back(value[i]);
  const double range = sample.empty() ? 0 : std::max(quantile(sample, 0.98) - quantile(sample, 0.02), 0.0);
  std::vector<Run> out;
  // A level of its own within a run: it follows slowly, as power does after a start.
  double level = 0, sum = 0, square = 0;
  std::uint32_t count = 0;
  std::size_t last = 0;
  const auto close = [&] {
    if (count == 0) return;
    Run& run = out.back();
    run.count = count;
    run.mean = static_cast<float>(sum / count);
    run.sd = static_cast<float>(std::sqrt(std::max(0.0, square / count - (sum / count) * (sum / count))));
  };
  for (std::size_t i = 0; i < value.size(); ++i) {
    const double x = value[i];
    if (std::isnan(value[i])) continue;
    const double allowed = std::max({6 * noise.at(level), 0.1 * std::abs(level), 0.03 * range});
    const bool fresh = count == 0 || t[i] - t[last] > gap || std::abs(x - level) > allowed;
    if (fresh) {
      close();
      if (!out.empty()) {
        const bool whole = t[i] - t[last] <= gap;
        out.back().end = whole ? t[i] : t[last] + std::min(interval, t[i] - t[last]);
        if (whole) out.back().to = static_cast<std::uint32_t>(i);
      }
      Run run;
      run.from = static_cast<std::uint32_t>(i);
      run.mean = run.low = run.high = value[i];
      run.begin = t[i];
      out.push_back(run);
      level = x;
      sum = square = 0;
      count = 0;
    }
    Run& run = out.back();
    run.to = static_cast<std::uint32_t>(i) + 1;
    run.low = std::min(run.low, value[i]);
    run.high = std::max(run.high, value[i]);
    ++count;
    sum += x;
    square += x * x;
    level += (x - level) * std::max(1.0 / count, 0.05);
    last = i;
  }
  close();
  if (!out.empty()) out.back().end = t[last] + interval;
  return out;
}

}  // namespace coldwright::traces

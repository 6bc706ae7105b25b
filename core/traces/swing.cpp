// Phases from a temperature alone: it falls while the compressor runs and rises while it rests (or the other
// way about on the hot side). Turning points with a dead band in one pass.
#include <algorithm>
#include <cmath>

#include "traces/phases.hpp"

namespace coldwright::traces {
namespace {

struct Turn {
  std::size_t at;
  bool top;
};

/// Tops and bottoms that differ by more than `band` from the turning points beside them.
std::vector<Turn> turns_of(const std::vector<std::size_t>& index, const std::vector<float>& v, double band) {
  std::vector<Turn> out;
  std::size_t low = index.front(), high = index.front();
  int going = 0;  // 1 up, -1 down
  for (const std::size_t i : index) {
    if (going >= 0 && v[i] > v[high]) high = i;
    if (going <= 0 && v[i] < v[low]) low = i;
    if (going == 0) {
      if (v[i] > v[low]) high = v[i] > v[high] ? i : high;
      if (v[i] - v[low] > band) {
        out.push_back({low, false});
        going = 1;
        high = i;
      } else if (v[high] - v[i] > band) {
        out.push_back({high, true});
        going = -1;
        low = i;
      }
    } else if (going > 0 && v[high] - v[i] > band) {
      out.push_back({high, true});
      going = -1;
      low = i;
    } else if (going < 0 && v[i] - v[low] > band) {
      out.push_back({low, false});
      going = 1;
      high = i;
    }
  }
  return out;
}

/// The dead band: well over noise, and a third of the usual swing. Found by halving from the whole range
/// until the swings themselves are three times as large.
double band_of(const std::vector<std::size_t>& index, const std::vector<float>& v, double noise) {
  std::vector<float> sorted;
  for (const std::size_t i : index) sorted.push_back(v[i]);
  std::sort(sorted.begin(), sorted.end());
  double band = 0.5 * (sorted[sorted.size() * 98 / 100] - sorted[sorted.size() * 2 / 100]);
  const double least = std::max(5 * noise, 0.15);
  while (band > least) {
    const auto turns = turns_of(index, v, band);
    std::vector<double> swings;
    for (std::size_t k = 1; k < turns.size(); ++k)
      swings.push_back(std::abs(static_cast<double>(v[turns[k].at]) - v[turns[k - 1].at]));
    if (swings.size() > 8) {
      std::nth_element(swings.begin(), swings.begin() + static_cast<std::ptrdiff_t>(swings.size() / 2),
                       swings.end());
      return std::max(least, std::min(band, swings[swings.size() / 2] / 3));
    }
    band *= 0.7;
  }
  return least;
}

}  // namespace

std::optional<Phases> phases_of_swing(const Trace& trace, int series, bool falling) {
  const Series& given = trace.series[static_cast<std::size_t>(series)];
  Phases out;
  out.series = series;
  out.method = Method::swing;
  out.noise = noise_of(given.value);
  const double sigma = out.noise.floor + out.noise.share * 280;
  const auto add = [&](std::size_t from, std::size_t to, bool runs, double probability, bool whole) {
    Phase phase;
    phase.state = runs ? State::running : State::off;
    phase.from = trace.t[from];
    phase.to = trace.t[to];
    // A turning point stands within a few samples of where slope and noise part.
    phase.from_low = phase.from - (whole ? 2 * trace.interval : 0);
    phase.from_high = phase.from + (whole ? 2 * trace.interval : 0);
    phase.probability = probability;
    phase.level = 0.5 * (given.value[from] + given.value[to]);
    phase.whole = whole;
    if (phase.to > phase.from) out.phases.push_back(phase);
  };
  for (std::size_t from = 0; from < trace.t.size();) {
    std::vector<std::size_t> index;
    std::size_t to = from;
    for (; to < trace.t.size() && (to == from || trace.t[to] - trace.t[to - 1] <= trace.gap); ++to)
      if (!std::isnan(given.value[to])) index.push_back(to);
    from = to;
    if (index.size() < 5) continue;
    ++out.stretches;
    const double band = band_of(index, given.value, sigma);
    const auto turns = turns_of(index, given.value, band);
    out.runs += turns.size();
    if (turns.empty()) {
      const double change = given.value[index.back()] - given.value[index.front()];
      add(index.front(), index.back(), falling ? change < 0 : change > 0, 0.5, false);
      continue;
    }
    const auto run_after = [&](const Turn& turn) { return turn.top == falling; };
    add(index.front(), turns.front().at, !run_after(turns.front()), 0.6, false);
    for (std::size_t k = 0; k < turns.size(); ++k) {
      const std::size_t end = k + 1 < turns.size() ? turns[k + 1].at : index.back();
      const double swing = std::abs(static_cast<double>(given.value[end]) - given.value[turns[k].at]);
      // How far the swing stands above the band that noise and small events fill (our estimate).
      const double sure = 1 - 0.5 * std::exp(-(swing - band) / std::max(band, 1e-9));
      add(turns[k].at, end, run_after(turns[k]), std::clamp(0.95 * sure, 0.5, 0.95), k + 1 < turns.size());
    }
  }
  if (out.phases.empty()) return std::nullopt;
  return out;
}

}  // namespace coldwright::traces

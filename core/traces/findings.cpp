#include "traces/findings.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::traces {
namespace {

constexpr double kSettled = 900;  // s of running before readings are taken as steady (common practice)
constexpr double kWindow = 300;   // s that a reading is the mean of

/// Whether a current stands for the compressor alone: its rest level, a fan's or heater's, is taken off.
double without_rest(const Phases& phases, const Trace& trace, const Series& series) {
  const bool same = &series == &trace.series[static_cast<std::size_t>(phases.series)];
  return same && series.what == What::current && !phases.levels.one_level ? phases.levels.rest_value : 0;
}

struct Mean {
  double value = 0, sd = 0;
  int count = 0;
};
Mean mean_in(const Trace& trace, const Series& series, double from, double to) {
  Mean out;
  double sum = 0, square = 0;
  const auto begin = std::lower_bound(trace.t.begin(), trace.t.end(), from);
  for (auto it = begin; it != trace.t.end() && *it <= to; ++it) {
    const double v = series.value[static_cast<std::size_t>(it - trace.t.begin())];
    if (std::isnan(v)) continue;
    sum += v;
    square += v * v;
    ++out.count;
  }
  if (out.count == 0) return out;
  out.value = sum / out.count;
  out.sd = std::sqrt(std::max(0.0, square / out.count - out.value * out.value));
  return out;
}

/// The last run that came to rest, or the longest when none did.
const Phase* steady_run(const Phases& phases) {
  const Phase* best = nullptr;
  for (const Phase& p : phases.phases) {
    if (p.state != State::running || p.probability < 0.6) continue;
    const double length = p.to - p.from;
    if (length >= kSettled)
      best = &p;
    else if (best == nullptr || (best->to - best->from < kSettled && length > best->to - best->from))
      best = &p;
  }
  return best;
}

void readings(const Trace& trace, const Phases& phases, Findings& out) {
  const Phase* run = steady_run(phases);
  if (run == nullptr) return;
  // A swing's turning points trail the compressor: the window ends well before.
  const double margin = std::max(2 * trace.interval, 10.0);
  out.to = run->to - margin;
  out.from =
      std::max(run->from + 0.5 * (run->to - run->from), out.to - std::max(kWindow, 3 * trace.interval));
  if (out.to <= out.from) return;
  for (const Series& series : trace.series) {
    const Mean mean = mean_in(trace, series, out.from, out.to);
    if (mean.count < 2) continue;
    if (series.what == What::box_temp && !out.box) out.box = mean.value;
    if (series.what == What::ambient_temp && !out.ambient) out.ambient = mean.value;
    const auto kind = info(series.what).reading;
    if (!kind) continue;
    const bool again = std::any_of(out.readings.begin(), out.readings.end(),
                                   [&](const SpotReading& r) { return r.kind == *kind; });
    if (again) continue;
    const double step = noise_of(series.value).floor;
    out.readings.push_back({*kind, mean.value - without_rest(phases, trace, series), std::max(mean.sd, step),
                            (0.5 * (out.from + out.to) - run->from) / 60,
                            run->from_high > 0 && run->from > 0});
  }
}

void observed(const Phases& phases, const std::vector<Event>& events, Findings& out) {
  double run = 0, all = 0, sure_run = 0, sure_off = 0, overload = 0, not_pumping = 0;
  for (const Phase& p : phases.phases) {
    const double s = p.to - p.from;
    all += s;
    if (p.state == State::running) {
      run += s;
      sure_run = std::max(sure_run, p.probability);
    }
    if (p.state == State::off) sure_off = std::max(sure_off, p.probability);
    if (p.state == State::overload && p.tries >= 2) overload = std::max(overload, p.probability);
    if (p.state == State::not_pumping) not_pumping = std::max(not_pumping, p.probability);
  }
  // Without a current, short runs may be a control's: the levels alone make it likely, no more (our
  // estimate).
  if (overload > 0.5)
    out.observed.push_back({"compressor", "cycling_on_overload", 0.9 * overload});
  else if (run > 0 && not_pumping < 0.5)
    out.observed.push_back({"compressor", "running", 0.97 * sure_run});
  else if (run <= 0 && all > 3600)
    out.observed.push_back({"compressor", "off", 0.9 * sure_off});
  if (not_pumping > 0.5 && run > 0) out.observed.push_back({"cooling", "comes_and_goes", 0.9 * not_pumping});
  int doors = 0;
  double sure_door = 1;
  for (const Event& e : events)
    if (e.what == Happening::door) {
      ++doors;
      sure_door = std::min(sure_door, e.probability);
    }
  // More than ten an hour is a busy kitchen (our estimate).
  if (all > 3600 && doors > 10 * all / 3600)
    out.observed.push_back({"box_load", "door_often_open", 0.8 * sure_door});
}

}  // namespace

Findings findings_of(const Trace& trace, const Phases& phases, const std::vector<Event>& events) {
  Findings out;
  readings(trace, phases, out);
  observed(phases, events, out);
  return out;
}

}  // namespace coldwright::traces

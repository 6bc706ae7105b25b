#include "traces/fits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace coldwright::traces {
namespace {

/// Least squares of y on exp(-t / tau) and a constant.
struct Line {
  double a = 0, b = 0, rss = 0;
};
Line on_decay(const std::vector<double>& t, const std::vector<double>& y, double tau) {
  double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0, syy = 0;
  for (std::size_t i = 0; i < t.size(); ++i) {
    const double x = std::exp(-t[i] / tau);
    n += 1;
    sx += x;
    sy += y[i];
    sxx += x * x;
    sxy += x * y[i];
    syy += y[i] * y[i];
  }
  const double vx = sxx - sx * sx / n, vxy = sxy - sx * sy / n, vy = syy - sy * sy / n;
  Line line;
  line.b = vx > 1e-12 * std::max(1.0, sxx) ? vxy / vx : 0;
  line.a = (sy - line.b * sx) / n;
  line.rss = std::max(0.0, vy - line.b * vxy);
  return line;
}

/// Samples that count, of n whose neighbours' residuals correlate: n (1 - r) / (1 + r).
double independent(const std::vector<double>& residual) {
  double up = 0, down = 1e-300;
  for (std::size_t i = 0; i < residual.size(); ++i) {
    down += residual[i] * residual[i];
    if (i > 0) up += residual[i] * residual[i - 1];
  }
  const double r = std::clamp(up / down, 0.0, 0.98);
  return std::max(3.0, static_cast<double>(residual.size()) * (1 - r) / (1 + r));
}

diagnosis::Interval spread_of(std::vector<double> v) {
  std::sort(v.begin(), v.end());
  const auto at = [&](double q) {
    const double place = q * static_cast<double>(v.size() - 1);
    const auto low = static_cast<std::size_t>(place);
    const double part = place - static_cast<double>(low);
    return v[low] + (low + 1 < v.size() ? part * (v[low + 1] - v[low]) : 0);
  };
  return {at(0.05), at(0.5), at(0.95)};
}

/// Mean of cycles with 90 %, from their own scatter.
diagnosis::Interval mean_of(const std::vector<double>& v) {
  double sum = 0, square = 0;
  for (const double x : v) {
    sum += x;
    square += x * x;
  }
  const double n = static_cast<double>(v.size()), mean = sum / n;
  const double error = n > 1 ? std::sqrt(std::max(0.0, square / n - mean * mean) / (n - 1)) : 0;
  return {mean - 1.645 * error, mean, mean + 1.645 * error};
}

struct Cut {
  std::vector<double> t, y;
};
/// A series within a stretch of time, at most `most` samples evenly chosen.
Cut cut(const Trace& trace, const Series& series, double from, double to, std::size_t most = 2000) {
  Cut out;
  const auto begin = std::lower_bound(trace.t.begin(), trace.t.end(), from);
  const auto end = std::lower_bound(begin, trace.t.end(), to);
  const auto count = static_cast<std::size_t>(end - begin);
  const std::size_t every = std::max<std::size_t>(1, count / most);
  for (auto it = begin; it < end; it += static_cast<std::ptrdiff_t>(std::min<std::size_t>(every, end - it))) {
    const float v = series.value[static_cast<std::size_t>(it - trace.t.begin())];
    if (std::isnan(v)) continue;
    out.t.push_back(*it - from);
    out.y.push_back(v);
  }
  return out;
}

class Account {
 public:
  Account(const Trace& trace, const Phases& phases) : trace_(trace), phases_(phases) {}

  std::vector<Figure> run() {
    cycles();
    if (electric()) {
      energy();
      start_decay();
    }
    for (std::size_t s = 0; s < trace_.series.size(); ++s)
      if (trace_.series[s].what == What::box_temp || trace_.series[s].what == What::evaporator_air_out_temp)
        temperatures(static_cast<int>(s));
    equalising();
    thawing();
    return std::move(out_);
  }

 private:
  bool electric() const { return is_electric(trace_.series[static_cast<std::size_t>(phases_.series)].what); }
  void add(const char* key, Measure measure, diagnosis::Interval interval, bool spread, std::size_t count,
           int series = -1) {
    out_.push_back(
        {key, measure, interval, spread, static_cast<int>(count), series < 0 ? phases_.series : series});
  }

  /// A run is from a start to the next rest: the start's seconds belong to it.
  void cycles() {
    std::vector<double> on, off, cycle, share;
    double run_sum = 0, all = 0, starts = 0;
    double begun = -1, last_start = -1;
    bool whole = true;
    const auto& list = phases_.phases;
    for (std::size_t i = 0; i < list.size(); ++i) {
      const Phase& p = list[i];
      const bool follows = i > 0 && p.from - list[i - 1].to < trace_.gap * 0.5;
      if (!follows) begun = last_start = -1;
      all += p.to - p.from;
      const bool runs = p.state == State::running || p.state == State::start || p.state == State::not_pumping;
      const bool before =
          follows && (list[i - 1].state == State::start || list[i - 1].state == State::running ||
                      list[i - 1].state == State::not_pumping);
      if (runs) run_sum += p.to - p.from;
      if (runs && !before) {
        if (follows) ++starts;
        begun = follows ? p.from : -1;
        whole = follows;
        if (follows && last_start >= 0) cycle.push_back(p.from - last_start);
        if (follows) last_start = p.from;
      }
      const bool ends = runs && i + 1 < list.size() && list[i + 1].from - p.to < trace_.gap * 0.5 &&
                        (list[i + 1].state == State::off || list[i + 1].state == State::defrost);
      if (ends && whole && begun >= 0) on.push_back(p.to - begun);
      if (p.state == State::off && p.whole) off.push_back(p.to - p.from);
    }
    if (!on.empty()) add("on_time", Measure::seconds, spread_of(on), true, on.size());
    if (!off.empty()) add("off_time", Measure::seconds, spread_of(off), true, off.size());
    if (!cycle.empty()) add("cycle_time", Measure::seconds, spread_of(cycle), true, cycle.size());
    if (all > 0) {
      const double mid = run_sum / all;
      double error = 0;
      if (on.size() > 1 && off.size() > 1) {
        // The share of whole cycles, each a draw: scatter of on and off by the delta method.
        const auto a = mean_of(on), b = mean_of(off);
        const double ea = (a.high - a.mid) / 1.645, eb = (b.high - b.mid) / 1.645, sum = a.mid + b.mid;
        error = std::hypot(b.mid * ea, a.mid * eb) / (sum * sum);
      }
      add("run_share", Measure::share,
          {std::max(0.0, mid - 1.645 * error), mid, std::min(1.0, mid + 1.645 * error)}, false, on.size());
      if (starts > 0 && all > 6 * 3600) {
        const double day = starts * 86400 / all, e = std::sqrt(starts) * 86400 / all;
        add("starts_per_day", Measure::count, {std::max(0.0, day - 1.645 * e), day, day + 1.645 * e}, false,
            static_cast<std::size_t>(starts));
      }
    }
  }

  void energy() {
    const Series& series = trace_.series[static_cast<std::size_t>(phases_.series)];
    const bool power = series.what == What::power;
    const Measure measure = power ? Measure::power : Measure::current;
    std::vector<double> run, rest, heat;
    for (const Phase& p : phases_.phases) {
      if (p.to - p.from < 2 * trace_.interval) continue;
      if (p.state == State::running) run.push_back(p.level);
      if (p.state == State::off) rest.push_back(p.level);
      if (p.state == State::defrost) heat.push_back(p.level);
    }
    if (!run.empty()) add("running_level", measure, spread_of(run), true, run.size());
    if (!rest.empty()) add("rest_level", measure, spread_of(rest), true, rest.size());
    if (!heat.empty()) add("heater_level", measure, spread_of(heat), true, heat.size());
    if (!power) return;
    // Days that were logged, each a draw; under two days, the whole as one.
    double joule = 0, logged = 0;
    std::vector<double> days;
    double of_day = 0, in_day = 0, day_end = 86400;
    for (std::size_t i = 1; i < trace_.t.size(); ++i) {
      const double step = trace_.t[i] - trace_.t[i - 1];
      if (trace_.t[i] > day_end) {
        if (in_day > 0.8 * 86400) days.push_back(of_day * 86400 / in_day);
        of_day = in_day = 0;
        day_end = std::ceil(trace_.t[i] / 86400) * 86400;
      }
      if (step > trace_.gap || std::isnan(series.value[i - 1])) continue;
      const double e = step * series.value[i - 1];
      joule += e;
      logged += step;
      of_day += e;
      in_day += step;
    }
    if (logged < 3600) return;
    diagnosis::Interval interval{joule * 86400 / logged, joule * 86400 / logged, joule * 86400 / logged};
    if (days.size() >= 2) interval = mean_of(days);
    add("energy_per_day", Measure::energy_per_day, interval, false, std::max<std::size_t>(days.size(), 1));
  }

  /// After a start the load falls as the box's and coils' heat goes: one time constant, over the runs.
  void start_decay() {
    const Series& series = trace_.series[static_cast<std::size_t>(phases_.series)];
    std::vector<double> taus, overs;
    int tried = 0;
    for (const Phase& p : phases_.phases) {
      if (p.state != State::running || !p.whole || p.to - p.from < 12 * trace_.interval) continue;
      if (++tried > 60) break;
      const double settle = std::max(trace_.interval, 3.0);
      const Cut c = cut(trace_, series, p.from + settle, p.to - trace_.interval, 400);
      const auto decay = fit_decay(c.t, c.y);
      if (!decay || decay->step <= 0 || decay->explained < 0.5 || decay->tau > 0.6 * (p.to - p.from) ||
          decay->tau < 2 * trace_.interval)
        continue;
      taus.push_back(decay->tau);
      overs.push_back(decay->step / std::max(decay->level, 1e-9));
    }
    if (taus.size() < 3) return;
    add("start_decay", Measure::seconds, spread_of(taus), true, taus.size());
    add("start_excess", Measure::share, spread_of(overs), true, overs.size());
  }

  void temperatures(int s) {
    const Series& series = trace_.series[static_cast<std::size_t>(s)];
    std::vector<double> warm, cool;
    const Phase* pull = nullptr;
    double fall = 5;  // K; less is a cycle, not a pull-down (common practice)
    for (const Phase& p : phases_.phases) {
      if (p.to - p.from < 5 * trace_.interval) continue;
      const Cut c = cut(trace_, series, p.from, p.to);
      if (c.y.size() < 5) continue;
      const std::size_t edge = std::max<std::size_t>(1, c.y.size() / 20);
      double first = 0, last = 0;
      for (std::size_t i = 0; i < edge; ++i) {
        first += c.y[i] / static_cast<double>(edge);
        last += c.y[c.y.size() - 1 - i] / static_cast<double>(edge);
      }
      const double rate = (last - first) / (p.to - p.from) * 3600;
      if (p.state == State::off && p.whole) warm.push_back(rate);
      if (p.state == State::running && p.whole) cool.push_back(-rate);
      if (p.state == State::running && first - last > fall) {
        fall = first - last;
        pull = &p;
      }
    }
    if (warm.size() >= 2)
      add("warming_rate", Measure::kelvin_per_hour, spread_of(warm), true, warm.size(), s);
    if (cool.size() >= 2)
      add("cooling_rate", Measure::kelvin_per_hour, spread_of(cool), true, cool.size(), s);
    if (pull == nullptr) return;
    const Cut c = cut(trace_, series, pull->from, pull->to);
    if (const auto slope = fit_slope(c.t, c.y)) {
      const double mid = -slope->slope * 3600, e = 1.645 * slope->error * 3600;
      add("pull_down_rate", Measure::kelvin_per_hour, {mid - e, mid, mid + e}, false, c.y.size(), s);
    }
    const auto decay = fit_decay(c.t, c.y);
    if (decay && decay->step > 0)
      add("pull_down_tau", Measure::seconds, {decay->tau_low, decay->tau, decay->tau_high}, false, c.y.size(),
          s);
  }

  /// After a stop the sides come together through the capillary.
  void equalising() {
    const Series* low = trace_.find(What::suction_pressure);
    const Series* high = trace_.find(What::discharge_pressure);
    if (low == nullptr && high == nullptr) return;
    std::vector<double> taus;
    for (const Phase& p : phases_.phases) {
      if (p.state != State::off || p.to - p.from < 10 * trace_.interval || !p.whole) continue;
      const Series& one = low != nullptr ? *low : *high;
      Cut c = cut(trace_, one, p.from, std::min(p.to, p.from + 1800), 600);
      if (low != nullptr && high != nullptr) {
        const Cut other = cut(trace_, *high, p.from, std::min(p.to, p.from + 1800), 600);
        if (other.y.size() == c.y.size())
          for (std::size_t i = 0; i < c.y.size(); ++i) c.y[i] = other.y[i] - c.y[i];
      }
      const auto decay = fit_decay(c.t, c.y);
      if (decay && decay->explained > 0.8 && std::isfinite(decay->tau_high)) taus.push_back(decay->tau);
    }
    if (taus.size() >= 2)
      add("equalising_tau", Measure::seconds, spread_of(taus), true, taus.size(),
          static_cast<int>((low != nullptr ? low : high) - trace_.series.data()));
  }

  /// The share of rests in which the coil comes above freezing, as it must where nothing else defrosts it.
  void thawing() {
    const Series* coil = trace_.find(What::coil_temp);
    if (coil == nullptr) return;
    std::size_t rests = 0, thawed = 0;
    for (const Phase& p : phases_.phases) {
      if (p.state != State::off || !p.whole || p.to - p.from < 5 * trace_.interval) continue;
      const Cut c = cut(trace_, *coil, p.from, p.to);
      if (c.y.size() < 5) continue;
      ++rests;
      const auto [low, high] = std::minmax_element(c.y.begin(), c.y.end());
      thawed += *low < 272.15 && *high > 274.15;
    }
    if (rests < 4 || thawed == 0) return;
    const double share = static_cast<double>(thawed) / static_cast<double>(rests);
    const double error = 1.645 * std::sqrt(share * (1 - share) / static_cast<double>(rests));
    add("rests_thawing", Measure::share, {std::max(0.0, share - error), share, std::min(1.0, share + error)},
        false, rests, static_cast<int>(coil - trace_.series.data()));
  }

  const Trace& trace_;
  const Phases& phases_;
  std::vector<Figure> out_;
};

}  // namespace

std::optional<Decay> fit_decay(const std::vector<double>& t, const std::vector<double>& y) {
  if (t.size() < 6 || t.back() <= t.front()) return std::nullopt;
  const double span = t.back() - t.front(), step = span / static_cast<double>(t.size() - 1);
  const double least = std::log(0.5 * step), most = std::log(20 * span);
  constexpr int kGrid = 40;
  double best = least;
  Line line;
  line.rss = std::numeric_limits<double>::infinity();
  const auto take = [&](double log_tau) {
    const Line one = on_decay(t, y, std::exp(log_tau));
    if (one.rss < line.rss) {
      line = one;
      best = log_tau;
    }
    return one.rss;
  };
  for (int i = 0; i <= kGrid; ++i) take(least + (most - least) * i / kGrid);
  double width = (most - least) / kGrid;
  for (int k = 0; k < 12; ++k, width *= 0.5) {
    const double centre = best;
    take(centre - 0.5 * width);
    take(centre + 0.5 * width);
  }
  if (line.b == 0) return std::nullopt;
  Decay out;
  out.tau = std::exp(best);
  out.level = line.a;
  out.step = line.b;
  std::vector<double> residual(t.size());
  double mean = 0, square = 0;
  for (std::size_t i = 0; i < t.size(); ++i) {
    residual[i] = y[i] - line.a - line.b * std::exp(-t[i] / out.tau);
    mean += y[i] / static_cast<double>(t.size());
  }
  for (const double v : y) square += (v - mean) * (v - mean);
  out.scatter = std::sqrt(line.rss / static_cast<double>(t.size()));
  out.explained = square > 0 ? 1 - line.rss / square : 0;
  // 90 % of the profile: the sum of squares may rise by chi2(1, 0.90) = 2.706 of its share.
  const double allowed = line.rss * (1 + 2.706 / independent(residual)) + 1e-12 * square;
  double low = best, high = best;
  const double fine = 0.02;
  while (low > least && on_decay(t, y, std::exp(low)).rss <= allowed) low -= fine;
  while (high < most && on_decay(t, y, std::exp(high)).rss <= allowed) high += fine;
  out.tau_low = std::exp(low);
  out.tau_high = high >= most ? std::numeric_limits<double>::infinity() : std::exp(high);
  return out;
}

std::optional<Slope> fit_slope(const std::vector<double>& t, const std::vector<double>& y) {
  if (t.size() < 4) return std::nullopt;
  double n = 0, st = 0, sy = 0, stt = 0, sty = 0;
  for (std::size_t i = 0; i < t.size(); ++i) {
    n += 1;
    st += t[i];
    sy += y[i];
    stt += t[i] * t[i];
    sty += t[i] * y[i];
  }
  const double v = stt - st * st / n;
  if (v <= 0) return std::nullopt;
  Slope out;
  out.slope = (sty - st * sy / n) / v;
  out.level = (sy - out.slope * st) / n;
  std::vector<double> residual(t.size());
  double rss = 0;
  for (std::size_t i = 0; i < t.size(); ++i) {
    residual[i] = y[i] - out.level - out.slope * t[i];
    rss += residual[i] * residual[i];
  }
  const double free = independent(residual);
  out.error = std::sqrt(rss / n / v * n / std::max(free - 2, 1.0));
  return out;
}

std::vector<Figure> figures_of(const Trace& trace, const Phases& phases) {
  return Account(trace, phases).run();
}

}  // namespace coldwright::traces

#include "traces/events.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "traces/levels.hpp"

namespace coldwright::traces {
namespace {

double median(std::vector<double> v) { return v.empty() ? 0 : quantile(v, 0.5); }

class Watch {
 public:
  Watch(const Trace& trace, const Phases& phases) : trace_(trace), phases_(phases) {}

  std::vector<Event> run() {
    from_phases();
    failed_starts();
    long_runs();
    no_power();
    doors();
    defrost_of_coil();
    hunting();
    std::stable_sort(out_.begin(), out_.end(),
                     [](const Event& a, const Event& b) { return a.from < b.from; });
    return std::move(out_);
  }

 private:
  void from_phases() {
    for (const Phase& p : phases_.phases) {
      Event event;
      event.from = p.from;
      event.to = p.to;
      event.probability = p.probability;
      event.series = phases_.series;
      if (p.state == State::defrost) event.what = Happening::defrost;
      if (p.state == State::not_pumping) event.what = Happening::not_pumping;
      if (p.state == State::overload) {
        event.what = Happening::overload_cycle;
        event.amount = p.tries;
      }
      if (p.state == State::defrost || p.state == State::not_pumping || p.state == State::overload)
        out_.push_back(event);
    }
  }

  /// A start that no run follows, inside what was logged.
  void failed_starts() {
    for (std::size_t i = 0; i + 1 < phases_.phases.size(); ++i) {
      const Phase& p = phases_.phases[i];
      const Phase& next = phases_.phases[i + 1];
      if (p.state != State::start || next.state != State::off || next.from - p.to > trace_.interval) continue;
      Event event;
      event.what = Happening::failed_start;
      event.from = p.from;
      event.to = p.to;
      event.probability = std::min(p.probability, next.probability);
      event.series = phases_.series;
      out_.push_back(event);
    }
  }

  /// Runs of several times the usual: after a long rest or a warm box a pull-down, else a load or a fault.
  void long_runs() {
    const Series* air = trace_.find(What::box_temp);
    std::vector<double> runs, falls;
    for (const Phase& p : phases_.phases)
      if (p.state == State::running && p.whole) {
        runs.push_back(p.to - p.from);
        falls.push_back(air == nullptr ? 0 : -change(*air, p));
      }
    const double usual = median(runs), usual_fall = median(falls);
    for (const Phase& p : phases_.phases) {
      if (p.state != State::running) continue;
      const double lasted = p.to - p.from, fell = air == nullptr ? 0 : change(*air, p);
      const bool much = runs.size() >= 4 && lasted > 3.5 * usual;
      const bool far = fell < -5 && (runs.size() < 4 || -fell > 1.6 * usual_fall);  // a wide band isn't one
      if (far || (much && fell < -3)) {
        Event event{Happening::pull_down, p.from, p.to, p.probability, -fell, 0, 0, index(air)};
        out_.push_back(event);
      } else if (much) {
        Event event{Happening::long_run, p.from, p.to, p.probability, lasted / usual, 0, 0, phases_.series};
        out_.push_back(event);
      }
    }
  }

  int index(const Series* series) const { return static_cast<int>(series - trace_.series.data()); }

  std::pair<std::size_t, std::size_t> samples(double from, double to) const {
    const auto a = std::lower_bound(trace_.t.begin(), trace_.t.end(), from);
    const auto b = std::lower_bound(a, trace_.t.end(), to);
    return {static_cast<std::size_t>(a - trace_.t.begin()), static_cast<std::size_t>(b - trace_.t.begin())};
  }

  double change(const Series& series, const Phase& p) const {
    const auto [from, to] = samples(p.from, p.to);
    float first = kNothing, last = kNothing;
    for (std::size_t i = from; i < to; ++i)
      if (!std::isnan(series.value[i])) {
        if (std::isnan(first)) first = series.value[i];
        last = series.value[i];
      }
    return std::isnan(first) ? 0 : static_cast<double>(last) - first;
  }

  /// Nothing at all where otherwise a fan, a light or electronics always draw something.
  void no_power() {
    const What what = trace_.series[static_cast<std::size_t>(phases_.series)].what;
    if (!is_electric(what) || phases_.levels.one_level) return;
    double usual = 0, longest = 0;
    for (const Level& level : phases_.levels.all)
      if (level.role == Level::Role::rest && level.seconds > longest) {
        longest = level.seconds;
        usual = level.value;
      }
    const double least = what == What::power ? 3 : 0.04;
    if (usual < least) return;
    const Series& series = trace_.series[static_cast<std::size_t>(phases_.series)];
    for (const Phase& p : phases_.phases) {
      if (p.state != State::off || p.level > 0.1 * usual || p.to - p.from < 10 * trace_.interval) continue;
      out_.push_back({Happening::no_power, p.from, p.to, 0.8 * p.probability, 0, 0, 0, index(&series)});
    }
  }

  void doors() {
    bool sensor = false;
    for (const Series& series : trace_.series) {
      if (series.what != What::door) continue;
      sensor = true;
      for (std::size_t i = 0; i < series.value.size();) {
        if (!(series.value[i] > 0.5F)) {
          ++i;
          continue;
        }
        std::size_t j = i;
        while (j < series.value.size() && series.value[j] > 0.5F) ++j;
        const double end = j < trace_.t.size() ? trace_.t[j] : trace_.t.back();
        out_.push_back({Happening::door, trace_.t[i], end, 0.99, 0, 0, 0, index(&series)});
        i = j;
      }
    }
    if (sensor) return;
    for (const Series& series : trace_.series)
      if (series.what == What::box_temp) doors_in_air(series);
  }

  /// The air jumps up far faster than an off machine lets it, by well over the noise, and comes back. A
  /// defrost does so too: not while one is on or has just been.
  void doors_in_air(const Series& air) {
    const Noise noise = noise_of(air.value);
    const double sigma = noise.at(270);
    std::vector<double> rises;
    const double window = std::max(60.0, 2 * trace_.interval);
    const auto rise_at = [&](std::size_t i, std::size_t& back) {
      while (back < i && trace_.t[i] - trace_.t[back] > window) ++back;
      if (back == i || std::isnan(air.value[i]) || std::isnan(air.value[back])) return 0.0;
      return (static_cast<double>(air.value[i]) - air.value[back]) / (trace_.t[i] - trace_.t[back]);
    };
    std::size_t back = 0;
    const std::size_t every = std::max<std::size_t>(1, trace_.t.size() / 50000);
    for (std::size_t i = 1; i < trace_.t.size(); ++i) {
      const double rate = rise_at(i, back);
      if (i % every == 0 && rate > 0) rises.push_back(rate);
    }
    if (rises.size() < 50) return;
    const double usual = median(rises);
    back = 0;
    for (std::size_t i = 1; i < trace_.t.size();) {
      const double rate = rise_at(i, back);
      if (rate < 5 * usual || rate * window < std::max(0.6, 6 * sigma)) {
        ++i;
        continue;
      }
      std::size_t top = i;
      while (top + 1 < trace_.t.size() && air.value[top + 1] > air.value[top]) ++top;
      const double rose = static_cast<double>(air.value[top]) - air.value[back];
      bool heating = false;
      for (const Event& e : out_)
        heating =
            heating || (e.what == Happening::defrost && trace_.t[i] > e.from && trace_.t[i] < e.to + 1800);
      if (!heating && rose > 0.8) {
        // How far it stands above noise and the usual rise; never more than nine in ten without a switch.
        const double sure = 1 - std::exp(-0.5 * (rate / (5 * usual) + rose / 0.8 - 1));
        out_.push_back(
            {Happening::door, trace_.t[back], trace_.t[top], std::min(0.9, sure), rose, 0, 0, index(&air)});
      }
      i = std::max(top, i) + 1;
      while (i < trace_.t.size() && trace_.t[i] - trace_.t[top] < 60) ++i;
      back = std::min(i, trace_.t.size() - 1);
    }
  }

  /// A coil that comes from frost to above freezing while the compressor rests. Where it does so at most
  /// rests, it is how the machine cycles, and only a far longer melting is a defrost of its own.
  void defrost_of_coil() {
    const Series* coil = trace_.find(What::coil_temp);
    if (coil == nullptr) coil = trace_.find(What::evaporator_outlet_temp);
    if (coil == nullptr) return;
    std::vector<Event> thaws;
    std::vector<double> meltings;
    std::size_t rests = 0;
    for (const Phase& p : phases_.phases) {
      if (p.state != State::off || p.to - p.from < 5 * trace_.interval) continue;
      ++rests;
      const auto [from, to] = samples(p.from, p.to);
      double lowest = 1e9, highest = -1e9, melting = 0;
      for (std::size_t i = from; i < to; ++i) {
        const double v = coil->value[i];
        if (std::isnan(v)) continue;
        lowest = std::min(lowest, v);
        highest = std::max(highest, v);
        if (std::abs(v - 273.15) < 0.8 && i > 0) melting += trace_.t[i] - trace_.t[i - 1];
      }
      if (lowest > 271 || highest < 274.5) continue;
      // Frost holds the coil at the melting point for a while; without that it may be a rest like any other.
      const double sure = melting > std::max(120.0, 3 * trace_.interval) ? 0.85 : 0.5;
      thaws.push_back({Happening::defrost, p.from, p.to, sure * p.probability, melting, 0, 0, index(coil)});
      meltings.push_back(melting);
    }
    const bool usual = rests >= 4 && thaws.size() * 2 > rests;
    const double limit = usual ? std::max(120.0, 3 * median(meltings)) : 0;
    for (Event& thaw : thaws) {
      if (thaw.amount < limit) continue;
      thaw.amount = 0;
      out_.push_back(thaw);
    }
  }

  void hunting() {
    for (const What what : {What::superheat, What::suction_pressure, What::evaporator_outlet_temp,
                            What::suction_line_temp, What::coil_temp, What::current, What::power}) {
      const Series* series = trace_.find(what);
      if (series == nullptr || !hunting_in(*series)) continue;
      return;
    }
  }

  bool hunting_in(const Series& series) {
    std::vector<const Phase*> windows;
    for (const Phase& p : phases_.phases)
      if (p.state == State::running && p.to - p.from > 1200 && p.to - p.from > 40 * trace_.interval)
        windows.push_back(&p);
    std::sort(windows.begin(), windows.end(),
              [](const Phase* a, const Phase* b) { return a->to - a->from > b->to - b->from; });
    if (windows.size() > 8) windows.resize(8);
    if (windows.empty()) return false;
    const double least = info(series.what).dimension == base::Dimension::pressure ? 4000
                         : info(series.what).dimension            //
                                 == base::Dimension::temperature  //
                             ? 0.6
                             : series.what == What::superheat ? 0.8 : 0.02 * phases_.levels.run_value;
    std::vector<Event> found;
    for (const Phase* p : windows) {
      // The first minutes are the start's own; an hour shows any hunting.
      const auto [from, to] = samples(p->from + 400, std::min(p->to, p->from + 400 + 7200));
      std::vector<double> t, y;
      const std::size_t every = std::max<std::size_t>(1, (to - std::min(from, to)) / 1500);
      for (std::size_t i = from; i < to; i += every)
        if (!std::isnan(series.value[i])) {
          t.push_back(trace_.t[i]);
          y.push_back(series.value[i]);
        }
      if (t.size() < 40) continue;
      const double step = (t.back() - t.front()) / static_cast<double>(t.size() - 1);
      const Periodic one =
          periodic_in(t, y, std::max(20.0, 5 * step), std::min(1200.0, (t.back() - t.front()) / 4));
      if (one.chance > 1e-6 || one.amplitude < least) continue;
      // A valve moves a compressor's power by some hundredths; what moves it by more is another load.
      const bool electric = is_electric(series.what);
      if (electric && one.amplitude > 0.15 * phases_.levels.run_value) continue;
      found.push_back({Happening::hunting, t.front(), t.back(), 1 - std::sqrt(one.chance), one.period,
                       one.amplitude, one.gain, index(&series)});
    }
    if (found.size() * 2 < windows.size() || found.empty()) return false;
    out_.insert(out_.end(), found.begin(), found.end());
    return true;
  }

  const Trace& trace_;
  const Phases& phases_;
  std::vector<Event> out_;
};

}  // namespace

std::string_view to_word(Happening happening) {
  constexpr std::array<std::string_view, 9> kWords = {"door",           "defrost",      "pull_down",
                                                      "overload_cycle", "failed_start", "not_pumping",
                                                      "hunting",        "long_run",     "no_power"};
  return kWords[static_cast<std::size_t>(happening)];
}

Periodic periodic_in(const std::vector<double>& t, const std::vector<double>& given, double shortest,
                     double longest) {
  Periodic out;
  if (t.size() < 16 || longest <= shortest) return out;
  // Trend and curve off, by least squares on 1, u, u2 in u = -1..1.
  const double n = static_cast<double>(t.size()), mid = 0.5 * (t.front() + t.back()),
               half = 0.5 * (t.back() - t.front());
  std::vector<double> y = given;
  for (int pass = 0; pass < 3; ++pass) {
    double s = 0, q = 0;
    const auto base = [&](double at) {
      const double u = (at - mid) / half;
      return pass == 0 ? 1.0 : pass == 1 ? u : u * u - 1.0 / 3;
    };
    for (std::size_t i = 0; i < y.size(); ++i) {
      s += y[i] * base(t[i]);
      q += base(t[i]) * base(t[i]);
    }
    for (std::size_t i = 0; i < y.size(); ++i) y[i] -= s / q * base(t[i]);
  }
  double total = 0;
  for (const double v : y) total += v * v;
  if (total <= 0) return out;
  const double span = t.back() - t.front(), low = 1 / longest, high = 1 / shortest;
  const int count = std::clamp(static_cast<int>((high - low) * span * 2), 8, 1200);
  double best = 0, best_power = 0;
  for (int k = 0; k <= count; ++k) {
    const double w = 2 * 3.141592653589793 * (low + (high - low) * k / count);
    double c = 0, s = 0;
    for (std::size_t i = 0; i < y.size(); ++i) {
      c += y[i] * std::cos(w * (t[i] - mid));
      s += y[i] * std::sin(w * (t[i] - mid));
    }
    const double power = 2 * (c * c + s * s) / n;
    if (power <= best_power) continue;
    best_power = power;
    best = w;
  }
  if (best <= 0) return out;
  const double share = std::min(best_power / total, 0.999999);
  // Noise of a cooling machine is no white noise: slow wandering puts its power at long periods, so the count
  // of frequencies in Fisher's g is taken small and the share has to be large by itself.
  const double m = std::max(8.0, std::min(n / 2, static_cast<double>(count) / 2));
  out.period = 2 * 3.141592653589793 / best;
  out.amplitude = std::sqrt(2 * best_power / n);
  out.chance = share < 0.25 ? 1 : std::min(1.0, m * std::pow(1 - share, std::min(m, 60.0) - 1));
  out.gain = -0.5 * n * std::log(1 - share);
  return out;
}

std::vector<Event> events_of(const Trace& trace, const Phases& phases) { return Watch(trace, phases).run(); }

}  // namespace coldwright::traces

// A cabinet's trace with a known truth, invented here: cycles with their scatter, noise, inrush, a heater,
// lights, a fan that always runs, an overload, a motor that stops pumping. Not a simulation: shapes of a
// usual size, so that what is found can be counted against what was put in.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "base/normal.hpp"
#include "traces/phases.hpp"
#include "traces/times.hpp"

namespace coldwright::tests {

struct Making {
  double interval = 10, days = 2;
  double run = 95, floor = 1.5, heater = 420, lights = 15;  // W; no heater, no lights when 0
  double on = 16 * 60, off = 28 * 60;                       // s
  double noise = 1, step = 1;                               // W; what the logger counts in
  double inrush = 6;                                        // times the running power, for one sample at most
  double defrost_every = 8 * 3600;
  double not_pumping_at = -1, not_pumping_for = 400;  // s since the start; the idle motor draws half
  double overload_at = -1;                            // s; ten tries with rests
  std::uint64_t seed = 1;
};

struct Made {
  std::vector<double> t, power, suction, box;
  std::vector<traces::State> truth;
  int starts = 0, defrosts = 0;

  /// The trace as the reader would give it.
  traces::Trace trace(bool with_pressure = false, bool with_box = false) const {
    traces::Trace out;
    out.t = t;
    out.interval = t.size() > 1 ? t[1] - t[0] : 1;
    out.gap = std::max(5 * out.interval, out.interval + 60);
    const auto add = [&](traces::What what, const std::vector<double>& v) {
      traces::Series series;
      series.what = what;
      series.name = traces::info(what).word;
      series.value.assign(v.begin(), v.end());
      out.series.push_back(std::move(series));
    };
    add(traces::What::power, power);
    if (with_pressure) add(traces::What::suction_pressure, suction);
    if (with_box) add(traces::What::box_temp, box);
    return out;
  }
  /// The same as a file: time and power.
  std::string text() const {
    std::string out = "time,power (W)\n";
    for (std::size_t i = 0; i < t.size(); ++i) {
      std::string number = std::to_string(power[i]);
      number.resize(number.find('.') + 3);
      out += traces::date_text(1772582400 + t[i]) + "," + number + "\n";
    }
    return out;
  }
};

/// Repeatable draws, by the same arithmetic everywhere.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed * 2654435761u + 88172645463325252u) {}
  double uniform() {
    state_ ^= state_ << 13;
    state_ ^= state_ >> 7;
    state_ ^= state_ << 17;
    return static_cast<double>(state_ >> 11) / 9007199254740992.0;
  }
  double normal() {  // the sum of twelve is near enough to Gaussian here
    double sum = -6;
    for (int i = 0; i < 12; ++i) sum += uniform();
    return sum;
  }
  double about(double x) { return x * (0.8 + 0.45 * uniform()); }

 private:
  std::uint64_t state_;
};

inline Made make_trace(const Making& m) {
  using traces::State;
  Made out;
  Dice dice(m.seed);
  State state = State::off;
  double left = 600, since = 0, last_defrost = 0, light = 0, suction = 4.5e5, box = 278, overload_until = -1;
  bool long_next = false;
  for (double t = 0; t < m.days * 86400; t += m.interval) {
    if (left <= 0) {
      if (state == State::off) {
        state = State::running;
        left = dice.about(m.on) * (long_next ? 2.5 : 1);
        long_next = false;
        since = t;
        ++out.starts;
      } else if (state == State::running && m.heater > 0 && t - last_defrost > m.defrost_every) {
        state = State::defrost;
        left = dice.about(900);
        last_defrost = t;
        ++out.defrosts;
      } else {
        long_next = state == State::defrost;
        left = state == State::defrost ? 300 : dice.about(m.off);
        state = State::off;
      }
    }
    double x = m.floor;
    State now = state;
    if (m.overload_at >= 0 && t >= m.overload_at && overload_until < 0) overload_until = t + 1200;
    if (t < overload_until) {
      const double phase = std::fmod(t - m.overload_at, 120);
      now = State::overload;
      if (phase < std::max(12.0, m.interval)) x += 4 * m.run;
      left = std::max(left, m.interval);
      state = State::off;
    } else if (now == State::running) {
      const bool idle =
          m.not_pumping_at >= 0 && t >= m.not_pumping_at && t < m.not_pumping_at + m.not_pumping_for;
      if (idle) {
        now = State::not_pumping;
        left = std::max(left, 300.0);
        x += 0.5 * m.run;
      } else {
        x += m.run * (1 + 0.35 * std::exp(-(t - since) / 400));
        if (t - since < m.interval) x = m.floor + m.run * (1.3 + (m.inrush - 1.3) * dice.uniform());
      }
    } else if (now == State::defrost) {
      x += m.heater * (1 - 0.02 * std::min(1.0, left / 900));
    }
    if (m.not_pumping_at >= 0 && t < m.not_pumping_at && t + m.interval >= m.not_pumping_at) {
      state = State::running;  // so that there is a run to fail in
      left = m.not_pumping_for + 900;
    }
    if (m.lights > 0 && dice.uniform() < m.interval / 5400) light = 10 + 50 * dice.uniform();
    if (light > 0) {
      x += m.lights;
      light -= m.interval;
    }
    x += dice.normal() * (m.noise + 0.004 * x);
    const bool pumps = now == State::running;
    suction += ((pumps ? 2.0e5 : 4.6e5) - suction) * (1 - std::exp(-m.interval / (pumps ? 40 : 120)));
    box += (pumps ? -1.0 : 0.6) * m.interval / 900;
    out.t.push_back(t);
    out.power.push_back(std::max(0.0, std::round(x / m.step) * m.step));
    out.suction.push_back(suction + 500 * dice.normal());
    out.box.push_back(box + 0.03 * dice.normal());
    out.truth.push_back(now);
    left -= m.interval;
  }
  return out;
}

/// Share of the time whose state was found as it was; starts count as running.
inline double agreement(const Made& made, const traces::Phases& found) {
  using traces::State;
  std::size_t p = 0, right = 0;
  for (std::size_t i = 0; i < made.t.size(); ++i) {
    while (p + 1 < found.phases.size() && found.phases[p].to <= made.t[i]) ++p;
    State said = found.phases[p].state;
    if (said == State::start) said = State::running;
    right += said == made.truth[i];
  }
  return static_cast<double>(right) / static_cast<double>(made.t.size());
}

}  // namespace coldwright::tests

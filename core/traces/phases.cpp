#include "traces/phases.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "traces/model.hpp"

namespace coldwright::traces {
namespace {

State shown_state(int model) {
  constexpr std::array<State, m_states> kShown = {State::off,         State::start,    State::running,
                                                  State::not_pumping, State::overload, State::overload,
                                                  State::defrost};
  return kShown[static_cast<std::size_t>(model)];
}

class Finder {
 public:
  Finder(const Trace& trace, int series, bool downward) : trace_(trace) {
    found_.series = series;
    const Series& given = trace.series[static_cast<std::size_t>(series)];
    if (!downward) {
      value_ = &given.value;
      return;
    }
    // A suction pressure stands low while the compressor runs: turned over, running is up.
    float top = -1e30F;
    for (const float v : given.value)
      if (v > top) top = v;
    turned_ = given.value;
    for (float& v : turned_) v = top - v;
    value_ = &turned_;
    top_ = top;
  }

  Phases run() {
    found_.noise = noise_of(*value_);
    runs_ = runs_of(trace_.t, trace_.gap, *value_, found_.noise, trace_.interval);
    found_.runs = runs_.size();
    found_.levels = levels_of(runs_, found_.noise, trace_.interval);
    const bool electric = is_electric(trace_.series[static_cast<std::size_t>(found_.series)].what);
    if (found_.levels.all.empty()) return std::move(found_);
    found_.levels.unparted |= trace_.series[static_cast<std::size_t>(found_.series)].resolves > 900;
    if (electric && found_.levels.unparted && found_.levels.run_value > certain_off())
      return std::move(found_);
    found_.levels.unparted = false;
    if (found_.levels.one_level || (electric && found_.levels.speeds)) {
      one_state();
      return std::move(found_);
    }
    if (!electric)
      for (Level& level : found_.levels.all)
        if (level.role == Level::Role::heater) level.role = Level::Role::run;
    const Emission emission(found_.levels);
    bool heater = false;
    for (const Level& level : found_.levels.all) heater = heater || level.role == Level::Role::heater;
    suction_ = electric ? trace_.find(What::suction_pressure) : nullptr;
    found_.told_overload = electric && trace_.interval <= 30;
    found_.told_pumping = suction_ != nullptr;
    Chain chain = chain_for(trace_.interval, false, found_.told_overload, heater);
    std::vector<bool> allowed(m_states, true);
    allowed[m_not_pumping] = false;
    allowed[m_try] = allowed[m_rest] = found_.told_overload;
    allowed[m_defrost] = heater;
    allowed[m_start] = electric && trace_.interval <= 120;
    decode(emission, chain, allowed);
    // Once more with this machine's own durations, and with the suction pressure beside.
    own_durations(chain);
    if (suction_ != nullptr) {
      learn_pressure();
      if (emission.any_between()) {
        const Chain with = chain_for(trace_.interval, true, found_.told_overload, heater);
        chain.next = with.next;
        chain.first = with.first;
        allowed[m_not_pumping] = true;
      }
    }
    decode(emission, chain, allowed);
    flat(emission, allowed);
    if (electric && undersampled()) {
      found_.levels.unparted = true;
      found_.phases.clear();
      return std::move(found_);
    }
    if (electric && trace_.interval >= 20) within_samples();
    if (top_)  // back to the pressure's own value
      for (Phase& phase : found_.phases) phase.level = *top_ - phase.level;
    return std::move(found_);
  }

 private:
  /// Less than the smallest compressor draws (our estimate).
  double certain_off() const {
    return trace_.series[static_cast<std::size_t>(found_.series)].what == What::power ? 12 : 0.1;
  }

  /// One level throughout: running or off, by its size alone.
  void one_state() {
    double level = 0, seconds = 1e-9;
    for (const Run& run : runs_) {
      level += run.mean * (run.end - run.begin);
      seconds += run.end - run.begin;
    }
    level /= seconds;
    const double certain_run = 3.5 * certain_off();
    const double p = level >= certain_run ? 0.9
                     : level <= certain_off()
                         ? 0.05
                         : 0.05 + 0.85 * (level - certain_off()) / (certain_run - certain_off());
    for (std::size_t i = 0; i < runs_.size();) {
      std::size_t j = i + 1;
      while (j < runs_.size() && runs_[j].begin - runs_[j - 1].end <= trace_.gap * 0.5) ++j;
      Phase phase;
      phase.state = p > 0.5 ? State::running : State::off;
      phase.from = phase.from_low = phase.from_high = runs_[i].begin;
      phase.to = runs_[j - 1].end;
      phase.probability = std::max(p, 1 - p);
      phase.level = level;
      phase.whole = false;
      found_.phases.push_back(phase);
      ++found_.stretches;
      i = j;
    }
  }

  void decode(const Emission& emission, const Chain& chain, const std::vector<bool>& allowed) {
    const auto stretches = stretches_of(runs_, trace_.gap, emission, allowed, more_);
    found_.phases.clear();
    found_.log_likelihood = 0;
    found_.blocks = 0;
    found_.stretches = stretches.size();
    for (const Stretch& stretch : stretches) {
      const Course course = most_likely(chain, stretch.blocks);
      found_.log_likelihood += course.log_likelihood;
      found_.blocks += stretch.blocks.log_likelihood.size();
      for (std::size_t i = 0; i < course.parts.size(); ++i) add(stretch, course, i);
    }
  }

  void add(const Stretch& stretch, const Course& course, std::size_t i) {
    const Part& part = course.parts[i];
    const auto& edge = stretch.blocks.edge;
    Phase phase;
    phase.state = shown_state(part.state);
    phase.from = edge[part.from];
    phase.to = edge[part.to];
    phase.from_low = edge[part.from_low] - (part.from > 0 ? trace_.interval : 0);
    phase.from_high = edge[part.from_high];
    phase.probability = std::min(part.probability, 0.999);
    phase.whole = part.from > 0 && part.to + 1 < edge.size();
    double sum = 0, seconds = 0;
    for (std::uint32_t r = stretch.first_run[part.from]; r < stretch.first_run[part.to]; ++r) {
      sum += runs_[r].mean * (runs_[r].end - runs_[r].begin);
      seconds += runs_[r].end - runs_[r].begin;
    }
    phase.level = seconds > 0 ? sum / seconds : runs_[stretch.first_run[part.from]].mean;
    phase.tries = part.state == m_try;
    if (phase.state == State::overload && i > 0 && !found_.phases.empty() &&
        found_.phases.back().state == State::overload) {
      Phase& last = found_.phases.back();
      const double a = last.to - last.from, b = phase.to - phase.from;
      last.probability = (last.probability * a + phase.probability * b) / std::max(a + b, 1e-9);
      last.level = (last.level * a + phase.level * b) / std::max(a + b, 1e-9);
      last.to = phase.to;
      last.whole = last.whole && phase.whole;
      last.tries += phase.tries;
      return;
    }
    found_.phases.push_back(phase);
  }

  /// Samples so far apart that each mixes run and rest: phases of a sample or two, or two levels that aren't
  /// far apart.
  bool undersampled() const {
    if (trace_.interval < 300) return false;
    if (trace_.interval >= 600 && found_.levels.rest_value > 0.4 * found_.levels.run_value) return true;
    std::vector<double> lasted;
    for (const Phase& phase : found_.phases)
      if (phase.whole) lasted.push_back(phase.to - phase.from);
    return lasted.size() > 4 && quantile(lasted, 0.5) < 1.7 * trace_.interval;
  }

  /// A sample that is the mean of its interval tells where in it the state changed: it stands between its
  /// neighbours by the share of each.
  void within_samples() {
    const std::vector<float>& v = *value_;
    const auto place = [&](std::size_t i, std::size_t before, std::size_t after) {
      const double from = v[before], to = v[after];
      return std::abs(to - from) < 1e-9 ? -1.0 : (v[i] - from) / (to - from);  // 0: as before, 1: as after
    };
    for (std::size_t p = 1; p < found_.phases.size(); ++p) {
      Phase& last = found_.phases[p - 1];
      Phase& next = found_.phases[p];
      if (next.from != last.to || next.state == State::start || last.state == State::start) continue;
      const auto at = std::lower_bound(trace_.t.begin(), trace_.t.end(), next.from) - trace_.t.begin();
      const auto i = static_cast<std::size_t>(at);
      if (i < 2 || i + 2 >= v.size() || trace_.t[i - 2] < last.from || trace_.t[i + 1] >= next.to) continue;
      const double step = trace_.t[i] - trace_.t[i - 1], after = trace_.t[i + 1] - trace_.t[i];
      double moved = next.from;
      if (const double share = place(i, i - 1, i + 1); share > 0.05 && share < 0.95)
        moved = trace_.t[i] + (1 - share) * after;
      else if (const double other = place(i - 1, i - 2, i); other > 0.05 && other < 0.95)
        moved = trace_.t[i] - other * step;
      last.to = next.from = moved;
      next.from_low = std::min(next.from_low, moved);
      next.from_high = std::max(next.from_high, moved);
    }
  }

  /// Medians of what was found, drawn halfway to the prior while there are few.
  void own_durations(Chain& chain) {
    for (const auto& [state, model] : {std::pair{State::off, m_off}, {State::running, m_running}}) {
      std::vector<double> logs;
      for (const Phase& phase : found_.phases)
        if (phase.state == state && phase.whole && phase.to > phase.from)
          logs.push_back(std::log(phase.to - phase.from));
      if (logs.size() < 3) continue;
      std::sort(logs.begin(), logs.end());
      const double median = logs[logs.size() / 2];
      const double spread = (logs[logs.size() * 3 / 4] - logs[logs.size() / 4]) / 1.349;
      const double weight = static_cast<double>(logs.size()) / (static_cast<double>(logs.size()) + 4);
      Lasting& l = chain.lasting[static_cast<std::size_t>(model)];
      l.median = std::exp(weight * median + (1 - weight) * std::log(l.median));
      l.spread = std::max(0.7, weight * 1.5 * spread + (1 - weight) * l.spread);
    }
  }

  /// Suction stands at one pressure while the machine pumps and at another while it rests.
  void learn_pressure() {
    struct Sum {
      double n = 0, sum = 0, square = 0;
      double mean() const { return sum / n; }
      double sd() const { return std::sqrt(std::max(square / n - mean() * mean(), 0.0)); }
    } rest, pump;
    std::vector<double> mean(runs_.size(), std::nan(""));
    for (std::size_t r = 0; r < runs_.size(); ++r) {
      double sum = 0;
      int n = 0;
      for (std::uint32_t i = runs_[r].from; i < runs_[r].to && i < suction_->value.size(); ++i)
        if (!std::isnan(suction_->value[i])) {
          sum += suction_->value[i];
          ++n;
        }
      if (n > 0) mean[r] = sum / n;
    }
    std::size_t p = 0;
    for (std::size_t r = 0; r < runs_.size(); ++r) {
      while (p + 1 < found_.phases.size() && found_.phases[p].to <= runs_[r].begin) ++p;
      if (std::isnan(mean[r]) || found_.phases.empty()) continue;
      const State state = found_.phases[p].state;
      const double full = std::abs(runs_[r].mean - found_.levels.run_value);
      const bool main_level = full < 0.3 * std::abs(found_.levels.run_value - found_.levels.rest_value);
      if (state == State::off) {
        const double w = runs_[r].end - runs_[r].begin;
        rest = {rest.n + w, rest.sum + w * mean[r], rest.square + w * mean[r] * mean[r]};
      } else if (state == State::running && main_level) {
        const double w = runs_[r].end - runs_[r].begin;
        pump = {pump.n + w, pump.sum + w * mean[r], pump.square + w * mean[r] * mean[r]};
      }
    }
    if (rest.n <= 0 || pump.n <= 0) return;
    const double apart = rest.mean() - pump.mean();
    if (apart <= 0) return;
    const double s_rest = std::max(rest.sd(), 0.15 * apart), s_pump = std::max(pump.sd(), 0.15 * apart);
    more_.assign(runs_.size(), {});
    for (std::size_t r = 0; r < runs_.size(); ++r) {
      if (std::isnan(mean[r])) continue;
      const double n = std::min(1 + (runs_[r].end - runs_[r].begin) / 120, 5.0);
      const auto log_of = [&](double m, double s) {
        const double z = std::min(std::abs(mean[r] - m) / s, 4.0);
        return n * (-0.5 * z * z - std::log(s / apart));
      };
      const double resting = log_of(rest.mean(), s_rest), pumping = log_of(pump.mean(), s_pump);
      // As the pressure is still on its way up, a motor that lost its gas stands anywhere between.
      const double between = n * -std::log(2.0);
      more_[r][m_off] = more_[r][m_rest] = std::max(resting, between);
      more_[r][m_not_pumping] = std::max(resting, between) + (mean[r] > pump.mean() + s_pump ? 0 : -n);
      more_[r][m_running] = std::max(pumping, between - 1);
      more_[r][m_try] = more_[r][m_start] = more_[r][m_defrost] = std::max({resting, pumping, between});
    }
  }

  void flat(const Emission& emission, const std::vector<bool>& allowed) {
    std::array<double, m_states> sum{};
    for (const Run& run : runs_) {
      const auto one = emission.of(root(run.mean));
      for (std::size_t s = 0; s < m_states; ++s) sum[s] += one[s] * looks(run);
    }
    found_.log_likelihood_flat = kNever;
    for (std::size_t s = 0; s < m_states; ++s)
      if (allowed[s]) found_.log_likelihood_flat = std::max(found_.log_likelihood_flat, sum[s]);
  }

  const Trace& trace_;
  const std::vector<float>* value_ = nullptr;
  std::vector<float> turned_;
  std::optional<double> top_;
  std::vector<Run> runs_;
  std::vector<std::array<double, m_states>> more_;
  const Series* suction_ = nullptr;
  Phases found_;
};

}  // namespace

std::string_view to_word(State state) {
  constexpr std::array<std::string_view, kStates> kWords = {"off",         "start",    "running",
                                                            "not_pumping", "overload", "defrost"};
  return kWords[static_cast<std::size_t>(state)];
}

std::optional<Phases> phases_of(const Trace& trace) {
  const auto signal = signal_of(trace);
  if (!signal) return std::nullopt;
  switch (trace.series[static_cast<std::size_t>(*signal)].what) {
    case What::power:
    case What::current:
    case What::discharge_pressure:
      return Finder(trace, *signal, false).run();
    case What::suction_pressure:
      return Finder(trace, *signal, true).run();
    case What::discharge_line_temp:
    case What::condenser_middle_temp:
      return phases_of_swing(trace, *signal, false);
    default:
      return phases_of_swing(trace, *signal, true);
  }
}

}  // namespace coldwright::traces

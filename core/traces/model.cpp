#include "traces/model.hpp"

#include <cmath>

namespace coldwright::traces {

Chain chain_for(double interval, bool not_pumping, bool overload, bool defrost) {
  Chain c;
  c.lasting.resize(m_states);
  c.lasting[m_off] = {900, 1.4};
  c.lasting[m_start] = {std::max(3.0, 0.8 * interval), 1.0};
  c.lasting[m_running] = {900, 1.4};
  c.lasting[m_not_pumping] = {180, 1.3};
  c.lasting[m_try] = {12, 1.0};
  c.lasting[m_rest] = {100, 0.9};
  c.lasting[m_defrost] = {1200, 0.8};
  c.first.assign(m_states, std::log(0.02));
  c.first[m_off] = c.first[m_running] = std::log(0.45);
  c.next.assign(m_states, std::vector<double>(m_states, kNever));
  const auto way = [&](int from, int to, double p) { c.next[from][to] = std::log(p); };
  way(m_off, m_start, 0.55);
  way(m_off, m_running, 0.42);
  way(m_start, m_running, 0.96);
  way(m_start, m_off, 0.03);
  way(m_running, m_off, 0.96);
  if (defrost) {
    way(m_off, m_defrost, 0.03);
    way(m_running, m_defrost, 0.03);
    way(m_defrost, m_off, 0.6);
    way(m_defrost, m_running, 0.2);
    way(m_defrost, m_start, 0.2);
    way(m_start, m_defrost, 0.002);
  }
  if (not_pumping) {
    way(m_running, m_not_pumping, 0.02);
    way(m_start, m_not_pumping, 0.01);
    way(m_off, m_not_pumping, 0.004);
    way(m_not_pumping, m_running, 0.6);
    way(m_not_pumping, m_off, 0.4);
  }
  if (overload) {
    way(m_off, m_try, 0.003);
    way(m_running, m_rest, 0.003);
    way(m_start, m_rest, 0.003);
    way(m_try, m_rest, 0.97);
    way(m_rest, m_try, 0.85);
    way(m_rest, m_start, 0.07);
    way(m_rest, m_running, 0.07);
  }
  for (int s = 0; s < m_states; ++s)
    if ((s == m_defrost && !defrost) || (s == m_not_pumping && !not_pumping) ||
        ((s == m_try || s == m_rest) && !overload))
      c.first[static_cast<std::size_t>(s)] = kNever;
  return c;
}

Emission::Emission(const Levels& levels) : levels_(levels) {
  span_ = std::max(levels.y_high - levels.y_low, 1e-6);
  for (const Level& level : levels.all) {
    if (level.role == Level::Role::other) {
      foreign_ = std::min(foreign_, level.y - 3 * level.sd);
      continue;
    }
    double& total = level.role == Level::Role::rest     ? rest_
                    : level.role == Level::Role::heater ? heat_
                                                        : run_;
    total += level.seconds;
    if (level.role == Level::Role::run) top_ = std::max(top_, level.y);
  }
  run_y_ = root(levels.run_value);
}

std::array<double, m_states> Emission::of(double y) const {
  std::array<double, m_states> out{};
  const double anywhere = 1 / (2 * span_);
  if (y > foreign_) {  // another appliance hides what the machine does
    out.fill(std::log(anywhere));
    out[m_start] = out[m_try] = out[m_defrost] = std::log(0.1 * anywhere);
    return out;
  }
  double rest = 0, run = 0, heat = 0, idle = 0;
  for (const Level& level : levels_.all) {
    const double z = (y - level.y) / level.sd;
    const double one = std::exp(-0.5 * z * z) / (level.sd * 2.5066282746310002);
    if (level.role == Level::Role::rest) rest += one * level.seconds / std::max(rest_, 1e-9);
    if (level.role == Level::Role::run) run += one * level.seconds / std::max(run_, 1e-9);
    if (level.role == Level::Role::heater) heat += one * level.seconds / std::max(heat_, 1e-9);
    if (between(level)) idle += one;
  }
  // A speed that is set, or a load that changes, brings a motor anywhere above the split.
  const double above =
      y > levels_.split_y && y < 1.3 * top_ ? 1 / std::max(1.3 * top_ - levels_.split_y, 1e-6) : 0;
  const double below = y <= levels_.split_y ? 1 / std::max(levels_.split_y - levels_.y_low, 1e-6) : 0;
  const double over_run = y > 1.06 * run_y_ ? 1 / (2.5 * std::max(run_y_, 1e-6)) : 0.02 * anywhere;
  const double rest_like = 0.9 * rest + 0.08 * below + 0.02 * anywhere;
  out[m_off] = out[m_rest] = std::log(rest_like + 1e-12);
  out[m_running] = std::log(0.85 * run + 0.13 * above + 0.02 * anywhere + 1e-12);
  out[m_start] = std::log(0.95 * over_run + 0.05 * anywhere + 1e-12);
  out[m_try] = std::log(0.7 * over_run + 0.25 * above * 0.5 + 0.05 * anywhere + 1e-12);
  out[m_defrost] = std::log(0.97 * heat + 0.03 * anywhere + 1e-12);
  out[m_not_pumping] = std::log(0.9 * idle + 0.1 * anywhere + 1e-12);
  return out;
}

bool Emission::between(const Level& level) const {
  const double share =
      (level.value - levels_.rest_value) / std::max(levels_.run_value - levels_.rest_value, 1e-9);
  return level.role != Level::Role::heater && share > 0.2 && share < 0.75;
}

double looks(const Run& run) {
  return std::min({static_cast<double>(run.count), 1 + (run.end - run.begin) / 60, 12.0});
}

std::vector<Stretch> stretches_of(const std::vector<Run>& runs, double gap, const Emission& emission,
                                  const std::vector<bool>& allowed,
                                  const std::vector<std::array<double, m_states>>& more) {
  std::vector<Stretch> out;
  int last_best = -1;
  for (std::size_t r = 0; r < runs.size(); ++r) {
    auto one = emission.of(root(runs[r].mean));
    const double n = looks(runs[r]);
    int best = -1;
    for (int s = 0; s < m_states; ++s) {
      double& v = one[static_cast<std::size_t>(s)];
      v *= n;
      if (!more.empty()) v += more[r][static_cast<std::size_t>(s)];
      if (!allowed[static_cast<std::size_t>(s)]) v = -1e9;
      if (best < 0 || v > one[static_cast<std::size_t>(best)]) best = s;
    }
    const bool fresh = out.empty() || runs[r].begin - runs[r - 1].end > gap * 0.5;
    if (fresh) {
      out.emplace_back();
      out.back().blocks.edge.push_back(runs[r].begin);
    }
    Stretch& now = out.back();
    if (fresh || best != last_best) {
      now.blocks.log_likelihood.emplace_back(one.begin(), one.end());
      now.first_run.push_back(static_cast<std::uint32_t>(r));
      now.blocks.edge.push_back(runs[r].end);
    } else {
      auto& sum = now.blocks.log_likelihood.back();
      for (std::size_t s = 0; s < m_states; ++s) sum[s] += one[s];
      now.blocks.edge.back() = runs[r].end;
    }
    last_best = best;
  }
  for (std::size_t i = 0; i < out.size(); ++i)
    out[i].first_run.push_back(i + 1 < out.size() ? out[i + 1].first_run.front()
                                                  : static_cast<std::uint32_t>(runs.size()));
  return out;
}

}  // namespace coldwright::traces

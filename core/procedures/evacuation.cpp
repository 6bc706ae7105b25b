#include "procedures/evacuation.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "procedures/water.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kWaterGas = 461.52;                        // J/(kg K)
constexpr double kBoilingHeat = 2.50e6, kIceHeat = 2.83e6;  // J/kg at 0 C, from memory
constexpr double kLastWater = 0.02;                         // share below which its area shrinks with it
constexpr double kDry = 0.01;                               // share of the water that counts as gone
constexpr double kRelative = 3e-4, kAbsolute = 1e-4, kOfMass = 1e-3;  // of a step, in Pa for the second

using State = std::array<double, 4>;  // near, far, water, oil gas

std::string pascals(double p) { return std::to_string(p) + " Pa"; }

struct Model {
  const Evacuation& e;
  double vapour_pressure;  // Pa of water at T
  bool two;

  // Flow from both sides into the pump: its inlet pressure by false position on a rising balance.
  std::pair<double, double> to_pump(double near, double far) const {
    const auto flows = [&](double inlet) {
      const double n = throughput(e.near, air(), e.T, near, inlet);
      return std::pair{n, two && !e.far.empty() ? throughput(e.far, air(), e.T, far, inlet) : 0.0};
    };
    if (e.near.empty()) return {e.pump.speed * (near - e.pump.ultimate), 0.0};
    const auto balance = [&](double inlet) {
      const auto [n, f] = flows(inlet);
      return e.pump.speed * (inlet - e.pump.ultimate) - n - f;
    };
    double low = std::min({e.pump.ultimate, near, e.far.empty() ? near : far});
    double high = std::max({e.pump.ultimate, near, e.far.empty() ? near : far});
    double f_low = balance(low), f_high = balance(high);
    for (int i = 0; i < 60 && high - low > 1e-9 * high; ++i) {
      const double x = i % 3 == 2 ? 0.5 * (low + high) : low - f_low * (high - low) / (f_high - f_low);
      const double f = balance(x);
      if (std::abs(f) < 1e-9 * e.pump.speed * (x + 1e-3)) return flows(x);
      if (f < 0) {
        low = x;
        f_low = f;
      } else {
        high = x;
        f_high = f;
      }
    }
    return flows(0.5 * (low + high));
  }

  // kg/s
  double boiling(double p, double water) const {
    if (!(water > 0) || p >= vapour_pressure) return 0;
    const auto T = water_temperature(std::max(p, 1e-3));
    if (!T) return 0;
    const double heat = *T < kTriplePoint ? kIceHeat : kBoilingHeat;
    return e.water_conductance * (e.T - *T) / heat * std::min(1.0, water / (kLastWater * e.water));
  }

  State rates(const State& s) const {
    const auto [near_out, far_out] = to_pump(s[0], two ? s[1] : s[0]);
    const bool wet_far = two && e.water_far;
    const double boiled = boiling(wet_far ? s[1] : s[0], s[2]), vapour = boiled * kWaterGas * e.T;
    const double given = s[3] / e.oil_time, gas = given * e.oil_gas_constant * e.T;
    const double across = two && e.capillary ? throughput({*e.capillary}, air(), e.T, s[1], s[0]) : 0;
    State d{};
    d[0] = (-near_out + across + gas + (wet_far ? 0 : vapour)) / e.near_volume;
    d[1] = two ? (-far_out - across + (wet_far ? vapour : 0)) / e.far_volume : 0;
    d[2] = -boiled;
    d[3] = -given;
    return d;
  }
};

State step(const State& s, const State& d, double h) {
  State out{};
  for (std::size_t i = 0; i < s.size(); ++i) out[i] = s[i] + h * d[i];
  return out;
}

// (1 - h d J) of the two pressures, J by differences: what pumps in a fraction of a second must not bind the
// step of hours.
struct Implicit {
  double a, b, c, d;  // rows of the matrix
  State solve(const State& r) const {
    const double determinant = a * d - b * c;
    return {(d * r[0] - b * r[1]) / determinant, (a * r[1] - c * r[0]) / determinant, r[2], r[3]};
  }
};

Implicit implicit(const Model& m, const State& s, const State& f, double h) {
  double j[2][2];
  for (std::size_t k = 0; k < 2; ++k) {
    State moved = s;
    const double by = 1e-5 * s[k] + 1e-9;
    moved[k] += by;
    const State g = m.rates(moved);
    for (std::size_t i = 0; i < 2; ++i) j[i][k] = (g[i] - f[i]) / by;
  }
  if (!m.two) j[0][1] = j[1][0] = j[1][1] = 0;  // the far side stands for nothing then
  return {1 - h * j[0][0], -h * j[0][1], -h * j[1][0], 1 - h * j[1][1]};
}

// One step of the Rosenbrock pair of orders two and three [shampine1997, section 3]; the share of the
// tolerance its error takes.
double advance(const Model& m, const State& s, double h, State& next, bool& valid) {
  const double d = 1 / (2 + std::sqrt(2.0)), e32 = 6 + std::sqrt(2.0);
  const State f0 = m.rates(s);
  const Implicit w = implicit(m, s, f0, h * d);
  const State k1 = w.solve(f0);
  const State f1 = m.rates(step(s, k1, 0.5 * h));
  State rest{};
  for (std::size_t i = 0; i < s.size(); ++i) rest[i] = f1[i] - k1[i];
  State k2 = w.solve(rest);
  for (std::size_t i = 0; i < s.size(); ++i) k2[i] += k1[i];
  next = step(s, k2, h);
  valid = next[0] > 0 && next[1] > 0;
  if (!valid) return 1e9;
  const State f2 = m.rates(next);
  for (std::size_t i = 0; i < s.size(); ++i) rest[i] = f2[i] - e32 * (k2[i] - f1[i]) - 2 * (k1[i] - f0[i]);
  const State k3 = w.solve(rest);
  double worst = 0;
  for (std::size_t i = 0; i < s.size(); ++i) {
    const double tolerance =
        i < 2 ? kRelative * std::abs(s[i]) + kAbsolute : kOfMass * (i == 2 ? m.e.water : m.e.oil_gas) + 1e-12;
    worst = std::max(worst, h / 6 * std::abs(k1[i] - 2 * k2[i] + k3[i]) / tolerance);
  }
  next[2] = std::max(next[2], 0.0);
  next[3] = std::max(next[3], 0.0);
  return worst;
}

std::optional<Problem> check(const Evacuation& e, const EvacuationPoint& start, double target) {
  if (!(target > e.pump.ultimate))
    return Problem{"vacuum", pascals(target), "above the pump's ultimate, " + pascals(e.pump.ultimate),
                   "this pump can't get there"};
  if (!(e.pump.speed > 0))
    return Problem{"pump", std::to_string(e.pump.speed) + " m3/s", "above zero", "a pump moves gas"};
  if (!(e.near_volume > 0) || e.far_volume < 0)
    return Problem{"volume", std::to_string(e.near_volume) + " m3", "above zero",
                   "what is evacuated has a volume"};
  for (const auto* lines : {&e.near, &e.far})
    for (const Line& line : *lines)
      if (!(line.bore > 0) || !(line.length > 0))
        return Problem{"hose", std::to_string(line.bore) + " m", "bore and length above zero",
                       "gas needs a way"};
  if (!e.far.empty() && e.near.empty())
    return Problem{"hose", "a line on the far side alone", "a line on both", "they meet at the pump"};
  if (e.far_volume > 0 && e.far.empty() && !e.capillary)
    return Problem{"capillary", "nothing", "a capillary, or a connection on both sides",
                   "the far side has no way out"};
  if (!(start.near > 0) || !(start.far > 0))
    return Problem{"pressure", pascals(std::min(start.near, start.far)), "above zero", "it is absolute"};
  return std::nullopt;
}

}  // namespace

Result<EvacuationCourse> evacuate(const Evacuation& e, EvacuationPoint start, double target) {
  if (const auto problem = check(e, start, target)) return *problem;
  const auto vapour_pressure = water_pressure(e.T);
  if (!vapour_pressure) return vapour_pressure.problem();
  const Model model{e, *vapour_pressure, e.far_volume > 0};
  State s{start.near, start.far, start.water, start.oil_gas};
  EvacuationCourse out;
  out.points.push_back({0, s[0], s[1], s[2], s[3]});
  if (!(s[2] > kDry * e.water)) out.dry_time = 0;
  double t = 0, h = 0.01;
  // Where a falling quantity passed its mark, straight in its logarithm between two steps.
  const auto watch = [&](std::optional<double>& reached, double before, double now, double mark,
                         double span) {
    if (now > mark) {
      reached.reset();
    } else if (!reached) {
      const double left =
          before > now ? std::log(mark / std::max(now, 1e-30)) / std::log(before / std::max(now, 1e-30)) : 0;
      reached = t - span * std::clamp(left, 0.0, 1.0);
    }
  };
  watch(out.near_time, s[0], s[0], target, 0);
  watch(out.far_time, s[1], s[1], target, 0);
  while (true) {
    if ((out.near_time && out.far_time && out.dry_time) || t >= e.longest) break;
    State next{};
    bool valid = true;
    const double trial = std::min({h, e.longest - t + 1e-9, 0.1 * t + 0.5});
    const double worst = advance(model, s, trial, next, valid);
    const double scale = valid ? 0.9 / std::cbrt(std::max(worst, 1e-6)) : 0.2;
    h = trial * std::clamp(scale, 0.2, 4.0);
    if (!valid || worst > 1) continue;
    t += trial;
    const State before = s;
    s = next;
    if (!model.two) s[1] = s[0];
    if (s[2] < kDry * e.water) s[2] = 0;  // the last of it would bind the step by its own time constant
    watch(out.near_time, before[0], s[0], target, trial);
    watch(out.far_time, before[1], s[1], target, trial);
    if (e.water > 0) watch(out.dry_time, before[2], s[2], kDry * e.water, trial);
    const EvacuationPoint& last = out.points.back();
    const bool moved =
        std::abs(std::log(s[0] / last.near)) > 0.1 || std::abs(std::log(s[1] / last.far)) > 0.1;
    if (moved || t > 1.05 * last.time + 1) out.points.push_back({t, s[0], s[1], s[2], s[3]});
  }
  out.points.push_back({t, s[0], s[1], s[2], s[3]});
  return out;
}

Result<EvacuationCourse> evacuate(const Evacuation& e, double p_start, double target) {
  return evacuate(e, {0, p_start, p_start, e.water, e.oil_gas}, target);
}

double carried_water(double volume, double vapour_pressure, double T) {
  return vapour_pressure * volume / (kWaterGas * T);
}

namespace {

// Seconds until nitrogen held at `broken` on the near side has brought the far side to 95 % of it.
double passing_on(const Evacuation& e, double from, double broken) {
  if (!(e.far_volume > 0) || !e.far.empty() || !e.capillary) return 0;
  double t = 0, p = from;
  while (p < 0.95 * broken) {
    const double rate = throughput({*e.capillary}, nitrogen(), e.T, broken, p) / e.far_volume;
    const double h = 0.002 * broken / rate;
    p += h * rate;
    t += h;
  }
  return t;
}

}  // namespace

Result<BrokenVacuums> broken_vacuums(const Evacuation& e, double p_start, const Breaks& b) {
  if (b.vacuums < 1 || b.vacuums > 9)
    return Problem{"vacuums", std::to_string(b.vacuums), "1 to 9", "more breaks have no use"};
  if (!(b.broken > b.vacuum) || !(p_start > b.vacuum) || !(b.broken > b.last) || !(p_start > b.last))
    return Problem{"break", pascals(b.broken), "above the vacuum", "nitrogen breaks a vacuum by raising it"};
  const auto vapour_pressure = water_pressure(e.T);
  if (!vapour_pressure) return vapour_pressure.problem();
  BrokenVacuums out{};
  EvacuationPoint now{0, p_start, p_start, e.water, e.oil_gas};
  for (int i = 0; i < b.vacuums; ++i) {
    const double before = now.water, depth = i + 1 < b.vacuums ? b.vacuum : b.last;
    const auto course = evacuate(e, now, depth);
    if (!course) return course.problem();
    if (!course->near_time || !course->far_time)
      return Problem{"vacuum", pascals(depth), "a vacuum reached within the longest time reckoned",
                     "with this pump, these hoses and this water it isn't reached"};
    // a vacuum is left when it is reached, wet or not
    const double reached = std::max(*course->near_time, *course->far_time);
    for (const EvacuationPoint& p : course->points) {
      now = p;
      if (p.time >= reached) break;
    }
    out.pumping.push_back(reached);
    out.total += reached;
    double carried = std::min(before - now.water, before);
    if (i + 1 < b.vacuums) {
      const double swept =
          std::min(carried_water(e.near_volume + e.far_volume, *vapour_pressure, e.T), now.water);
      carried += swept;
      now.water -= swept;
      out.breaking.push_back(b.filling + passing_on(e, now.far, b.broken));
      out.total += out.breaking.back();
      now.oil_gas *= std::exp(-out.breaking.back() / e.oil_time);
      now.near = now.far = b.broken;
    }
    out.water.push_back(carried);
  }
  out.air_share = b.last / p_start;
  if (b.vacuums > 1)
    out.air_share = b.vacuum / p_start * std::pow(b.vacuum / b.broken, b.vacuums - 2) * b.last / b.broken;
  out.single = out.air_share * p_start;
  if (out.single > e.pump.ultimate) {
    const auto deep = evacuate(e, p_start, out.single);
    if (!deep) return deep.problem();
    if (deep->near_time && deep->far_time) {
      out.single_time = std::max(*deep->near_time, *deep->far_time);
      for (const EvacuationPoint& p : deep->points) {
        out.single_water = e.water - p.water;
        if (p.time >= *out.single_time) break;
      }
    }
  }
  return out;
}

}  // namespace coldwright::procedures

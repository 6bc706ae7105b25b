#include "procedures/gas_through_tube.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <utility>

#include "base/root.hpp"
#include "circuit/capillary.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kInletLoss = 0.5;  // velocity heads, sharp edge [idelchik2005]

// Mach number with friction length `left` to choking; F falls from infinity at 0 to 0 at 1.
double mach_at(double left, double g) {
  if (left <= 0) return 1;
  const auto f = [&](double lnm) {
    const double m = std::exp(lnm), m2 = m * m;
    const double slope = -2 * (1 - m2) / (g * m2 * (1 + 0.5 * (g - 1) * m2));  // dF/dlnM
    return std::pair{left - friction_length(m, g), -slope};
  };
  const double guess = 1 / std::sqrt(1 + g * left);
  return std::exp(increasing_root(f, std::log(1e-7), 0.0, std::log(guess)).x);
}

// Creeping flow is below what the circuit's factor is made for.
double friction_at(double reynolds, double roughness) {
  return reynolds < 1 ? 64 / reynolds : circuit::churchill_friction(reynolds, roughness);
}

// p0/p at M
double stagnation_ratio(double m, double g) { return std::pow(1 + 0.5 * (g - 1) * m * m, g / (g - 1)); }

struct Along {
  double mach_in, mach_out, p_out;
  bool choked;
};

// The flow for a given friction length: choked, or the inlet Mach number at which the exit meets p_to.
Along along(double length, double g, double p_from, double p_to) {
  const double most = mach_at(length, g);
  const auto exit_pressure = [&](double m_in) {
    const double m_out = mach_at(friction_length(m_in, g) - length, g);
    return std::pair{m_out, p_from / stagnation_ratio(m_in, g) * pressure_ratio_to_choking(m_out, g) /
                                pressure_ratio_to_choking(m_in, g)};
  };
  const auto [m_choked, p_choked] = exit_pressure(most);
  if (p_choked >= p_to) return {most, 1, p_choked, true};
  // The slower the flow, the higher the exit pressure: -> p_from at rest. It is nearly straight in the square
  // of the Mach number but for the last bit before choking: Ridders' method [ridders1979].
  double low = 0, high = most * most, above = p_from - p_to, below = p_choked - p_to;
  const auto excess = [&](double m2) { return exit_pressure(std::max(std::sqrt(m2), 1e-9)).second - p_to; };
  for (int i = 0; i < 100 && high - low > 1e-13 * high; ++i) {
    const double mid = 0.5 * (low + high), at_mid = excess(mid);
    const double x =
        std::clamp(mid + (mid - low) * at_mid / std::sqrt(at_mid * at_mid - above * below), low, high);
    const double at_x = excess(x);
    if (at_x == 0) low = high = x;
    const double ends[2][2] = {{mid, at_mid}, {x, at_x}};
    for (const auto& [where, value] : ends) {
      if (where <= low || where >= high) continue;
      (value > 0 ? low : high) = where;
      (value > 0 ? above : below) = value;
    }
  }
  const double m_in = std::sqrt(0.5 * (low + high));
  return {m_in, exit_pressure(std::max(m_in, 1e-9)).first, p_to, false};
}

std::optional<Problem> check(const Tube& tube, double p_from, double T, double p_to) {
  const auto say = [](double x) { return std::to_string(x); };
  if (!(tube.bore > 0)) return Problem{"bore", say(tube.bore) + " m", "above zero", "gas needs a way"};
  if (!(tube.length > 0))
    return Problem{"length", say(tube.length) + " m", "above zero", "a tube has length"};
  if (!(T > 0)) return Problem{"temperature", say(T) + " K", "above zero", "it is absolute"};
  if (!(p_to >= 0) || !(p_from > p_to))
    return Problem{"pressure", say(p_from) + " Pa", "above the pressure at the other end",
                   "gas flows from the higher pressure to the lower"};
  return std::nullopt;
}

}  // namespace

Gas nitrogen() { return {8.314462618 / 0.0280134, 1.40, 17.6e-6, 1}; }

double friction_length(double m, double g) {
  const double m2 = m * m;
  return (1 - m2) / (g * m2) + (g + 1) / (2 * g) * std::log((g + 1) * m2 / (2 + (g - 1) * m2));
}

double pressure_ratio_to_choking(double m, double g) {
  return std::sqrt((g + 1) / (2 + (g - 1) * m * m)) / m;
}

Result<GasFlow> gas_flow(const Gas& gas, const Tube& tube, double p_from, double T, double p_to) {
  if (const auto problem = check(tube, p_from, T, p_to)) return *problem;
  const double g = gas.heat_ratio, area = 0.25 * std::numbers::pi * tube.bore * tube.bore;
  const double R = gas.gas_constant * gas.compressibility;
  GasFlow out{};
  out.friction = 0.03;
  for (int i = 0; i < 60; ++i) {
    const Along a = along(out.friction * tube.length / tube.bore + kInletLoss, g, p_from, p_to);
    const double spread = 1 + 0.5 * (g - 1) * a.mach_in * a.mach_in;
    const double flux = p_from / std::sqrt(T) * std::sqrt(g / R) * a.mach_in *
                        std::pow(spread, -0.5 * (g + 1) / (g - 1));  // kg/(m2 s)
    out = {flux * area, a.mach_in, a.mach_out, a.p_out, a.choked, flux * tube.bore / gas.viscosity,
           out.friction};
    const double next = friction_at(out.reynolds, tube.roughness / tube.bore);
    if (std::abs(next - out.friction) < 1e-10 * next) break;
    out.friction = next;
  }
  return out;
}

Result<double> time_to_fall(const Gas& gas, const Tube& tube, double volume, double T, double p_start,
                            double p_end, double p_to) {
  const auto vessel = [&](double p) -> Result<VesselGas> {
    const double rho = p / (gas.gas_constant * gas.compressibility * T);
    return VesselGas{gas, rho};
  };
  return time_to_fall(vessel, tube, volume, T, p_start, p_end, p_to, 96);
}

Result<double> time_to_fall(const VesselModel& vessel, const Tube& tube, double volume, double T,
                            double p_start, double p_end, double p_to, int steps) {
  if (const auto problem = check(tube, p_end, T, p_to)) return *problem;
  if (!(p_start > p_end))
    return Problem{"end pressure", std::to_string(p_end) + " Pa", "below the start", "the vessel empties"};
  // dt = V drho / flow(p) with drho = (drho/dln p) dln p, over ln p by Simpson's rule
  const double span = std::log(p_start / p_end), h = span / steps;
  constexpr double kNearby = 1.001;
  const auto slope = [&](double p) -> Result<double> {
    const auto less = vessel(p / kNearby), more = vessel(p * kNearby);
    if (!less) return less.problem();
    if (!more) return more.problem();
    return (more->density - less->density) / (2 * std::log(kNearby));
  };
  double sum = 0;
  for (int i = 0; i <= steps; ++i) {
    const double p = p_end * std::exp(h * i);
    const auto here = vessel(p);
    if (!here) return here.problem();
    const auto flow = gas_flow(here->gas, tube, p, T, p_to);
    if (!flow) return flow.problem();
    const double weight = i == 0 || i == steps ? 1 : i % 2 == 1 ? 4 : 2;
    const auto drained = slope(p);
    if (!drained) return drained.problem();
    sum += weight * *drained / flow->flow;
  }
  return volume * sum * h / 3;
}

Result<Gas> real_nitrogen(const fluids::Fluid& fluid, double T, double p, double p_to) {
  const auto state = fluid.at_Tp(T, p);
  if (!state) return state.problem();
  const auto between = fluid.at_Tp(T, 0.5 * (p + p_to));
  if (!between) return between.problem();
  const auto transport = fluid.transport(*between);
  if (!transport) return transport.problem();
  Gas gas = nitrogen();
  gas.compressibility = p / (state->rho * gas.gas_constant * T);
  gas.viscosity = transport->viscosity;
  return gas;
}

Result<std::function<Gas(double p)>> nitrogen_between(const fluids::Fluid& fluid, double T, double p_low,
                                                      double p_high, double p_to) {
  const auto low = real_nitrogen(fluid, T, p_low, p_to), high = real_nitrogen(fluid, T, p_high, p_to);
  if (!low) return low.problem();
  if (!high) return high.problem();
  const double b_low = (low->compressibility - 1) / p_low, b_high = (high->compressibility - 1) / p_high;
  const double span = std::max(p_high - p_low, 1e-9 * p_high);
  return std::function<Gas(double)>([=, from = *low, to = *high](double p) {
    const double w = (p - p_low) / span;
    Gas gas = from;
    gas.compressibility = 1 + p * (b_low + w * (b_high - b_low));
    gas.viscosity = from.viscosity + w * (to.viscosity - from.viscosity);
    return gas;
  });
}

Result<double> time_to_equalise(const Gas& gas, const Tube& tube, double volume_high, double p_high,
                                double volume_low, double p_low, double T, double difference) {
  if (const auto problem = check(tube, p_high, T, p_low)) return *problem;
  if (!(difference > 0))
    return Problem{"difference", std::to_string(difference) + " Pa", "above zero",
                   "exactly equal takes for ever"};
  // What leaves one enters the other, so the difference d alone tells both pressures, and over ln d the
  // remaining time is smooth: dt = dd / (flow (1/V1 + 1/V2) R T).
  const double end = (volume_high * p_high + volume_low * p_low) / (volume_high + volume_low);
  const double share = volume_low / (volume_high + volume_low);
  const double start = p_high - p_low;
  if (difference >= start) return 0.0;
  constexpr int kSteps = 96;
  const double h = std::log(start / difference) / kSteps;
  double sum = 0;
  for (int i = 0; i <= kSteps; ++i) {
    const double d = difference * std::exp(h * i);
    const auto flow = gas_flow(gas, tube, end + share * d, T, end - (1 - share) * d);
    if (!flow) return flow.problem();
    const double weight = i == 0 || i == kSteps ? 1 : i % 2 == 1 ? 4 : 2;
    sum += weight * d / flow->flow;
  }
  const double reduced = 1 / (1 / volume_high + 1 / volume_low);
  return reduced / (gas.gas_constant * gas.compressibility * T) * sum * h / 3;
}

}  // namespace coldwright::procedures

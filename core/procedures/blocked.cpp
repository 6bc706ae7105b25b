#include "procedures/blocked.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "base/normal.hpp"
#include "procedures/constants.hpp"

namespace coldwright::procedures {
namespace {

constexpr int kDraws = 192;
constexpr int kFallSteps = 32;
constexpr double kModel = 0.03;      // ln of the flow: wall heat, a bore that isn't round (our estimate)
constexpr double kDischarge = 0.8;   // sharp hole, compressible (our estimate)
constexpr double kPriorClear = 0.5;  // our estimate

enum Dimension { bore, length, pressure, temperature, volume, other_gauge };

struct Drawn {
  Tube tube;
  double p_from, T;
};

Drawn draw(const std::vector<LikelyTube>& tubes, const NitrogenSupply& supply, int i) {
  const LikelyTube& tube = tubes[static_cast<std::size_t>(i) % tubes.size()];
  return {{drawn(tube.bore, spread_normal(i, bore)), drawn(tube.length, spread_normal(i, length)),
           tube.roughness},
          std::max(drawn(supply.pressure, spread_normal(i, pressure)), supply.p_to * 1.0001),
          drawn(supply.temperature, spread_normal(i, temperature))};
}

std::optional<Problem> negative(const char* field, const Known& known, bool may_be_zero = false) {
  const auto say = [&](double x) { return std::to_string(x); };
  if (!(known.value > 0) && !(may_be_zero && known.value == 0))
    return Problem{field, say(known.value), "above zero", "there is no check without it"};
  if (!(known.sigma >= 0))
    return Problem{field, say(known.sigma), "a spread of zero or more", "a spread has a size"};
  return std::nullopt;
}

std::optional<Problem> check(const std::vector<LikelyTube>& tubes, const NitrogenSupply& supply) {
  if (tubes.empty())
    return Problem{"tube", "none", "a bore and a length", "a flow is clear or not beside a tube's"};
  for (const LikelyTube& tube : tubes) {
    if (auto problem = negative("bore", tube.bore)) return problem;
    if (auto problem = negative("length", tube.length)) return problem;
  }
  if (auto problem = negative("supply pressure", supply.pressure)) return problem;
  if (auto problem = negative("temperature", supply.temperature)) return problem;
  if (!(supply.pressure.value > supply.p_to))
    return Problem{"supply pressure", std::to_string(supply.pressure.value) + " Pa",
                   "above the pressure at the other end", "gas flows from the higher pressure to the lower"};
  return std::nullopt;
}

double normal_density(double x, double sigma) { return std::exp(normal_log_density(x / sigma)) / sigma; }

// Int_0^1 N(d; ln s, e) ds
double blocked_evidence(double d, double e) {
  return std::exp(d + 0.5 * e * e) * normal_cdf((-d - e * e) / e);
}

// `log_clear`: of each draw; the same sense as `log_measured`, both growing with the flow.
Blockage judge(const std::vector<double>& log_clear, std::optional<double> log_measured,
               double relative_sigma, bool as_time) {
  const double e = std::hypot(relative_sigma, kModel);
  Blockage out{};
  std::vector<double> blocked, clear;
  double evidence_clear = 0, evidence_blocked = 0, sum = 0, squares = 0;
  const double n = static_cast<double>(log_clear.size());
  for (std::size_t i = 0; i < log_clear.size(); ++i) {
    clear.push_back(std::exp(as_time ? -log_clear[i] : log_clear[i]));
    sum += log_clear[i] / n;
    if (!log_measured) continue;
    const double d = *log_measured - log_clear[i];
    evidence_clear += normal_density(d, e);
    evidence_blocked += blocked_evidence(d, e);
    blocked.push_back(1 - std::exp(d + e * spread_normal(static_cast<int>(i), other_gauge + 1)));
  }
  for (const double c : log_clear) squares += (c - sum) * (c - sum) / n;
  out.spread = std::hypot(std::sqrt(squares), e);
  out.smallest_shown = 1 - std::exp(-2 * kOneSided * out.spread);
  out.clear_flow = spread_interval(clear);
  if (!log_measured) {
    out.blocked = {1, 1, 1};
    return out;
  }
  out.blocked = spread_interval(blocked);
  const double for_clear = kPriorClear * evidence_clear, for_blocked = (1 - kPriorClear) * evidence_blocked;
  // Far more than a clear tube passes speaks for neither: what is left of both is rounding.
  out.probability_clear = for_clear + for_blocked > 1e-280 ? for_clear / (for_clear + for_blocked) : 1;
  return out;
}

}  // namespace

Result<Blockage> blocked_by_flow(const fluids::Fluid& nitrogen, const std::vector<LikelyTube>& tubes,
                                 const MeasuredFlow& measured) {
  if (const auto problem = check(tubes, measured.supply)) return *problem;
  if (const auto problem = negative("flow", measured.flow, true)) return *problem;
  const auto gas = real_nitrogen(nitrogen, measured.supply.temperature.value, measured.supply.pressure.value,
                                 measured.supply.p_to);
  if (!gas) return gas.problem();
  std::vector<double> log_clear;
  for (int i = 0; i < kDraws; ++i) {
    const Drawn d = draw(tubes, measured.supply, i);
    const auto flow = gas_flow(*gas, d.tube, d.p_from, d.T, measured.supply.p_to);
    if (!flow) return flow.problem();
    log_clear.push_back(std::log(flow->flow));
  }
  if (measured.flow.value == 0) return judge(log_clear, std::nullopt, 0, false);
  return judge(log_clear, std::log(measured.flow.value), measured.flow.sigma / measured.flow.value, false);
}

Result<Blockage> blocked_by_fall(const fluids::Fluid& nitrogen, const std::vector<LikelyTube>& tubes,
                                 const MeasuredFall& measured) {
  if (const auto problem = check(tubes, measured.supply)) return *problem;
  if (const auto problem = negative("time", measured.seconds)) return *problem;
  if (const auto problem = negative("volume", measured.volume)) return *problem;
  if (!(measured.gauge_sigma >= 0))
    return Problem{"gauge", std::to_string(measured.gauge_sigma) + " Pa", "a spread of zero or more",
                   "a spread has a size"};
  if (!(measured.p_end < measured.supply.pressure.value) || !(measured.p_end > measured.supply.p_to))
    return Problem{"end pressure", std::to_string(measured.p_end) + " Pa",
                   "between the start and the pressure at the other end",
                   "the side before the tube empties through it"};
  const auto gas = nitrogen_between(nitrogen, measured.supply.temperature.value, measured.p_end,
                                    measured.supply.pressure.value, measured.supply.p_to);
  if (!gas) return gas.problem();
  std::vector<double> log_speed;
  for (int i = 0; i < kDraws; ++i) {
    Drawn d = draw(tubes, measured.supply, i);
    d.p_from = measured.supply.pressure.value + measured.gauge_sigma * spread_normal(i, pressure);
    const double p_end = std::max(measured.p_end + measured.gauge_sigma * spread_normal(i, other_gauge),
                                  measured.supply.p_to * 1.0001);
    const VesselModel vessel = [&](double p) -> Result<VesselGas> {
      const Gas here = (*gas)(p);
      return VesselGas{here, p / (here.gas_constant * here.compressibility * d.T)};
    };
    const auto seconds =
        time_to_fall(vessel, d.tube, drawn(measured.volume, spread_normal(i, volume)), d.T,
                     std::max(d.p_from, p_end * 1.0001), p_end, measured.supply.p_to, kFallSteps);
    if (!seconds) return seconds.problem();
    log_speed.push_back(-std::log(*seconds));
  }
  return judge(log_speed, -std::log(measured.seconds.value), measured.seconds.sigma / measured.seconds.value,
               true);
}

double flow_of_hole(const Gas& gas, double bore, double p_from, double T, double p_to) {
  const double g = gas.heat_ratio, R = gas.gas_constant * gas.compressibility;
  const double r = std::max(p_to / p_from, std::pow(2 / (g + 1), g / (g - 1)));
  if (r >= 1) return 0;
  const double flux =
      p_from * std::sqrt(2 * g / ((g - 1) * R * T) * (std::pow(r, 2 / g) - std::pow(r, (g + 1) / g)));
  return kDischarge * 0.25 * std::numbers::pi * bore * bore * flux;
}

Result<Remaining> remaining_bore(const Gas& gas, const Tube& tube, double p_from, double T, double p_to,
                                 double flow) {
  if (!(flow > 0)) return Remaining{0, 0.0};
  // The whole tube narrower: the flow grows with the bore.
  double low = 0.02 * tube.bore, high = 3 * tube.bore;
  for (int i = 0; i < 60 && high - low > 1e-9 * high; ++i) {
    const double mid = std::sqrt(low * high);
    const auto passed = gas_flow(gas, {mid, tube.length, tube.roughness}, p_from, T, p_to);
    if (!passed) return passed.problem();
    (passed->flow < flow ? low : high) = mid;
  }
  Remaining out{std::sqrt(low * high), std::nullopt};
  const auto clear = gas_flow(gas, tube, p_from, T, p_to);
  if (!clear) return clear.problem();
  if (clear->flow <= flow) return out;
  // A hole before it: the pressure between them at which the tube passes just that, then the hole's size.
  double below = p_to, above = p_from;
  for (int i = 0; i < 60 && above - below > 1e-9 * above; ++i) {
    const double mid = 0.5 * (below + above);
    const auto passed = gas_flow(gas, tube, mid, T, p_to);
    if (!passed) return passed.problem();
    (passed->flow < flow ? below : above) = mid;
  }
  out.hole = tube.bore * std::sqrt(flow / flow_of_hole(gas, tube.bore, p_from, T, 0.5 * (below + above)));
  return out;
}

Result<std::vector<ClearFlow>> clear_flow_table(const fluids::Fluid& nitrogen, const Tube& tube, double T,
                                                double p_to, const std::vector<double>& p_from) {
  std::vector<ClearFlow> rows;
  for (const double p : p_from) {
    const auto gas = real_nitrogen(nitrogen, T, p, p_to);
    if (!gas) return gas.problem();
    const auto flow = gas_flow(*gas, tube, p, T, p_to);
    if (!flow) return flow.problem();
    rows.push_back({p, *flow});
  }
  return rows;
}

Result<std::optional<double>> chokes_from(const Gas& gas, const Tube& tube, double T, double p_to,
                                          double highest) {
  const auto choked = [&](double p) -> Result<bool> {
    const auto flow = gas_flow(gas, tube, p, T, p_to);
    if (!flow) return flow.problem();
    return flow->choked;
  };
  const auto at_all = choked(highest);
  if (!at_all) return at_all.problem();
  if (!*at_all) return std::optional<double>{};
  double low = p_to * 1.0001, high = highest;
  for (int i = 0; i < 60 && high - low > 1e-7 * high; ++i) {
    const double mid = 0.5 * (low + high);
    const auto there = choked(mid);
    if (!there) return there.problem();
    (*there ? high : low) = mid;
  }
  return std::optional<double>{high};
}

}  // namespace coldwright::procedures

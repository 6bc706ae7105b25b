#include "procedures/release.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "procedures/constants.hpp"
#include "procedures/gas_through_tube.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kGravity = 9.80665;

struct Widths {
  double across, up;
};
// Open-country widths at x metres downwind [briggs1973, from memory].
Widths widths(double x, Air air) {
  if (air == Air::neutral) return {0.08 * x / std::sqrt(1 + 1e-4 * x), 0.06 * x / std::sqrt(1 + 1.5e-3 * x)};
  return {0.04 * x / std::sqrt(1 + 1e-4 * x), 0.016 * x / (1 + 3e-4 * x)};
}

}  // namespace

Result<Outflow> vapour_outflow(const fluids::Fluid& fluid, const Opening& opening, double p0, double T0,
                               double p_air) {
  if (!(opening.bore > 0))
    return Problem{"bore", std::to_string(opening.bore) + " m", "above zero", "gas needs a way"};
  if (!(p0 > p_air))
    return Problem{"pressure", std::to_string(p0) + " Pa", "above the air's pressure",
                   "nothing flows out by itself below it"};
  const auto dew = fluid.dew_temperature(p0);
  if (!dew) return dew.problem();
  const auto start = T0 > *dew + 1e-6 ? fluid.at_Tp(T0, p0) : fluid.at_px(p0, 1);
  if (!start) return start.problem();
  std::optional<Problem> problem;
  Outflow out{};
  const auto flux = [&](double lnp) {
    const auto state = fluid.at_ps(std::exp(lnp), start->s);
    if (!state) {
      if (!problem) problem = state.problem();
      return 0.0;
    }
    out.p = state->p;
    out.T = state->T;
    out.rho = state->rho;
    out.velocity = std::sqrt(2 * std::max(start->h - state->h, 0.0));
    return out.rho * out.velocity;
  };
  // One maximum between air and vessel: golden section.
  const double ratio = 0.5 * (std::sqrt(5.0) - 1);
  double low = std::log(p_air), high = std::log(p0);
  const double end = low;
  double a = high - ratio * (high - low), b = low + ratio * (high - low);
  double fa = flux(a), fb = flux(b);
  while (high - low > 1e-7 && !problem) {
    if (fa > fb) {
      high = b;
      b = a;
      fb = fa;
      a = high - ratio * (high - low);
      fa = flux(a);
    } else {
      low = a;
      a = b;
      fa = fb;
      b = low + ratio * (high - low);
      fb = flux(b);
    }
  }
  const bool choked = low > end + 1e-6;
  const double most = flux(choked ? 0.5 * (low + high) : end);
  if (problem) return *problem;
  out.choked = choked;
  out.flow = most * opening.discharge * 0.25 * std::numbers::pi * opening.bore * opening.bore;
  return out;
}

Result<Outflow> hose_outflow(const fluids::Fluid& fluid, const Opening& opening, double length, double p0,
                             double T0, double p_air) {
  const auto bore = vapour_outflow(fluid, opening, p0, T0, p_air);
  if (!bore || !(length > 0)) return bore;
  const auto dew = fluid.dew_temperature(p0);
  if (!dew) return dew.problem();
  const auto start = T0 > *dew + 1e-6 ? fluid.at_Tp(T0, p0) : fluid.at_px(p0, 1);
  if (!start) return start.problem();
  const auto transport = fluid.transport(*start);
  if (!transport) return transport.problem();
  const double R = kGasConstant / fluid.limits().M;
  const Gas gas{R, start->single->cp / start->single->cv, transport->viscosity,
                p0 / (start->rho * R * start->T)};
  const auto tube = gas_flow(gas, {opening.bore, length, 0}, p0, start->T, p_air);
  if (!tube) return tube.problem();
  const double flow = tube->flow * opening.discharge;
  if (flow >= bore->flow) return bore;
  Outflow out = *bore;
  out.flow = flow;
  out.choked = tube->choked;
  out.p = tube->pressure_out;
  const auto end = fluid.at_Tp(start->T, p_air);
  if (!end) return end.problem();
  if (!out.choked) {
    out.T = start->T;
    out.rho = end->rho;
    out.velocity =
        flow / (out.rho * opening.discharge * 0.25 * std::numbers::pi * opening.bore * opening.bore);
  }
  return out;
}

Result<Jet> expanded(const fluids::Fluid& fluid, const Outflow& outflow, double T_air, double p_air) {
  const auto air = fluid.at_Tp(T_air, p_air);
  if (!air) return air.problem();
  if (air->phase != fluids::Phase::vapour || !air->single)
    return Problem{"temperature", std::to_string(T_air - 273.15) + " C",
                   "above where the refrigerant boils at the air's pressure",
                   "it would run out as liquid there, which this doesn't cover"};
  Jet jet{};
  jet.density = outflow.choked ? air->rho : outflow.rho;
  jet.velocity = outflow.choked ? air->single->sound_speed : outflow.velocity;
  jet.bore = std::sqrt(4 * outflow.flow / (std::numbers::pi * jet.density * jet.velocity));
  return jet;
}

double jet_distance(const Jet& jet, double air_density, double density, double K) {
  const double volume = std::min(density / jet.density, 1.0);
  const double mass = volume * jet.density / (volume * jet.density + (1 - volume) * air_density);
  return K * jet.bore * std::sqrt(jet.density / air_density) / mass;
}

double momentum_reach(const Jet& jet, double air_density) {
  const double lift = std::max(std::abs(jet.density - air_density), 1e-9);
  const double froude = jet.density * jet.velocity * jet.velocity / (kGravity * jet.bore * lift);
  return 0.5 * std::sqrt(froude) * std::pow(jet.density / air_density, 0.25) * jet.bore;
}

double half_sphere(double charge, double density) {
  return std::cbrt(1.5 * charge / density / std::numbers::pi);
}

double wind_section(double flow, double wind, double density) {
  return std::sqrt(2 * flow / (std::numbers::pi * wind * density));
}

double plume_distance(double flow, double wind, double density, Air air) {
  const auto middle = [&](double x) {
    const Widths w = widths(x, air);
    return flow / (std::numbers::pi * wind * w.across * w.up);
  };
  double low = 1e-3, high = 1e4;  // in ln x it falls all the way
  for (int i = 0; i < 100; ++i) {
    const double mid = std::sqrt(low * high);
    (middle(mid) > density ? low : high) = mid;
  }
  return std::sqrt(low * high);
}

Result<double> left_cold(const fluids::Fluid& fluid, double T, double p_air) {
  const auto boiling = fluid.bubble_temperature(p_air);
  if (!boiling) return boiling.problem();
  if (T <= *boiling) return 1.0;
  constexpr int kSteps = 40;
  double sum = 0, before = 0;
  for (int i = 0; i <= kSteps; ++i) {
    const auto at = fluid.saturation_at_T(*boiling + (T - *boiling) * i / kSteps);
    if (!at) return at.problem();
    const double heat = at->vapour.h - at->liquid.h;
    if (i > 0) sum += (at->liquid.h - before) / heat;
    before = at->liquid.h;
  }
  return std::exp(-sum);
}

double room_peak(double charge, double seconds, double volume, double changes) {
  const double aired = changes * seconds;
  if (!(aired > 1e-9)) return charge / volume;
  return charge / volume * -std::expm1(-aired) / aired;
}

double airing_time(double peak, double density, double changes) {
  return peak > density ? std::log(peak / density) / changes : 0;
}

}  // namespace coldwright::procedures

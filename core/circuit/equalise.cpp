// Nothing is pumped: one pressure everywhere, set by the coldest place that still holds liquid, or by the
// charge alone when everything has evaporated.
#include <algorithm>
#include <cmath>

#include "circuit/charge.hpp"
#include "circuit/operating_point.hpp"

namespace coldwright::circuit {
namespace {

// Mass held as vapour and in the oil at one pressure, with each volume at its own temperature.
double gas_mass(const Machine& m, const WorkingFluid& f, double lnp, double T_box, double T_ambient,
                double T_shell) {
  const Isobar at = f.isobar(lnp);
  const auto rho = [&](double T) { return at.vapour(at.vapour_enthalpy(std::max(T, at.sat.T))).rho; };
  const double r = std::exp(lnp - f.ln_saturation_pressure(std::clamp(T_shell, f.T_low(), f.T_high())));
  return m.evaporator.volume * rho(T_box) + (m.condenser.volume + m.vessels.liquid_line) * rho(T_ambient) +
         m.vessels.shell * rho(T_shell) + m.vessels.oil * dissolved_in_oil(r, m.vessels.oil_solubility);
}

}  // namespace

OperatingPoint equalise(const Machine& m, const WorkingFluid& f, const Conditions& c, const Departure& d,
                        bool running) {
  OperatingPoint p{};
  const MotorPoint idle = motor(m.compressor, m.compressor.friction, c.voltage);
  const double warm = running ? idle.power / std::max(m.compressor.shell_conductance, 0.1) : 0;
  p.T_shell = c.ambient + std::min(warm, 70.0);
  const double charge = m.charge * d.charge;
  const double lnp_cold =
      f.ln_saturation_pressure(std::clamp(std::min(c.box, c.ambient), f.T_low(), f.T_high()));
  double lnp = lnp_cold;
  int evaluations = 1;
  const auto held = [&](double at) { return gas_mass(m, f, at, c.box, c.ambient, p.T_shell); };
  // Gas and oil could hold more than the charge: all of it is gas or dissolved, at the pressure where they
  // hold just that. What they hold rises with pressure, in the oil faster than in proportion: bracketed
  // secant in ln p.
  if (double above = std::log(held(lnp) / charge); above > 0) {
    double low = f.lnp_low(), high = lnp;
    double below = std::log(held(low) / charge);
    ++evaluations;
    lnp = low;  // stays there when even the lowest pressure of the tables holds more
    for (double last = 0; below < 0 && evaluations < 60; ++evaluations) {
      lnp = low + (high - low) * below / (below - above);
      const double here = std::log(held(lnp) / charge);
      if (std::abs(here) < 1e-9) break;
      // An end that stays for a second step counts half, so that both ends close in.
      if (here > 0) {
        high = lnp;
        above = here;
        if (last > 0) below *= 0.5;
      } else {
        low = lnp;
        below = here;
        if (last < 0) above *= 0.5;
      }
      last = here;
    }
  }
  // Foreign gas was confined to the condenser; at rest it spreads over every volume. T ratios near one are
  // left out.
  const double V = m.evaporator.volume + m.condenser.volume + m.vessels.liquid_line + m.vessels.shell;
  const double foreign = d.noncondensable * m.condenser.volume / V;
  p.p_evaporator = p.p_suction = p.p_discharge = std::exp(lnp) + foreign;
  p.p_condensing = std::exp(lnp);
  p.T_evaporating = p.T_condensing = f.saturation_temperature(lnp);
  p.T_evaporator_out = c.box;
  p.T_suction = c.ambient + 0.3 * (c.box - c.ambient);
  p.T_discharge = p.T_shell - 0.3 * (p.T_shell - c.ambient);
  p.T_condenser_middle = p.T_liquid = c.ambient;
  p.superheat = c.box - p.T_evaporating;
  p.T_evaporator_air_out = c.box;
  p.T_condenser_air_out = c.ambient;
  p.power = running ? idle.power : 0;
  p.current = running ? idle.current : 0;
  p.charge_elsewhere = charge;
  p.summary = {Status::equalised, 1, evaluations, 0,
               running ? "the motor turns, nothing is pumped" : "at rest"};
  return p;
}

}  // namespace coldwright::circuit

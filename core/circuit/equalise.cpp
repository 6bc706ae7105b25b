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
  double held = gas_mass(m, f, lnp, c.box, c.ambient, p.T_shell);
  // All gas: the mass is nearly proportional to the pressure, so its ratio to the charge is the next step.
  while (held > charge * (1 + 1e-9) && evaluations < 30) {
    lnp = std::max(lnp + std::log(charge / held), f.lnp_low());
    const double before = held;
    held = gas_mass(m, f, lnp, c.box, c.ambient, p.T_shell);
    ++evaluations;
    if (std::abs(held - before) < 1e-9 * charge) break;
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

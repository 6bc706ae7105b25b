#include "circuit/population.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "circuit/charge.hpp"
#include "circuit/operating_point.hpp"

namespace coldwright::circuit {
namespace {

struct Draw {
  const MachineLatents& z;
  double normal(Latent i) const { return z[static_cast<std::size_t>(i)]; }
  double between(Latent i, double low, double high) const {
    return low + (high - low) * normal_cdf(normal(i));
  }
  double around(Latent i, double median, double ratio) const {
    return median * std::exp(std::log(ratio) * normal(i));
  }
};

// Running current at the design point over the plate's: plates print a rated current somewhat above it.
// 0.85 within 13 % (one standard deviation): our estimate (docs/decisions/0018-what-the-evidence-held.md).
// What a plate's current means is nowhere settled: the rated load, a hot pull-down, or the machine with fans
// and heaters.
constexpr double kPlateCurrent = 0.85, kPlateSpread = 0.13;

// States around the loop at the design point, per kilogram.
struct Design {
  double ambient, T_e, T_c, T_eo, T_co;
  double lnp_e, lnp_s, lnp_c;
  Isobar evaporating, suction_line, condensing;
  SatPoint sat_e, sat_c;
  double h_eo, h_co, h_ei;
  SuctionPoint suction;
  Compression compression;
  double h_dis, T_dis, T_shell;
  double electrical;              // J/kg
  double iron, copper, friction;  // shares: iron and copper of electrical, friction of gas work
  double shell_share;             // of electrical power lost through the shell
};

Result<Design> design_states(const Draw& d, const Nameplate& plate, const Archetype& kind,
                             const WorkingFluid& f, const Shift& shift, Machine& m) {
  Design s{};
  m.set_point = plate.set_point.value_or(kind.set_point_K);
  s.ambient = d.between(Latent::design_ambient, kind.design_ambient_low_K, kind.design_ambient_high_K);
  const double td =
      shift.evaporator_td * d.between(Latent::evaporator_td, kind.evaporator_td_low, kind.evaporator_td_high);
  const double split = shift.condenser_split * d.between(Latent::condenser_split, kind.condenser_split_low,
                                                         kind.condenser_split_high);
  s.T_e = m.set_point - td;
  s.T_c = s.ambient + split;
  if (s.T_e < f.T_low() + 2 || s.T_c > f.T_high() - 5)
    return Problem{"cabinet", kind.id, "a design point inside the refrigerant's tables",
                   "set point or ambient too extreme for " + f.designation()};
  s.T_eo = s.T_e + std::min(d.between(Latent::superheat, 1, 9), 0.85 * td);
  s.T_co = s.T_c - std::min(d.between(Latent::subcooling, 2, 9), 0.75 * split);
  s.lnp_e = f.ln_saturation_pressure(s.T_e);
  s.lnp_s = s.lnp_e + std::log(1 - m.suction_drop);
  s.lnp_c = f.ln_saturation_pressure(s.T_c);
  s.evaporating = f.isobar(s.lnp_e);
  s.suction_line = f.isobar(s.lnp_s);
  s.condensing = f.isobar(s.lnp_c);
  s.sat_e = s.evaporating.sat;
  s.sat_c = s.condensing.sat;
  s.h_eo = s.evaporating.vapour_enthalpy(s.T_eo);
  s.h_co = s.sat_c.h_l - s.sat_c.cp_l * (s.T_c - s.T_co);
  m.suction.effectiveness = std::min(shift.exchange * d.between(Latent::exchange, 0.45, 0.85), 0.95);
  m.suction.pick_up = d.between(Latent::pick_up, 0.05, 0.35);
  s.suction = exchange(m.suction, s.evaporating, s.h_eo, s.T_co, s.ambient);
  s.h_ei = s.h_co - s.suction.heat;
  return s;
}

// The compressor per kilogram: electrical energy, discharge state and shell temperature agree by iteration.
void design_compression(const Draw& d, const WorkingFluid& f, Machine& m, Design& s) {
  Compressor& c = m.compressor;
  c.clearance = d.between(Latent::clearance, 0.02, 0.045);
  c.fill = d.between(Latent::fill, 0.80, 0.92);
  c.efficiency = d.between(Latent::efficiency, 0.66, 0.78);
  c.suction_heating = d.between(Latent::suction_heating, 0.2, 0.4);
  s.friction = d.between(Latent::friction, 0.06, 0.16);
  s.copper = d.between(Latent::copper, 0.05, 0.10);
  s.iron = 0.06;
  s.shell_share = d.between(Latent::shell_loss, 0.30, 0.55);
  s.T_shell = s.ambient + 30;
  const Ports at = ports(f, s.lnp_s, s.lnp_c);
  const VapourPoint gas = s.suction_line.vapour(s.suction.h_out);
  for (int i = 0; i < 6; ++i) {
    const double h_cyl = s.suction.h_out + gas.cp * c.suction_heating * std::max(s.T_shell - gas.T, 0.0);
    s.compression = compression(c, at, h_cyl, 0);
    s.electrical = s.compression.work / c.efficiency * (1 + s.friction) / (1 - s.iron - s.copper);
    s.h_dis = s.suction.h_out + s.electrical * (1 - s.shell_share);
    s.T_dis = s.condensing.vapour(s.h_dis).T;
    s.T_shell = s.ambient + c.shell_share * (s.T_dis - s.ambient);
  }
  c.T_shell_design = s.T_shell;
}

// Size: from the plate's current, the compressor's displacement, or the archetype's usual current.
double design_flow(const Draw& d, const Nameplate& plate, const Archetype& kind, const Shift& shift,
                   Machine& m, Design& s) {
  Compressor& c = m.compressor;
  c.rated_voltage = plate.rated_voltage.value_or(kind.rated_voltage);
  c.speed = plate.frequency.value_or(c.rated_voltage < 160 ? 60.0 : 50.0) * 0.97;
  const double magnetising = d.between(Latent::magnetising, 0.30, 0.62);
  const double real = std::sqrt(1 - magnetising * magnetising);
  const double N = c.speed;
  double flow = 0, current = 0;
  if (plate.displacement) {
    flow = *plate.displacement * N * s.compression.rho * s.compression.fill * d.around(Latent::size, 1, 1.03);
    current = flow * s.electrical / (c.rated_voltage * real);
  } else {
    if (plate.rated_current) {
      current = *plate.rated_current * kPlateCurrent *
                d.around(Latent::size, 1, 1 + kPlateSpread * shift.plate_current_spread);
    } else {
      const double rated = kind.rated_current.median * kind.rated_voltage / c.rated_voltage;
      current = kPlateCurrent * d.around(Latent::size, rated, kind.rated_current.ratio);
    }
    flow = current * c.rated_voltage * real / s.electrical;
  }
  const double power = flow * s.electrical;
  c.displacement = flow / (N * s.compression.rho * s.compression.fill);
  c.magnetising_current = current * magnetising;
  c.iron_loss = s.iron * power;
  c.friction = s.friction * flow * s.compression.work / c.efficiency;
  c.winding_ohms = s.copper * power / (current * current);
  c.start_winding_ohms = c.winding_ohms * d.around(Latent::copper, 3.2, 1.2);
  c.shell_conductance = s.shell_share * power / (s.T_shell - s.ambient);
  c.dp_ref = std::exp(s.lnp_c) - std::exp(s.lnp_s);
  c.leak_flow_ref = 0.9 * flow;
  m.design_current = current;
  m.current_trip = current * d.between(Latent::trip, 1.7, 2.3);
  return flow;
}

void design_coils(const Draw& d, const Archetype& kind, const Nameplate& plate, const Shift& shift,
                  double flow, Machine& m, Design& s) {
  m.condenser.vapour_ratio = d.between(Latent::condenser_vapour, 0.35, 0.60);
  m.condenser.liquid_ratio = d.between(Latent::condenser_liquid, 0.40, 0.75);
  m.condenser.hold_up = 1 + shift.hold_up * d.between(Latent::condenser_hold_up, 0.0, 0.6);
  const double dT_c = s.T_c - s.ambient;
  const double cp_v = (s.h_dis - s.sat_c.h_v) / std::max(s.T_dis - s.sat_c.T, 0.5);
  // each zone's area share is its demand over K; they add up to one
  const double K_c = flow * (cp_v * std::log((s.T_dis - s.ambient) / dT_c) / m.condenser.vapour_ratio +
                             (s.sat_c.h_v - s.sat_c.h_l) / dT_c +
                             s.sat_c.cp_l * std::log(dT_c / (s.T_co - s.ambient)) / m.condenser.liquid_ratio);
  AirSide& a = m.condenser_air;
  a.still_air = plate.condenser.value_or(kind.condenser) == CondenserKind::wire_tube_natural;
  a.design_difference = dT_c;
  const double ntu_c = d.around(Latent::condenser_transfer, 0.85, 1.3);
  a.capacity_rate = K_c / (1 - std::exp(-ntu_c));
  a.conductance = a.still_air ? K_c : ntu_c * a.capacity_rate;

  m.evaporator.vapour_ratio = d.between(Latent::evaporator_vapour, 0.30, 0.55);
  m.evaporator.hold_up = 1 + shift.hold_up * d.between(Latent::evaporator_hold_up, 0.2, 1.2);
  m.evaporator.design_flow = flow;
  const double td = m.set_point - s.T_e;
  const double cp_e = s.evaporating.vapour(s.sat_e.h_v).cp;
  const double K_e = flow * ((s.sat_e.h_v - s.h_ei) / td +
                             cp_e * std::log(td / (m.set_point - s.T_eo)) / m.evaporator.vapour_ratio);
  const double ntu_e = d.around(Latent::evaporator_transfer, 0.80, 1.3);
  m.evaporator_air.capacity_rate = K_e / (1 - std::exp(-ntu_e));
  m.evaporator_air.conductance = ntu_e * m.evaporator_air.capacity_rate;
  const double capacity = flow * (s.h_eo - s.h_ei);
  m.design_capacity = capacity;
  m.design_ambient = s.ambient;
  m.load_per_kelvin = capacity * d.between(Latent::load, kind.running_share_low, kind.running_share_high) /
                      (s.ambient - m.set_point);
}

void design_capillary(const Draw& d, const WorkingFluid& f, double flow, Machine& m, const Design& s) {
  Capillary& tube = m.capillary;
  tube.length = d.between(Latent::capillary_length, 1.6, 3.6);
  tube.diameter = 0.8e-3;
  for (int i = 0; i < 4; ++i) {  // flow ~ D^2.6
    const CapillaryFlow at = flow_through(tube, f, {s.lnp_c, s.h_co}, s.lnp_e, s.suction.heat, flow);
    tube.diameter *= std::pow(flow / at.flow, 1 / 2.6);
  }
}

// Coil volumes so that the charge fits; what shell and oil hold is limited to leave the coils their part.
bool design_volumes(const Draw& d, const WorkingFluid& f, double charge, double flow, Machine& m,
                    const Design& s) {
  const double scale = std::pow(m.compressor.displacement / 4.5e-6, 0.35);
  Vessels& v = m.vessels;
  v.shell = d.between(Latent::shell_volume, 1.2e-3, 2.2e-3) * scale;
  v.oil = d.between(Latent::oil, 0.17, 0.30) * scale;
  v.oil_solubility = d.between(Latent::solubility, 0.15, 0.30);
  v.liquid_line = d.between(Latent::liquid_line, 0.04, 0.12) * charge / f.at_temperature(s.T_co).rho_l;
  const double r = std::exp(s.lnp_s - f.ln_saturation_pressure(std::min(s.T_shell, f.T_high())));
  const auto fixed = [&] {
    return v.shell * s.suction_line.vapour(s.suction_line.vapour_enthalpy(s.T_shell)).rho +
           v.oil * dissolved_in_oil(r, v.oil_solubility) + v.liquid_line * f.at_temperature(s.T_co).rho_l;
  };
  const double most = 0.45 * charge;
  if (const double now = fixed(); now > most) {
    v.shell *= most / now;
    v.oil *= most / now;
    v.liquid_line *= most / now;
  }
  const double ratio = d.between(Latent::coil_ratio, 0.5, 1.0);  // condenser over evaporator volume
  m.condenser.volume = ratio * 1e-4;
  m.evaporator.volume = 1e-4;
  const AirPoint ca = air_point(m.condenser_air, {}, 1, s.T_c - s.ambient);
  const AirPoint ea = air_point(m.evaporator_air, {}, 1, m.set_point - s.T_e);
  const CondenserPoint cond = condense(m.condenser, s.condensing, ca.K, s.ambient, flow, s.h_dis, s.T_dis);
  const EvaporatorPoint evap = evaporate(m.evaporator, s.evaporating, ea.K, m.set_point, flow, s.h_ei);
  const double fit = (charge - fixed()) / (cond.mass + evap.mass);
  if (!(fit > 0)) return false;
  m.condenser.volume *= fit;
  m.evaporator.volume *= fit;
  return true;
}

}  // namespace

MachineLatents draw_latents(RandomStream& random) {
  MachineLatents z{};
  for (double& value : z) value = random.normal();
  return z;
}

Result<Machine> machine_from(const MachineLatents& z, const Nameplate& plate, const Archetype& kind,
                             const WorkingFluid& fluid, const Shift& shift) {
  const Draw d{z};
  Machine m;
  auto states = design_states(d, plate, kind, fluid, shift, m);
  if (!states) return states.problem();
  Design& s = *states;
  design_compression(d, fluid, m, s);
  const double flow = design_flow(d, plate, kind, shift, m, s);
  design_coils(d, kind, plate, shift, flow, m, s);
  design_capillary(d, fluid, flow, m, s);
  m.charge = plate.charge.value_or(d.around(Latent::charge_unknown, kind.charge.median, kind.charge.ratio));
  if (!design_volumes(d, fluid, m.charge, flow, m, s))
    return Problem{"charge", std::to_string(m.charge * 1000) + " g",
                   "enough to fill the coils of a machine this size",
                   "compressor gas and oil alone would hold it all"};
  // Production spreads: 5 % of the tube's area, 2 % of the charge (our estimate).
  m.capillary.diameter *= std::sqrt(1 + 0.05 * std::clamp(d.normal(Latent::capillary_spread), -2.0, 2.0));
  m.charge *= 1 + 0.02 * std::clamp(d.normal(Latent::charge_spread), -3.0, 3.0);
  m.T_trip = 273.15 + d.between(Latent::trip, 71, 81);
  m.lnp_e0 = s.lnp_e;
  m.split0 = s.T_c - s.ambient;
  m.h_eo0 = s.h_eo;
  return m;
}

}  // namespace coldwright::circuit

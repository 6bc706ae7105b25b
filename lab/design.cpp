#include "lab/design.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::lab {

namespace {

struct Draws {
  RandomStream random;
  double between(double low, double high) { return low + (high - low) * random.uniform(); }
  double around(double median, double ratio) { return median * std::exp(std::log(ratio) * random.normal()); }
};

constexpr double kBench = 100;  // minutes on the bench
constexpr double kEvery = 30;   // s between turns of its knobs

}  // namespace

Result<Designed> design(const Kind& kind, std::shared_ptr<const Refrigerant> refrigerant,
                        const Correlations& correlations, int cells, RandomStream random) {
  const Refrigerant& r = *refrigerant;
  Draws d{random};
  Designed out{};
  Cabinet& c = out.cabinet;
  c.correlations = correlations;
  const double room = d.between(kind.ambient_low, kind.ambient_high);
  const double td = d.between(kind.td_low, kind.td_high), split = d.between(kind.split_low, kind.split_high);
  const double T_e = kind.set_point - td, T_c = room + split;
  const double superheat = d.between(2.5, 7), subcooling = d.between(2.5, 7);

  // Compressor from the current on the plate.
  out.plate_current = d.around(kind.current_median, kind.current_ratio);
  out.plate_voltage = kind.voltage;
  c.motor.voltage = kind.voltage;
  const double current = out.plate_current * std::clamp(d.around(0.82, 1.13), 0.55, 1.1);
  const double power = current * kind.voltage * d.between(0.78, 0.93);
  const double shaft = power * d.between(0.72, 0.82);
  c.pump.speed = kind.voltage < 160 ? 60 : 50;
  c.pump.clearance = d.between(0.02, 0.045);
  c.pump.suction_heating = d.between(0.15, 0.4);
  c.pump.indicated = d.between(0.80, 0.92);
  c.pump.friction = shaft * d.between(0.08, 0.16);
  const Saturated cold = r.saturated(T_e), hot = r.saturated(T_c);
  const double T_in = room + 12;
  const double p_s = cold.p, p_d = hot.p;
  const Refrigerant::Gas in = r.gas(p_s, cold.h_v() + 1.05 * r.carrying(T_e).cp_v * (T_in - T_e));
  const double k = in.k;
  const double work = k / (k - 1) * p_s / in.rho * (std::pow(p_d / p_s, (k - 1) / k) - 1) / c.pump.indicated;
  const double flow = (shaft - c.pump.friction) / (1.04 * work);
  const double filled = 0.93 * (1 - c.pump.clearance * (std::pow(p_d / p_s, 1 / k) - 1));
  c.pump.displacement = flow / (0.96 * c.pump.speed * in.rho * filled);
  c.design_flow = flow;
  c.design_suction = p_s;
  c.design_head = p_d;
  const double h_liquid = r.saturated(T_c - subcooling).h_l();
  const double capacity =
      flow * (cold.h_v() + r.carrying(T_e).cp_v * superheat - h_liquid + 0.5 * r.carrying(T_c).cp_l * 12);
  const double rejected = capacity + 0.7 * power;

  Motor& m = c.motor;
  m.design_current = current;
  m.design_shaft = shaft;
  m.slip = d.between(0.02, 0.05);
  m.winding = d.between(0.05, 0.09) * power / (current * current);
  m.start_winding = m.winding * d.between(2.4, 4.2);
  m.magnetising = current * d.between(0.32, 0.6);
  m.core = power * d.between(0.04, 0.08);
  m.leakage = d.between(0.05, 0.15);
  m.locked = d.between(4, 6.5);
  m.starts_at = d.between(0.78, 0.85);
  m.starts_against = (p_d - p_s) * d.between(0.5, 1.2);
  m.overload_ratio = d.between(1.6, 2.2);
  m.overload_tau = d.between(35, 80);

  const double size = capacity / 450;  // of a middling reach-in cooler
  Coil& e = c.evaporator;
  e.cells = c.condenser.cells = cells;
  const double ntu_e = d.between(0.6, 1.1);
  const double K_e = 1.3 * capacity / (td - 0.4);
  e.air_capacity = K_e / (1 - std::exp(-ntu_e));
  e.air_conductance = ntu_e * e.air_capacity;
  e.bore = d.between(5.5e-3, 8.5e-3);
  e.volume = d.around(330e-6, 1.25) * std::pow(size, 0.8);
  e.metal = 1500 * size * d.around(1, 1.3);
  e.pressure_drop = d.between(0.015, 0.05) * p_s;
  Coil& q = c.condenser;
  q.still_air = kind.still_air;
  q.design_difference = split;
  const double ntu_c = d.between(0.6, 1.2);
  const double K_c = 1.42 * rejected / split;
  q.air_capacity = K_c / (1 - std::exp(-ntu_c));
  q.air_conductance = kind.still_air ? K_c : ntu_c * q.air_capacity;
  q.bore = d.between(4.2e-3, 6.5e-3);
  q.volume = e.volume * d.between(0.45, 0.95);
  q.metal = 1300 * size * d.around(1, 1.3);
  q.pressure_drop = d.between(0.005, 0.02) * p_d;

  Shell& s = c.shell;
  const double compressor_size = std::pow(c.pump.displacement / 8e-6, 0.5);
  s.gas = d.between(1.1e-3, 1.9e-3) * compressor_size;
  s.oil = d.between(0.16, 0.28) * compressor_size;
  s.oil_tau = d.between(600, 1800);
  s.heat = d.between(3500, 6000) * compressor_size;
  s.to_room = 0.30 * power / d.between(22, 40);
  s.to_gas = d.between(0.3, 1.0) * compressor_size;
  s.plenum = d.between(30e-6, 60e-6) * compressor_size;
  s.plenum_metal = 250 * compressor_size;
  s.plenum_to_body = d.between(0.4, 0.9) * compressor_size;
  s.plenum_to_room = d.between(0.2, 0.5) * compressor_size;
  Lines& lines = c.lines;
  lines.drier = d.between(12e-6, 30e-6) * std::pow(size, 0.7);
  lines.suction = d.between(60e-6, 120e-6) * std::pow(size, 0.7);
  lines.exchange = flow * 1900 * d.between(0.7, 1.9);
  lines.suction_to_room = d.between(0.1, 0.4);
  lines.suction_drop = d.between(0.006, 0.015) * p_s;

  Box& b = c.box;
  const double share = d.between(kind.share_low, kind.share_high);
  const double load = share * capacity;
  b.fan = d.between(0.015, 0.035) * capacity;
  b.doors_per_hour = d.between(3, 12);
  const double walls = 0.75 * (load - b.fan) / (room - kind.set_point);
  b.wall_out = walls * 1.35;
  b.wall_in = walls * b.wall_out / (b.wall_out - walls);
  b.air = 25 * capacity * d.around(1, 1.3);
  b.volume = 0.5 * size * d.around(1, 1.2);
  b.wall = 45 * capacity;
  b.product = 130 * capacity * d.around(1, 1.8);
  b.to_product = capacity / 45 * d.around(1, 1.3);
  b.door_seconds = 12;
  // A quarter of the load comes through the door, sensible and moist.
  b.door_exchange =
      0.25 * load / (1200 * (room - kind.set_point) * 1.5) * 3600 / (b.doors_per_hour * b.door_seconds);
  b.leak_exchange = 0.05 * b.door_exchange * b.doors_per_hour * b.door_seconds / 3600;
  b.light = 10;
  b.heater = 0.8 * capacity;
  b.frost_full = 1.4 * size;

  Control& t = c.control;
  const double band = d.between(2, 4);
  t.cut_out = kind.set_point - 0.5 * band;
  t.cut_in = kind.set_point + 0.5 * band;
  t.sensor_tau = d.between(60, 240);
  t.shortest_off = d.between(120, 240);
  t.defrost_every = 3600 * d.between(4, 8);
  t.electric_defrost = kind.set_point < 266;
  t.defrost_for = 1500;

  Tube& tube = c.tube;
  tube.length = d.between(1.8, 3.6);
  tube.contact = d.between(0.8, 1.4);
  tube.contact_end = 0.3;
  tube.roughness = d.between(0.5e-6, 1.5e-6);
  {
    double low = 0.3e-3, high = 2.5e-3;
    const double T = T_c - subcooling;
    for (int i = 0; i < 40; ++i) {
      tube.bore = std::sqrt(low * high);
      const double length =
          length_for(r, correlations, tube, {p_d, T, h_liquid, true}, p_s, flow, 0.2 * capacity * 0.5);
      (length < tube.length ? low : high) = tube.bore;
    }
  }
  // To begin with a charge by volumes: half a condenser and a seventh of an evaporator of liquid.
  c.charge = r.saturated(T_c - 5).rho_l * (0.3 * q.volume + lines.drier) + cold.rho_l * 0.14 * e.volume +
             in.rho * s.gas + 0.04 * s.oil;

  // The bench.
  Surroundings outside;
  outside.ambient = room;
  outside.voltage = kind.voltage;
  Plant plant(c, refrigerant);
  Integrator run(plant, plant.at_rest(room, kind.set_point), 1e-4);
  Switches on;
  on.hold_box = on.evaporator_fan = on.condenser_fan = true;
  on.motor = Turning::running;
  const Layout& l = plant.layout();
  Seen seen;
  double sh = 0, sc = 0;
  const int rounds = static_cast<int>(kBench * 60 / kEvery);
  for (int i = 0; i < rounds; ++i) {
    run.set(on, {}, outside);
    if (auto done = run.advance((i + 1) * kEvery); !done) return done.problem();
    seen = run.look();
    const auto& out_of = seen.cells[static_cast<std::size_t>(l.suction - 1)];
    const auto& before = seen.cells[static_cast<std::size_t>(l.drier)];
    sh = out_of.T - r.temperature(out_of.p);
    if (out_of.held != Held::vapour) sh = -8 * (1 - out_of.quality);
    sc = r.temperature(before.p) - before.T;
    if (before.held != Held::liquid) sc = -10 * before.quality;
    const double calm = i < 0.75 * rounds ? 1 : 0.4;
    on.bore_factor *= std::exp(std::clamp(calm * 0.0012 * (sh - superheat), -0.012, 0.012));
    on.feed = c.charge * std::clamp(calm * 1.5e-5 * (subcooling - sc), -1.2e-4, 1.2e-4);
    if (i == rounds - 1) on.feed = 0;
  }
  c.tube.bore *= on.bore_factor;
  c.charge += run.state()[static_cast<std::size_t>(l.fed_mass)];
  c.design_flow = seen.compressor.flow;
  c.design_suction = seen.cells.back().p;
  c.design_head = seen.cells.front().p;
  m.design_current = seen.compressor.current;
  m.design_shaft = seen.compressor.shaft;
  out.design_ambient = room;
  out.set_point = kind.set_point;
  out.td = kind.set_point - r.temperature(seen.cells[static_cast<std::size_t>(l.suction - 1)].p);
  out.split = r.temperature(seen.cells[static_cast<std::size_t>(1 + l.condenser / 2)].p) - room;
  out.superheat = sh;
  out.subcooling = sc;
  out.capacity = seen.evaporator_heat;
  const double printed = c.charge * (1 + 0.02 * d.random.normal());
  out.plate_charge =
      printed > 0.06 ? std::round(printed / 0.005) * 0.005 : std::round(printed / 0.001) * 0.001;
  if (!(std::abs(sh - superheat) < 3 && std::abs(sc - subcooling) < 3 && out.td > 2 && out.td < 25))
    return Problem{"design", kind.id, "superheat and subcooling near what was wanted",
                   "the bench did not settle there"};
  return out;
}

}  // namespace coldwright::lab

#include "lab/plant.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "lab/rates.hpp"

namespace coldwright::lab {

namespace {

constexpr double kLeastFlow = 1e-9;  // kg/s through a capillary long at rest

double day_wave(double time) { return std::sin(2 * std::numbers::pi * time / 86400); }

}  // namespace

double saturated_moisture(double T, double pressure) {
  const double C = T - 273.15;
  const double p =
      C < 0 ? 611.21 * std::exp(22.587 * C / (273.86 + C)) : 610.94 * std::exp(17.625 * C / (243.04 + C));
  return 0.62198 * p / (pressure - p);
}

double air_taken_by_frost(double thick) { return 1 - 1 / (1 + thick * thick * (1 + thick)); }

double dissolved_at(double r) {
  // r = phi exp((1 - phi) + chi (1 - phi)^2) [flory1942] with chi 0.6, our estimate; phi taken as the mass
  // share of liquid refrigerant corrected for its density, half the oil's.
  r = std::clamp(r, 0.0, 0.97);
  double low = 0, high = 1;
  for (int i = 0; i < 30; ++i) {
    const double phi = 0.5 * (low + high), rest = 1 - phi;
    (phi * std::exp(rest + 0.6 * rest * rest) < r ? low : high) = phi;
  }
  const double phi = 0.5 * (low + high);
  return std::min(0.55 * phi / (1 - phi), 1.2);
}

Layout::Layout(const Cabinet& c, bool with_gas) {
  condenser = c.condenser.cells;
  evaporator = c.evaporator.cells;
  drier = condenser + 1;  // 0 is the plenum
  first_evaporator = drier + 1;
  suction = first_evaporator + evaporator;
  shell_gas = suction + 2;
  cells = shell_gas + 1;
  gas = with_gas;
  int next = 2 * cells;
  const auto take = [&next](int n) {
    const int at = next;
    next += n;
    return at;
  };
  gas_at = take(with_gas ? cells : 0);
  metal_at = take(cells - 1);
  for (int* one : {&body, &dissolved, &tube_flow, &air, &wall, &product, &moisture}) *one = take(1);
  frost_at = take(evaporator);
  for (int* one : {&plug, &sensor, &overload, &electricity, &from_room, &gone_mass, &gone_energy, &fed_mass,
                   &fed_energy, &held})
    *one = take(1);
  size = next;
}

Plant::Plant(Cabinet cabinet, std::shared_ptr<const Refrigerant> refrigerant)
    : cabinet_(std::move(cabinet)),
      refrigerant_(std::move(refrigerant)),
      layout_(cabinet_, cabinet_.foreign_gas > 0) {
  const Layout& l = layout_;
  const Cabinet& c = cabinet_;
  volumes_.resize(static_cast<std::size_t>(l.cells));
  resistances_.resize(static_cast<std::size_t>(l.cells));
  near_.assign(static_cast<std::size_t>(l.cells), 290.0);
  const Refrigerant& r = *refrigerant_;
  const double rho_head = r.saturated(r.temperature(c.design_head)).rho_v;
  const double rho_suction = r.saturated(r.temperature(c.design_suction)).rho_v;
  const double square = c.design_flow * c.design_flow;
  for (int i = 0; i < l.cells; ++i) {
    double v = c.shell.gas, drop = c.lines.suction_drop / 3, rho = rho_suction;
    if (i == 0) {
      v = c.shell.plenum, drop = 0.4 * c.condenser.pressure_drop / l.condenser, rho = rho_head;
    } else if (i <= l.condenser) {
      v = c.condenser.volume / l.condenser, drop = c.condenser.pressure_drop / l.condenser, rho = rho_head;
    } else if (i == l.drier) {
      v = c.lines.drier;
    } else if (i < l.suction) {
      v = c.evaporator.volume / l.evaporator, drop = c.evaporator.pressure_drop / l.evaporator;
    } else if (i < l.shell_gas) {
      v = c.lines.suction / 2;
    }
    volumes_[static_cast<std::size_t>(i)] = v;
    resistances_[static_cast<std::size_t>(i)] = drop * rho / square;
  }
  oil_T0_ = 300;
  oil_u0_ = r.saturated(oil_T0_).u_l;
  oil_c_ = r.carrying(oil_T0_).cp_l;
}

double Plant::ambient(double time, const Surroundings& outside) const {
  return outside.ambient + outside.swing * day_wave(time);
}

double Plant::metal_heat(int cell) const {
  const Cabinet& c = cabinet_;
  if (cell == 0) return c.shell.plenum_metal;
  if (cell <= layout_.condenser) return c.condenser.metal / layout_.condenser;
  if (cell == layout_.drier) return c.lines.drier_metal;
  if (cell < layout_.suction) return c.evaporator.metal / layout_.evaporator;
  return c.lines.suction_metal / 2;
}

double Plant::body_temperature(const double* y) const {
  // E = C T + m (u0 + c (T - T0))
  const double m = y[layout_.dissolved];
  return (y[layout_.body] - m * (oil_u0_ - oil_c_ * oil_T0_)) / (cabinet_.shell.heat + m * oil_c_);
}

std::vector<double> Plant::at_rest(double T, double T_box) const {
  const Layout& l = layout_;
  const Refrigerant& r = *refrigerant_;
  std::vector<double> y(static_cast<std::size_t>(l.size), 0.0);
  const auto at = [&y](int i) -> double& { return y[static_cast<std::size_t>(i)]; };
  double space = 0;
  for (double v : volumes_) space += v;
  const Saturated s = r.saturated(T);
  // Dissolved at what pressure there will be; the rest spread evenly.
  const double w =
      std::min(dissolved_at(0.85) * cabinet_.correlations.oil * cabinet_.shell.oil, 0.35 * cabinet_.charge);
  const double free = cabinet_.charge - w;
  const double rho = free / space;
  const double x = std::clamp((1 / rho - 1 / s.rho_l) / (1 / s.rho_v - 1 / s.rho_l), 0.0, 1.0);
  for (int i = 0; i < l.cells; ++i) {
    const double m = rho * volume(i), gas = cabinet_.foreign_gas * volume(i) / space;
    at(2 * i) = m;
    at(2 * i + 1) = m * (s.u_l + x * (s.u_v - s.u_l)) + gas * kGasHeat * T;
    if (l.gas) at(l.gas_at + i) = gas;
    if (i < l.cells - 1) at(l.metal_at + i) = T;
  }
  at(l.dissolved) = w;
  at(l.body) = cabinet_.shell.heat * T + w * (oil_u0_ + oil_c_ * (T - oil_T0_));
  at(l.tube_flow) = std::log(kLeastFlow);
  at(l.air) = at(l.product) = at(l.sensor) = T_box;
  at(l.wall) = 0.7 * T_box + 0.3 * T;
  at(l.moisture) = 0.5 * saturated_moisture(T_box, 101325) * air_density(T_box, 101325) * cabinet_.box.volume;
  at(l.overload) = 0;
  return y;
}

std::vector<double> Plant::tolerances() const {
  const Layout& l = layout_;
  std::vector<double> t(static_cast<std::size_t>(l.size), 1e-3);
  const auto at = [&t](int i) -> double& { return t[static_cast<std::size_t>(i)]; };
  for (int i = 0; i < l.cells; ++i) {
    at(2 * i) = 1e-4 * cabinet_.charge / l.cells;
    at(2 * i + 1) = at(2 * i) * 3e5;
    if (l.gas) at(l.gas_at + i) = 1e-4 * std::max(cabinet_.foreign_gas, 1e-5) / l.cells;
  }
  for (int i = 0; i < l.evaporator; ++i) at(l.frost_at + i) = 1e-5;
  at(l.body) = 5;
  at(l.dissolved) = 1e-6;
  at(l.moisture) = 1e-6;
  at(l.plug) = 1e-4;
  at(l.electricity) = at(l.from_room) = at(l.gone_energy) = at(l.fed_energy) = at(l.held) = 10;
  at(l.gone_mass) = at(l.fed_mass) = 1e-6;
  return t;
}

Balance Plant::balance(const double* y) const {
  const Layout& l = layout_;
  Balance b{};
  const Cabinet& c = cabinet_;
  for (int i = 0; i < l.cells; ++i) {
    b.mass += y[2 * i];
    b.energy += y[2 * i + 1];
  }
  b.mass += y[l.dissolved] + y[l.gone_mass] - y[l.fed_mass];
  b.mass_scale = c.charge;
  for (int i = 0; i < l.cells - 1; ++i) b.energy += metal_heat(i) * y[l.metal_at + i];
  b.energy += y[l.body] + c.box.air * y[l.air] + c.box.wall * y[l.wall] + c.box.product * y[l.product];
  b.energy += kVapourHeat * y[l.moisture];
  for (int i = 0; i < l.evaporator; ++i) b.energy -= kIceHeat * y[l.frost_at + i];
  b.energy -= y[l.electricity] + y[l.from_room] + y[l.held] + y[l.fed_energy] - y[l.gone_energy];
  b.energy_scale = std::max({std::abs(y[l.electricity]), std::abs(y[l.from_room]), 1.0});
  return b;
}

bool Plant::derivatives(double time, const double* y, const Switches& switches, const Condition& condition,
                        const Surroundings& outside, double* dy, Seen* seen, bool learn) const {
  const Moment moment{time, switches, condition, outside};
  Rates rates(*this, moment, y, dy);
  if (!rates.fill(learn)) return false;
  if (seen) *seen = rates.seen();
  return true;
}

}  // namespace coldwright::lab

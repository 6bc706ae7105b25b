#include "lab/plant.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace coldwright::lab {

namespace {

constexpr double kVapourHeat = 2.5e6, kIceHeat = 3.34e5;  // J/kg of water, from memory
constexpr double kFreezing = 273.15;
constexpr double kAirHeat = 1006;  // J/(kg K)
constexpr double kTubeTau = 1.0;   // s in which the capillary's flow follows
constexpr double kLeastFlow = 1e-9;

double air_density(double T, double pressure) { return pressure / (kGasConstant * T); }

// Flow from a difference of pressure: square root, linear within some hundred pascals of none.
double root_flow(double dp, double rho, double resistance) {
  constexpr double soft = 500;
  return std::sqrt(rho / resistance) * dp / std::pow(dp * dp + soft * soft, 0.25);
}

double day_wave(double time) { return std::sin(2 * std::numbers::pi * time / 86400); }

}  // namespace

double saturated_moisture(double T, double pressure) {
  const double C = T - 273.15;
  const double p =
      C < 0 ? 611.21 * std::exp(22.587 * C / (273.86 + C)) : 610.94 * std::exp(17.625 * C / (243.04 + C));
  return 0.62198 * p / (pressure - p);
}

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

std::vector<std::vector<int>> Plant::touched() const {
  const Layout& l = layout_;
  std::vector<std::vector<int>> rows(static_cast<std::size_t>(l.size));
  const auto own = [&](int cell) {
    std::vector<int> states{2 * cell, 2 * cell + 1};
    if (l.gas) states.push_back(l.gas_at + cell);
    if (cell < l.cells - 1) states.push_back(l.metal_at + cell);
    return states;
  };
  const auto touch = [&](int from, int to) {
    auto& of = rows[static_cast<std::size_t>(from)];
    if (std::find(of.begin(), of.end(), to) == of.end()) of.push_back(to);
  };
  const auto couple = [&](const std::vector<int>& a, const std::vector<int>& b) {
    for (int i : a)
      for (int j : b) touch(i, j), touch(j, i);
  };
  for (int i = 0; i < l.cells; ++i)
    for (int j = i; j <= std::min(i + 1, l.cells - 1); ++j) couple(own(i), own(j));
  couple(own(0), own(l.shell_gas));
  for (int i : {l.drier, l.first_evaporator, l.suction, l.suction + 1}) couple(own(i), {l.tube_flow});
  couple(own(l.drier), own(l.suction)), couple(own(l.drier), own(l.suction + 1));
  couple(own(l.shell_gas), {l.body, l.dissolved});
  couple(own(0), {l.body});
  for (int i = 0; i < l.evaporator; ++i)
    couple({l.metal_at + l.first_evaporator + i}, {l.frost_at + i, l.air, l.moisture});
  for (int i = 0; i < l.size; ++i) touch(i, i);
  return rows;
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
  const auto metal = [&](int i) {
    if (i == 0) return c.shell.plenum_metal;
    if (i <= l.condenser) return c.condenser.metal / l.condenser;
    if (i == l.drier) return c.lines.drier_metal;
    if (i < l.suction) return c.evaporator.metal / l.evaporator;
    return c.lines.suction_metal / 2;
  };
  for (int i = 0; i < l.cells - 1; ++i) b.energy += metal(i) * y[l.metal_at + i];
  b.energy += y[l.body] + c.box.air * y[l.air] + c.box.wall * y[l.wall] + c.box.product * y[l.product];
  b.energy += kVapourHeat * y[l.moisture];
  for (int i = 0; i < l.evaporator; ++i) b.energy -= kIceHeat * y[l.frost_at + i];
  b.energy -= y[l.electricity] + y[l.from_room] + y[l.held] + y[l.fed_energy] - y[l.gone_energy];
  b.energy_scale = std::max({std::abs(y[l.electricity]), std::abs(y[l.from_room]), 1.0});
  return b;
}

// The refrigerant's way round: what each junction carries.
struct Plant::Flows {
  std::vector<double> mass, energy, gas;  // out of cell i into the next; the last is the compressor's own
};

bool Plant::derivatives(double time, const double* y, const Switches& on, const Condition& is,
                        const Surroundings& outside, double* dy, Seen* seen, bool learn) const {
  const Layout& l = layout_;
  const Cabinet& c = cabinet_;
  const Refrigerant& r = *refrigerant_;
  const Correlations& with = c.correlations;
  std::fill(dy, dy + l.size, 0.0);
  const double T_room = ambient(time, outside);
  constexpr int kMost = 48;
  std::array<Content, kMost> cell;
  std::array<double, kMost> gas{};
  if (l.cells > kMost) return false;
  for (int i = 0; i < l.cells; ++i) {
    const auto k = static_cast<std::size_t>(i);
    if (!(y[2 * i] > 1e-12) || !std::isfinite(y[2 * i + 1])) return false;
    gas[k] = l.gas ? std::max(y[l.gas_at + i], 0.0) : 0;
    cell[k] = r.content(y[2 * i], y[2 * i + 1], gas[k], volumes_[k], near_[k]);
    if (learn) near_[k] = cell[k].T;
    if (!std::isfinite(cell[k].p)) return false;
  }
  const auto at = [&](int i) -> const Content& { return cell[static_cast<std::size_t>(i)]; };
  const double* metal = y + l.metal_at;
  double* d_metal = dy + l.metal_at;
  const double T_body = body_temperature(y);

  // Between cells: by pressure, upstream's content, vapour running ahead of liquid.
  std::array<double, kMost> flow{};
  const auto move = [&](int from, int to, double m, double h, double with_gas) {
    dy[2 * from] -= m;
    dy[2 * to] += m;
    dy[2 * from + 1] -= m * h;
    dy[2 * to + 1] += m * h;
    if (l.gas && with_gas != 0) {
      const double T = at(from).T;
      dy[l.gas_at + from] -= with_gas;
      dy[l.gas_at + to] += with_gas;
      // its enthalpy goes along
      dy[2 * from + 1] -= with_gas * (kGasHeat + kGasConstant) * T;
      dy[2 * to + 1] += with_gas * (kGasHeat + kGasConstant) * T;
    }
  };
  const auto gas_per_vapour = [&](int i) {
    if (!l.gas) return 0.0;
    const Content& s = at(i);
    const double vapour = std::max(s.held == Held::vapour ? y[2 * i] : s.quality * y[2 * i], 1e-3 * y[2 * i]);
    return gas[static_cast<std::size_t>(i)] / vapour;
  };
  const auto bore_of = [&](int i) {
    if (i <= l.drier) return c.condenser.bore;
    return i < l.suction ? c.evaporator.bore : c.lines.suction_bore;
  };
  for (int i = 0; i + 1 < l.cells; ++i) {
    if (i == l.drier) continue;  // the capillary
    const double dp = at(i).p - at(i + 1).p;
    const int up = dp >= 0 ? i : i + 1, down = dp >= 0 ? i + 1 : i;
    const Content& s = at(up);
    const double rho = y[2 * up] / volumes_[static_cast<std::size_t>(up)];
    // Of two phases the lighter one makes the drop: density of what flows.
    double x = s.held == Held::liquid ? 0.0 : s.quality;
    double rho_flow = rho;
    const double bore = bore_of(up);
    if (s.held == Held::two_phase) {
      const double flux = c.design_flow / (std::numbers::pi / 4 * bore * bore);
      x = flowing_quality(with, s.at, r.carrying(s.T), s.quality, 0.6 * flux, bore);
      rho_flow = 1 / (x / s.at.rho_v + (1 - x) / s.at.rho_l);
    }
    const double m = root_flow(std::abs(dp), rho_flow, resistances_[static_cast<std::size_t>(i)]);
    const double h = s.h_l + x * (s.h_v - s.h_l);
    move(up, down, m, s.held == Held::vapour ? s.h_v : h, m * x * gas_per_vapour(up));
    flow[static_cast<std::size_t>(i)] = dp >= 0 ? m : -m;
  }

  // The capillary takes liquid while any covers its inlet.
  const Content& before = at(l.drier);
  const Content& after = at(l.first_evaporator);
  const double tube_flow = std::exp(y[l.tube_flow]);
  const double closed = (1 - is.capillary_open) + is.capillary_open * std::clamp(y[l.plug], 0.0, 1.0);
  Tube tube = c.tube;
  tube.bore *= on.bore_factor * std::pow(std::max(1 - closed, 1e-4), 1 / 2.6);
  double x_in = before.held == Held::vapour ? 1 : before.held == Held::liquid ? 0 : before.quality;
  if (before.held == Held::two_phase) {
    const double standing = before.quality / std::max(1 - before.quality, 1e-9);
    const double covered = std::exp(-(1 - before.open) / 0.06);
    x_in = covered * standing / (1 + covered * standing);
    const double run_dry = before.quality;
    x_in = std::max(x_in, std::min(run_dry, x_in));
  }
  const double h_in =
      before.held == Held::vapour ? before.h_v : before.h_l + x_in * (before.h_v - before.h_l);
  double heat = 0;
  {
    const double capacity = tube_flow * r.carrying(before.T).cp_l;
    double T_tube = before.T;
    const double half = 0.5 * c.lines.exchange * with.exchange;
    const double part = 1 - std::exp(-half / std::max(capacity, 1e-9));
    for (int i = l.suction + 1; i >= l.suction; --i) {
      const double q = capacity * part * std::max(T_tube - metal[i], 0.0);
      T_tube -= q / std::max(capacity, 1e-12);
      d_metal[i] += q / (c.lines.suction_metal / 2);
      heat += q;
    }
  }
  {
    // Foreign gas is carried, but flashing is the refrigerant's own affair.
    const bool wet = before.held == Held::liquid || x_in < 1e-3;
    const double T_in = before.T;
    const double p_in = before.p;
    // Near equal pressures the difference is rounded off, within some hundred pascals: no switch to flutter
    // at.
    constexpr double soft = 100;
    const double dp = p_in - after.p;
    const double eased = dp > 30 * soft ? dp : soft * std::log1p(std::exp(std::max(dp / soft, -12.0)));
    const double length = length_for(r, with, tube, {p_in, T_in, h_in, wet}, p_in - eased, tube_flow, heat);
    dy[l.tube_flow] = std::clamp(0.5 * std::log(std::max(length, 1e-9) / tube.length), -3.0, 3.0) / kTubeTau;
    const double with_gas = tube_flow * x_in * gas_per_vapour(l.drier);
    move(l.drier, l.first_evaporator, tube_flow, h_in, with_gas);
    dy[2 * l.first_evaporator + 1] -= heat;
  }

  // Compressor.
  Running work;
  const Content& shell = at(l.shell_gas);
  const Content& plenum = at(0);
  {
    const double rho = y[2 * l.shell_gas] / volumes_[static_cast<std::size_t>(l.shell_gas)];
    double k = 1.12;
    if (shell.held == Held::vapour) k = r.vapour(rho, shell.at.u_v).k;
    const double volts = outside.voltage * is.voltage;
    const Ports ports{&r,
                      shell.p,
                      shell.T,
                      shell.h_v,
                      shell.held == Held::vapour ? rho : shell.at.rho_v,
                      k,
                      plenum.p,
                      y[0] / volumes_[0],
                      T_body,
                      volts};
    if (on.motor == Turning::running) work = run(c.pump, c.motor, c, is, ports);
    if (on.motor == Turning::locked) work = stand_locked(c.motor, ports);
    const double m = work.flow;
    const double carried = m * gas_per_vapour(l.shell_gas);
    dy[2 * l.shell_gas] -= m;
    dy[2 * l.shell_gas + 1] -= m * shell.h_v;
    dy[0] += m;
    dy[1] += m * work.h_out;
    if (carried > 0) {
      dy[l.gas_at + l.shell_gas] -= carried;
      dy[l.gas_at] += carried;
      dy[2 * l.shell_gas + 1] -= carried * (kGasHeat + kGasConstant) * shell.T;
      dy[1] += carried * (kGasHeat + kGasConstant) * shell.T;
    }
    dy[2 * l.shell_gas + 1] += work.to_gas;
    // Valves and leaks between the two sides, also at rest: back through a leaking reed, forward through both
    // reeds when the shell stands higher.
    const double design = c.design_head - c.design_suction;
    const double rho_head = r.saturated(r.temperature(c.design_head)).rho_v;
    const double back =
        (0.0008 + is.discharge_leak) * c.design_flow * c.design_flow * (0.0008 + is.discharge_leak);
    const double dp = plenum.p - shell.p;
    if (dp >= 0) {
      const double m_back = root_flow(dp, y[0] / volumes_[0], design * rho_head / back);
      move(0, l.shell_gas, m_back, plenum.h_v, m_back * gas_per_vapour(0));
    } else if (dp < -3000) {
      const double m_on = root_flow(-dp - 3000, rho, design * rho_head / (4 * c.design_flow * c.design_flow));
      move(l.shell_gas, 0, m_on, shell.h_v, m_on * gas_per_vapour(l.shell_gas));
    }
  }
  dy[l.electricity] += work.power;

  // Oil: refrigerant dissolves into it and boils out.
  {
    const double r_oil = (shell.p - shell.p_gas) / r.pressure(T_body);
    const double w = dissolved_at(r_oil) * with.oil * c.shell.oil;
    const double faster = on.motor == Turning::running ? 3 : 1;
    const double m = (w - y[l.dissolved]) / c.shell.oil_tau * faster;
    const double supply = m > 0 ? std::min(1.0, y[2 * l.shell_gas] / (2e-3 * c.shell.gas / 1e-3)) : 1;
    const double h = m > 0 ? shell.h_v : oil_u0_ + oil_c_ * (T_body - oil_T0_) + 3.2e5;  // leaves as vapour
    dy[2 * l.shell_gas] -= m * supply;
    dy[2 * l.shell_gas + 1] -= m * supply * h;
    dy[l.dissolved] += m * supply;
    dy[l.body] += m * supply * h;
  }
  const auto body_gives = [&](double q) { dy[l.body] -= q; };
  {
    const double q_gas = c.shell.to_gas * (T_body - shell.T);
    dy[2 * l.shell_gas + 1] += q_gas;
    const double q_room = c.shell.to_room * (T_body - T_room);
    dy[l.from_room] -= q_room;
    body_gives(q_gas + q_room - work.to_body);
  }

  // Refrigerant to metal. UA from film and the inner area of each cell.
  const auto film_heat = [&](int i, double area, double bore) {
    const Content& s = at(i);
    const double flux_area = std::numbers::pi / 4 * bore * bore;
    const double through = 0.5 * (std::abs(flow[static_cast<std::size_t>(i)]) +
                                  (i > 0 ? std::abs(flow[static_cast<std::size_t>(i - 1)]) : 0.0));
    const double G = std::max(through, 0.01 * c.design_flow) / flux_area;
    const Carrying of = r.carrying(s.T);
    double h = 0;
    const double T_wall = metal[i];
    if (s.held == Held::liquid) {
      h = one_phase(G, bore, of.mu_l, of.k_l, of.cp_l);
    } else if (s.held == Held::vapour) {
      h = one_phase(G, bore, of.mu_v, of.k_v, of.cp_v);
    } else {
      const double x = flowing_quality(with, s.at, of, s.quality, G, bore);
      const double dry = one_phase(G, bore, of.mu_v, of.k_v, of.cp_v);
      if (T_wall > s.T) {
        const double wet = with.boiling * boiling(r, s.at, of, x, G, bore, T_wall - s.T);
        const double t = std::clamp((x - 0.85) / 0.15, 0.0, 1.0);  // the wall dries out
        h = wet + (dry - wet) * t * t * (3 - 2 * t);
      } else {
        h = with.condensing * condensing(r, s.at, of, x, G, bore);
        // A gas that doesn't condense stands before the film: our estimate after its usual size.
        if (s.p_gas > 0) h /= 1 + 6 * s.p_gas / s.p;
      }
    }
    return h * area * (T_wall - s.T);  // into the refrigerant
  };
  const auto exchange = [&](int i, double area, double bore, double metal_heat) {
    const double q = film_heat(i, area, bore);
    dy[2 * i + 1] += q;
    d_metal[i] -= q / metal_heat;
  };
  exchange(0, 4 * c.shell.plenum / 8e-3, 8e-3, c.shell.plenum_metal);
  {
    const double q_body = c.shell.plenum_to_body * (metal[0] - T_body);
    const double q_room = c.shell.plenum_to_room * (metal[0] - T_room);
    d_metal[0] -= (q_body + q_room) / c.shell.plenum_metal;
    body_gives(-q_body);
    dy[l.from_room] -= q_room;
  }
  // Condenser: every cell in its own share of fresh air.
  double condenser_heat = 0;
  const double condenser_share = std::max((on.condenser_fan ? 1.0 : 0.07) * is.condenser_air, 0.02);
  for (int i = 1; i <= l.condenser; ++i) {
    const double n = l.condenser;
    exchange(i, c.condenser.area() / n, c.condenser.bore, c.condenser.metal / n);
    double q;
    const double dT = metal[i] - T_room;
    if (c.condenser.still_air) {
      q = with.air_side * c.condenser.air_conductance / n * is.condenser_surface * is.condenser_air *
          std::pow(std::max(std::abs(dT), 0.1) / c.condenser.design_difference, 0.25) * dT;
    } else {
      const double C = c.condenser.air_capacity * condenser_share / n;
      const double UA = with.air_side * c.condenser.air_conductance / n * is.condenser_surface *
                        std::pow(condenser_share, 0.5);
      q = C * (1 - std::exp(-UA / C)) * dT;
    }
    d_metal[i] -= q / (c.condenser.metal / n);
    dy[l.from_room] -= q;
    condenser_heat += q;
  }
  exchange(l.drier, 4 * c.lines.drier / 6e-3, 6e-3, c.lines.drier_metal);
  {
    const double q = c.lines.drier_to_room * (metal[l.drier] - T_room);
    d_metal[l.drier] -= q / c.lines.drier_metal;
    dy[l.from_room] -= q;
  }
  for (int i = l.suction; i < l.shell_gas; ++i) {
    exchange(i, 2 * c.lines.suction / c.lines.suction_bore, c.lines.suction_bore, c.lines.suction_metal / 2);
    const double q = 0.5 * c.lines.suction_to_room * (metal[i] - T_room);
    d_metal[i] -= q / (c.lines.suction_metal / 2);
    dy[l.from_room] -= q;
  }

  // Evaporator: sensible heat and moisture from the box's air; frost in the way.
  const double T_air = y[l.air];
  const double air_mass = air_density(T_air, outside.site_pressure) * c.box.volume;
  const double humidity = std::max(y[l.moisture], 0.0) / air_mass;
  double frost = 0;
  for (int i = 0; i < l.evaporator; ++i) frost += std::max(y[l.frost_at + i], 0.0);
  const double thick = frost / c.box.frost_full;
  const double frosted = 1 / (1 + thick * thick * (1 + thick));
  const double evaporator_share =
      std::max((on.evaporator_fan ? 1.0 : 0.045) * is.evaporator_air * frosted, 0.012);
  double air_heat = 0, dry_out = 0;
  for (int j = 0; j < l.evaporator; ++j) {
    const int i = l.first_evaporator + j;
    const double n = l.evaporator, m_heat = c.evaporator.metal / n;
    exchange(i, c.evaporator.area() / n, c.evaporator.bore, m_heat);
    const double C = c.evaporator.air_capacity * evaporator_share / n;
    const double UA = with.air_side * c.evaporator.air_conductance / n * std::pow(evaporator_share, 0.4) /
                      (1 + 0.4 * thick);
    const double K = C * (1 - std::exp(-UA / C));
    const double q = K * (T_air - metal[i]);
    air_heat += q;
    double to_metal = q;
    // Chilton and Colburn's analogy, Lewis number to 2/3 as 0.9 [chilton1934]
    const double driving = humidity - saturated_moisture(metal[i], outside.site_pressure);
    const double here = std::max(y[l.frost_at + j], 0.0);
    double water = K / (kAirHeat * 0.9) * driving;
    if (water < 0) water *= std::min(here / 1e-3, 1.0);
    const bool freezes = metal[i] < kFreezing;
    const double ice_share = std::clamp((kFreezing + 0.3 - metal[i]) / 0.6, 0.0, 1.0);
    const double ice = water > 0 ? water * ice_share : water;
    double melt = 0;
    if (!freezes) {
      melt = 0.25 * c.evaporator.air_conductance / n * (metal[i] - kFreezing) / kIceHeat * 4 *
             std::min(here / 5e-3, 1.0);
    }
    dy[l.frost_at + j] += ice - melt;
    dy[l.moisture] -= water;
    dry_out += water;
    to_metal += water * kVapourHeat + (ice - melt) * kIceHeat;
    if (on.heater && !is.defrost_dead) {
      to_metal += c.box.heater / n;
      dy[l.electricity] += c.box.heater / n;
    }
    d_metal[i] += to_metal / m_heat;
  }

  // The box.
  {
    double into_air = -air_heat;
    const double fan = on.evaporator_fan ? c.box.fan : 0;
    const double light = on.lights ? c.box.light : 0;
    dy[l.electricity] += fan + light;
    into_air += fan + light;
    const double through_seals = c.box.leak_exchange * is.load + (on.door_open ? c.box.door_exchange : 0);
    const double carried = through_seals * air_density(T_room, outside.site_pressure);
    const double q_door = carried * kAirHeat * (T_room - T_air);
    const double wet_room = outside.humidity * saturated_moisture(T_room, outside.site_pressure);
    const double water = carried * (wet_room - humidity);
    into_air += q_door;
    dy[l.moisture] += water;
    dy[l.from_room] += q_door + water * kVapourHeat;
    const double q_in = c.box.wall_in * (T_air - y[l.wall]), q_out = c.box.wall_out * (T_room - y[l.wall]);
    dy[l.from_room] += q_out;
    const double q_product = c.box.to_product * (y[l.product] - T_air);
    into_air += q_product - q_in;
    double product = is.warm_product - q_product, wall = q_in + q_out;
    dy[l.from_room] += is.warm_product;
    if (on.hold_box) {
      dy[l.held] -= into_air + product + wall;  // what the bench takes away
      into_air = product = wall = 0;
    }
    dy[l.air] = into_air / c.box.air;
    dy[l.product] = product / c.box.product;
    dy[l.wall] = wall / c.box.wall;
  }

  // Water that goes round with the refrigerant freezes where the capillary ends, and lets go when it is warm.
  if (is.ice_plug > 0) {
    const double T = after.T - kFreezing;
    const double grow = is.ice_plug / 900, thaw = 1.0 / 300;
    dy[l.plug] = T < -1
                     ? grow * std::clamp((-1 - T) / 3, 0.0, 1.0) * std::max(1 - y[l.plug] / is.ice_plug, 0.0)
                     : -thaw * std::clamp((T + 1) / 2, 0.0, 1.0) * std::clamp(y[l.plug] / 0.02, 0.0, 1.0);
  }
  dy[l.sensor] = (T_air - y[l.sensor]) / c.control.sensor_tau;
  {
    const double ratio = work.current / c.motor.design_current;
    const double excess = T_body - (T_room + 40);  // the motor itself warms its overload
    dy[l.overload] = (ratio * ratio * 25 + 0.5 * std::max(excess, 0.0) - y[l.overload]) /
                     (on.motor == Turning::standing ? 2.2 * c.motor.overload_tau : c.motor.overload_tau);
  }
  // A leak at the evaporator's outlet: choked vapour.
  if (is.leak > 0) {
    const Content& s = at(l.suction);
    const double m = is.leak * std::max(s.p - outside.site_pressure, 0.0) / c.design_suction;
    dy[2 * l.suction] -= m;
    dy[2 * l.suction + 1] -= m * s.h_v;
    dy[l.gone_mass] += m;
    dy[l.gone_energy] += m * s.h_v;
  }
  if (on.feed != 0) {
    const double m = on.feed, h = m > 0 ? r.saturated(T_room).h_l()
                                        : before.h_l + before.quality * (before.h_v - before.h_l);
    dy[2 * l.drier] += m;
    dy[2 * l.drier + 1] += m * h;
    dy[l.fed_mass] += m;
    dy[l.fed_energy] += m * h;
  }

  if (seen) {
    seen->cells.assign(cell.begin(), cell.begin() + l.cells);
    seen->compressor = work;
    seen->tube_flow = tube_flow;
    seen->evaporator_heat = air_heat;
    seen->condenser_heat = condenser_heat;
    seen->evaporator_share = evaporator_share;
    seen->condenser_share = condenser_share;
    seen->evaporator_air_out = T_air - air_heat / (c.evaporator.air_capacity * evaporator_share);
    seen->condenser_air_out = T_room + condenser_heat / (c.condenser.air_capacity * condenser_share);
    seen->frost = frost;
    seen->tube_out_h = h_in - heat / tube_flow;
  }
  return true;
}

}  // namespace coldwright::lab

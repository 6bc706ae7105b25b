// The refrigerant's way round, the compressor and its oil.
#include "lab/rates.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace coldwright::lab {

namespace {

constexpr double kTubeTau = 1.0;      // s in which the capillary's flow follows (our estimate)
constexpr double kReedLeak = 0.0008;  // of the design flow through sound reeds at rest (our estimate)
constexpr double kReedOpens = 3000;   // Pa that open both reeds from the shell's side (our estimate)
constexpr double kVapourOverOil =
    3.2e5;  // J/kg that refrigerant takes along when it leaves the oil (our estimate)

// Flow from a difference of pressure: square root, linear within some hundred pascals of none.
double root_flow(double dp, double rho, double resistance) {
  constexpr double soft = 500;
  return std::sqrt(rho / resistance) * dp / std::pow(dp * dp + soft * soft, 0.25);
}

}  // namespace

Rates::Rates(const Plant& plant, const Moment& moment, const double* y, double* dy)
    : plant_(plant),
      now_(moment),
      y_(y),
      dy_(dy),
      l_(plant.layout_),
      c_(plant.cabinet_),
      r_(*plant.refrigerant_),
      metal_(y + l_.metal_at),
      d_metal_(dy + l_.metal_at),
      T_room_(plant.ambient(moment.time, moment.outside)),
      T_body_(plant.body_temperature(y)) {}

bool Rates::fill(bool learn) {
  std::fill(dy_, dy_ + l_.size, 0.0);
  if (!look_into_cells(learn)) return false;
  between_cells();
  capillary();
  compressor();
  oil_and_body();
  muffler_and_lines_to_room(0);
  condenser();
  for (int i : {l_.drier, l_.suction, l_.suction + 1}) muffler_and_lines_to_room(i);
  evaporator();
  box();
  control_and_plug();
  leak_and_feed();
  return true;
}

bool Rates::look_into_cells(bool learn) {
  if (l_.cells > kMostCells) return false;
  for (int i = 0; i < l_.cells; ++i) {
    const auto k = static_cast<std::size_t>(i);
    if (!(y_[2 * i] > 1e-12) || !std::isfinite(y_[2 * i + 1])) return false;
    gas_[k] = l_.gas ? std::max(y_[l_.gas_at + i], 0.0) : 0;
    cells_[k] = r_.content(y_[2 * i], y_[2 * i + 1], gas_[k], volume(i), plant_.near_[k]);
    if (learn) plant_.near_[k] = cells_[k].T;
    if (!std::isfinite(cells_[k].p)) return false;
  }
  return true;
}

double Rates::bore(int cell) const {
  if (cell <= l_.drier) return c_.condenser.bore;
  return cell < l_.suction ? c_.evaporator.bore : c_.lines.suction_bore;
}

// Mass with its enthalpy, and the foreign gas that goes along with its own.
void Rates::move(int from, int to, double mass, double h, double gas) {
  dy_[2 * from] -= mass;
  dy_[2 * to] += mass;
  dy_[2 * from + 1] -= mass * h;
  dy_[2 * to + 1] += mass * h;
  if (!l_.gas || gas == 0) return;
  const double carried = gas * (kGasHeat + kGasConstant) * at(from).T;
  dy_[l_.gas_at + from] -= gas;
  dy_[l_.gas_at + to] += gas;
  dy_[2 * from + 1] -= carried;
  dy_[2 * to + 1] += carried;
}

double Rates::gas_per_vapour(int cell) const {
  if (!l_.gas) return 0;
  const double mass = y_[2 * cell];
  const double vapour = at(cell).held == Held::vapour ? mass : at(cell).quality * mass;
  return gas_[static_cast<std::size_t>(cell)] / std::max(vapour, 1e-3 * mass);
}

// By pressure, upstream's content, vapour running ahead of liquid.
void Rates::between_cells() {
  for (int i = 0; i + 1 < l_.cells; ++i) {
    if (i == l_.drier) continue;  // the capillary
    const double dp = at(i).p - at(i + 1).p;
    const int up = dp >= 0 ? i : i + 1, down = dp >= 0 ? i + 1 : i;
    const Content& s = at(up);
    double x = s.held == Held::liquid ? 0.0 : s.quality, rho = density(up);
    if (s.held == Held::two_phase) {
      const double flux = c_.design_flow / (std::numbers::pi / 4 * bore(up) * bore(up));
      x = flowing_quality(c_.correlations, s.at, r_.carrying(s.T), s.quality, 0.6 * flux, bore(up));
      rho = 1 / (x / s.at.rho_v + (1 - x) / s.at.rho_l);  // of what flows
    }
    const double m = root_flow(std::abs(dp), rho, plant_.resistances_[static_cast<std::size_t>(i)]);
    const double h = s.held == Held::vapour ? s.h_v : s.h_l + x * (s.h_v - s.h_l);
    move(up, down, m, h, m * x * gas_per_vapour(up));
    flow_[static_cast<std::size_t>(i)] = dp >= 0 ? m : -m;
  }
}

// What the capillary gives to the suction line along the contact, warm end first.
double Rates::heat_to_suction_line() {
  const double capacity = tube_flow_ * r_.carrying(at(l_.drier).T).cp_l;
  const double half = 0.5 * c_.lines.exchange * c_.correlations.exchange;
  const double part = 1 - std::exp(-half / std::max(capacity, 1e-9));
  double T_tube = at(l_.drier).T, heat = 0;
  for (int i = l_.suction + 1; i >= l_.suction; --i) {
    const double q = capacity * part * std::max(T_tube - metal_[i], 0.0);
    T_tube -= q / std::max(capacity, 1e-12);
    warm_metal(i, q);
    heat += q;
  }
  return heat;
}

void Rates::capillary() {
  const Content &before = at(l_.drier), &after = at(l_.first_evaporator);
  tube_flow_ = std::exp(y_[l_.tube_flow]);
  const double open = now_.is.capillary_open;
  const double closed = (1 - open) + open * std::clamp(y_[l_.plug], 0.0, 1.0);
  Tube tube = c_.tube;
  tube.bore *=
      now_.on.bore_factor * std::pow(std::max(1 - closed, 1e-4), 1 / 2.6);  // flow goes with bore^2.6
  // It takes liquid while any covers its inlet.
  double x = before.held == Held::vapour ? 1 : 0;
  if (before.held == Held::two_phase) {
    const double standing = before.quality / std::max(1 - before.quality, 1e-9);
    const double uncovered = std::exp(-(1 - before.open) / 0.06);  // our estimate
    x = uncovered * standing / (1 + uncovered * standing);
  }
  const double h = before.held == Held::vapour ? before.h_v : before.h_l + x * (before.h_v - before.h_l);
  const double heat = heat_to_suction_line();
  // Flashing is late only where no bubbles come in; in between both are weighed.
  const double late = before.held == Held::liquid ? 1 : before.held == Held::vapour ? 0 : std::exp(-x / 0.01);
  // Near equal pressures the difference is rounded off, within some hundred pascals: no switch to flutter at.
  constexpr double soft = 100;
  const double dp = before.p - after.p;
  const double eased = dp > 30 * soft ? dp : soft * std::log1p(std::exp(std::max(dp / soft, -12.0)));
  const auto needed = [&](bool liquid) {
    return length_for(r_, c_.correlations, tube, {before.p, before.T, h, liquid}, before.p - eased,
                      tube_flow_, heat);
  };
  const double length = (late > 1e-6 ? late * needed(true) : 0) + (late < 1 ? (1 - late) * needed(false) : 0);
  dy_[l_.tube_flow] = std::clamp(0.5 * std::log(std::max(length, 1e-9) / tube.length), -3.0, 3.0) / kTubeTau;
  move(l_.drier, l_.first_evaporator, tube_flow_, h, tube_flow_ * x * gas_per_vapour(l_.drier));
  dy_[2 * l_.first_evaporator + 1] -= heat;
  tube_out_h_ = h - heat / tube_flow_;
}

void Rates::compressor() {
  const Content &shell = at(l_.shell_gas), &plenum = at(0);
  const double rho = density(l_.shell_gas);
  const bool dry = shell.held == Held::vapour;
  const Ports ports{&r_,
                    shell.p,
                    shell.T,
                    shell.h_v,
                    dry ? rho : shell.at.rho_v,
                    dry ? r_.vapour(rho, shell.at.u_v).k : 1.12,
                    plenum.p,
                    density(0),
                    T_body_,
                    now_.outside.voltage * now_.is.voltage};
  if (now_.on.motor == Turning::running) work_ = run(c_.pump, c_.motor, c_, now_.is, ports);
  if (now_.on.motor == Turning::locked) work_ = stand_locked(c_.motor, ports);
  move(l_.shell_gas, 0, work_.flow, shell.h_v, work_.flow * gas_per_vapour(l_.shell_gas));
  dy_[1] += work_.flow * (work_.h_out - shell.h_v);
  dy_[2 * l_.shell_gas + 1] += work_.to_gas;
  dy_[l_.electricity] += work_.power;
  between_sides(rho);
}

// Also at rest: back through a leaking reed, forward through both reeds when the shell stands higher.
void Rates::between_sides(double rho_shell) {
  const double design = c_.design_head - c_.design_suction;
  const double rho_head = r_.saturated(r_.temperature(c_.design_head)).rho_v;
  const double dp = at(0).p - at(l_.shell_gas).p;
  if (dp >= 0) {
    const double leak = (kReedLeak + now_.is.discharge_leak) * c_.design_flow;
    const double m = root_flow(dp, density(0), design * rho_head / (leak * leak));
    move(0, l_.shell_gas, m, at(0).h_v, m * gas_per_vapour(0));
  } else if (dp < -kReedOpens) {
    const double wide = 2 * c_.design_flow;
    const double m = root_flow(-dp - kReedOpens, rho_shell, design * rho_head / (wide * wide));
    move(l_.shell_gas, 0, m, at(l_.shell_gas).h_v, m * gas_per_vapour(l_.shell_gas));
  }
}

// Refrigerant dissolves in the oil and boils out of it; the body warms gas and room.
void Rates::oil_and_body() {
  const Content& shell = at(l_.shell_gas);
  const double r = (shell.p - shell.p_gas) / r_.pressure(T_body_);
  const double wanted = dissolved_at(r) * c_.correlations.oil * c_.shell.oil;
  const double stirred = now_.on.motor == Turning::running ? 3 : 1;
  double m = (wanted - y_[l_.dissolved]) / c_.shell.oil_tau * stirred;
  double h = plant_.oil_u0_ + plant_.oil_c_ * (T_body_ - plant_.oil_T0_) + kVapourOverOil;
  if (m > 0) {
    m *= std::min(1.0, y_[2 * l_.shell_gas] / (2 * c_.shell.gas));  // no more than the gas there can give
    h = shell.h_v;
  }
  const double q_gas = c_.shell.to_gas * (T_body_ - shell.T);
  const double q_room = c_.shell.to_room * (T_body_ - T_room_);
  dy_[2 * l_.shell_gas] -= m;
  dy_[2 * l_.shell_gas + 1] += q_gas - m * h;
  dy_[l_.dissolved] += m;
  dy_[l_.body] += m * h + work_.to_body - q_gas - q_room;
  to_room(q_room);
}

void Rates::control_and_plug() {
  // Water that goes round with the refrigerant freezes where the capillary ends, and lets go when it is warm.
  if (now_.is.ice_plug > 0) {
    const double C = at(l_.first_evaporator).T - 273.15, plug = y_[l_.plug];
    dy_[l_.plug] = C < -1
                       ? now_.is.ice_plug / 900 * std::clamp((-1 - C) / 3, 0.0, 1.0) *
                             std::max(1 - plug / now_.is.ice_plug, 0.0)
                       : -1.0 / 300 * std::clamp((C + 1) / 2, 0.0, 1.0) * std::clamp(plug / 0.02, 0.0, 1.0);
  }
  dy_[l_.sensor] = (y_[l_.air] - y_[l_.sensor]) / c_.control.sensor_tau;
  // The overload's strip: 25 K above its surroundings at the design current, warmed by the motor too.
  const double ratio = work_.current / c_.motor.design_current;
  const double warm = std::max(T_body_ - (T_room_ + 40), 0.0);
  dy_[l_.overload] =
      (ratio * ratio * 25 + 0.5 * warm - y_[l_.overload]) /
      (now_.on.motor == Turning::standing ? 2.2 * c_.motor.overload_tau : c_.motor.overload_tau);
}

void Rates::leak_and_feed() {
  if (now_.is.leak > 0) {  // vapour at the evaporator's outlet
    const Content& s = at(l_.suction);
    const double m = now_.is.leak * std::max(s.p - now_.outside.site_pressure, 0.0) / c_.design_suction;
    dy_[2 * l_.suction] -= m;
    dy_[2 * l_.suction + 1] -= m * s.h_v;
    dy_[l_.gone_mass] += m;
    dy_[l_.gone_energy] += m * s.h_v;
  }
  if (const double m = now_.on.feed; m != 0) {
    const Content& s = at(l_.drier);
    const double h = m > 0 ? r_.saturated(T_room_).h_l() : s.h_l + s.quality * (s.h_v - s.h_l);
    dy_[2 * l_.drier] += m;
    dy_[2 * l_.drier + 1] += m * h;
    dy_[l_.fed_mass] += m;
    dy_[l_.fed_energy] += m * h;
  }
}

Seen Rates::seen() const {
  Seen seen;
  seen.cells.assign(cells_.begin(), cells_.begin() + l_.cells);
  seen.compressor = work_;
  seen.tube_flow = tube_flow_;
  seen.tube_out_h = tube_out_h_;
  seen.evaporator_heat = air_heat_;
  seen.condenser_heat = condenser_heat_;
  seen.evaporator_share = evaporator_share_;
  seen.condenser_share = condenser_share_;
  seen.evaporator_air_out = y_[l_.air] - air_heat_ / (c_.evaporator.air_capacity * evaporator_share_);
  seen.condenser_air_out = T_room_ + condenser_heat_ / (c_.condenser.air_capacity * condenser_share_);
  seen.frost = frost_;
  return seen;
}

}  // namespace coldwright::lab

// Metal, air, moisture and the box.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "lab/rates.hpp"

namespace coldwright::lab {

namespace {

constexpr double kFreezing = 273.15;
constexpr double kAirHeat = 1006;                                   // J/(kg K), from memory
constexpr double kStillCondenser = 0.07, kStillEvaporator = 0.045;  // of the air without a fan, our estimate

}  // namespace

// Heat from the metal into the refrigerant.
double Rates::film(int cell, double area, double bore) const {
  const Content& s = at(cell);
  const Correlations& with = c_.correlations;
  const auto k = static_cast<std::size_t>(cell);
  const double through = 0.5 * (std::abs(flow_[k]) + (cell > 0 ? std::abs(flow_[k - 1]) : 0.0));
  const double G = std::max(through, 0.01 * c_.design_flow) / (std::numbers::pi / 4 * bore * bore);
  const Carrying of = r_.carrying(s.T);
  const double warmer = metal_[cell] - s.T;
  double h = 0;
  if (s.held == Held::liquid) {
    h = one_phase(G, bore, of.mu_l, of.k_l, of.cp_l);
  } else if (s.held == Held::vapour) {
    h = one_phase(G, bore, of.mu_v, of.k_v, of.cp_v);
  } else {
    const double x = flowing_quality(with, s.at, of, s.quality, G, bore);
    if (warmer > 0) {
      const double wet = with.boiling * boiling(r_, s.at, of, x, G, bore, warmer);
      const double dry = one_phase(G, bore, of.mu_v, of.k_v, of.cp_v);
      const double t = std::clamp((x - 0.85) / 0.15, 0.0, 1.0);  // the wall dries out (our estimate)
      h = wet + (dry - wet) * t * t * (3 - 2 * t);
    } else {
      h = with.condensing * condensing(r_, s.at, of, x, G, bore);
      // A gas that doesn't condense stands before the film: our estimate after its usual size.
      if (s.p_gas > 0) h /= 1 + 6 * s.p_gas / s.p;
    }
  }
  return h * area * warmer;
}

void Rates::exchange(int cell, double area, double bore) {
  const double q = film(cell, area, bore);
  dy_[2 * cell + 1] += q;
  warm_metal(cell, -q);
}

// The muffler with the discharge line, the drier with the liquid line, the suction line.
void Rates::muffler_and_lines_to_room(int cell) {
  const Shell& shell = c_.shell;
  const Lines& lines = c_.lines;
  constexpr double muffler_bore = 8e-3, liquid_bore = 6e-3;  // m, our estimate
  double area = 4 * shell.plenum / muffler_bore, bore = muffler_bore, conductance = shell.plenum_to_room;
  if (cell == l_.drier) {
    area = 4 * lines.drier / liquid_bore, bore = liquid_bore, conductance = lines.drier_to_room;
  } else if (cell > l_.drier) {
    area = 2 * lines.suction / lines.suction_bore, bore = lines.suction_bore;
    conductance = 0.5 * lines.suction_to_room;
  }
  exchange(cell, area, bore);
  const double q_room = conductance * (metal_[cell] - T_room_);
  warm_metal(cell, -q_room);
  to_room(q_room);
  if (cell != 0) return;
  const double q_body = shell.plenum_to_body * (metal_[0] - T_body_);
  warm_metal(0, -q_body);
  dy_[l_.body] += q_body;
}

// Every cell in its own share of fresh air.
void Rates::condenser() {
  const Coil& coil = c_.condenser;
  const Condition& is = now_.is;
  condenser_share_ = std::max((now_.on.condenser_fan ? 1.0 : kStillCondenser) * is.condenser_air, 0.02);
  const double n = l_.condenser;
  const double conductance = c_.correlations.air_side * coil.air_conductance / n * is.condenser_surface;
  for (int i = 1; i <= l_.condenser; ++i) {
    exchange(i, coil.area() / n, coil.bore);
    const double dT = metal_[i] - T_room_;
    double q = 0;
    if (coil.still_air) {
      q = conductance * is.condenser_air *
          std::pow(std::max(std::abs(dT), 0.1) / coil.design_difference, 0.25) * dT;
    } else {
      const double C = coil.air_capacity * condenser_share_ / n;
      q = C * (1 - std::exp(-conductance * std::sqrt(condenser_share_) / C)) * dT;
    }
    warm_metal(i, -q);
    to_room(q);
    condenser_heat_ += q;
  }
}

// Heat and moisture from the box's air to one cell's metal; gives the sensible part.
double Rates::evaporator_cell(int j, double conductance, double humidity) {
  const int i = l_.first_evaporator + j;
  const double T = metal_[i], frost = std::max(y_[l_.frost_at + j], 0.0), n = l_.evaporator;
  const double q = conductance * (y_[l_.air] - T);
  // Chilton and Colburn's analogy, Lewis number to 2/3 as 0.9 [chilton1934]
  double water =
      conductance / (kAirHeat * 0.9) * (humidity - saturated_moisture(T, now_.outside.site_pressure));
  if (water < 0) water *= std::min(frost / 1e-3, 1.0);
  const double ice = water > 0 ? water * std::clamp((kFreezing + 0.3 - T) / 0.6, 0.0, 1.0) : water;
  const double melt = T < kFreezing ? 0
                                    : c_.evaporator.air_conductance / n * (T - kFreezing) / kIceHeat *
                                          std::min(frost / 5e-3, 1.0);
  dy_[l_.frost_at + j] += ice - melt;
  dy_[l_.moisture] -= water;
  double into = q + water * kVapourHeat + (ice - melt) * kIceHeat;
  if (now_.on.heater && !now_.is.defrost_dead) {
    into += c_.box.heater / n;
    dy_[l_.electricity] += c_.box.heater / n;
  }
  warm_metal(i, into);
  return q;
}

void Rates::evaporator() {
  const Coil& coil = c_.evaporator;
  const double air_mass = air_density(y_[l_.air], now_.outside.site_pressure) * c_.box.volume;
  humidity_ = std::max(y_[l_.moisture], 0.0) / air_mass;
  for (int i = 0; i < l_.evaporator; ++i) frost_ += std::max(y_[l_.frost_at + i], 0.0);
  const double thick = frost_ / c_.box.frost_full;
  evaporator_share_ = std::max((now_.on.evaporator_fan ? 1.0 : kStillEvaporator) * now_.is.evaporator_air *
                                   (1 - air_taken_by_frost(thick)),
                               0.012);
  const double n = l_.evaporator;
  const double C = coil.air_capacity * evaporator_share_ / n;
  const double UA = c_.correlations.air_side * coil.air_conductance / n * std::pow(evaporator_share_, 0.4) /
                    (1 + 0.4 * thick);
  const double conductance = C * (1 - std::exp(-UA / C));
  for (int j = 0; j < l_.evaporator; ++j) {
    exchange(l_.first_evaporator + j, coil.area() / n, coil.bore);
    air_heat_ += evaporator_cell(j, conductance, humidity_);
  }
}

void Rates::box() {
  const Box& b = c_.box;
  const double T_air = y_[l_.air];
  const double electric = (now_.on.evaporator_fan ? b.fan : 0) + (now_.on.door_open ? b.light : 0);
  const double exchanged = b.leak_exchange * now_.is.load + (now_.on.door_open ? b.door_exchange : 0);
  const double carried = exchanged * air_density(T_room_, now_.outside.site_pressure);
  const double q_door = carried * kAirHeat * (T_room_ - T_air);
  const double water =
      carried * (now_.outside.humidity * saturated_moisture(T_room_, now_.outside.site_pressure) - humidity_);
  const double q_in = b.wall_in * (T_air - y_[l_.wall]), q_out = b.wall_out * (T_room_ - y_[l_.wall]);
  const double q_product = b.to_product * (y_[l_.product] - T_air);
  dy_[l_.electricity] += electric;
  dy_[l_.moisture] += water;
  to_room(-(q_door + water * kVapourHeat + q_out));
  const double into_air = electric + q_door + q_product - q_in - air_heat_, into_wall = q_in + q_out;
  if (now_.on.hold_box) {
    dy_[l_.held] -= into_air - q_product + into_wall;  // what the bench takes away
    return;
  }
  dy_[l_.air] = into_air / b.air;
  dy_[l_.product] = -q_product / b.product;
  dy_[l_.wall] = into_wall / b.wall;
}

}  // namespace coldwright::lab

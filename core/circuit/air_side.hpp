// The air side of a coil: how many watts it passes per kelvin between coil and entering air.
//
// With a fan, cross-flow air is shared by area, so a zone of constant coil temperature passes
//   Q = f C (1 - exp(-UA/C)) (T_coil - T_air,in),   C the air's capacity rate, f the zone's share of area.
// A wire-on-tube panel in still air has no C; its coefficient is free convection by the wire-and-tube
// correlation [tagliafico1997] (from memory) plus radiation, used relative to the design point.
// Fouling, ice and stopped fans scale air flow and surface; altitude scales the air's density.
#pragma once

namespace coldwright::circuit {

struct AirSide {
  double capacity_rate = 0;       // C at the design point, W/K
  double conductance = 0;         // UA at the design point, W/K
  bool still_air = false;         // wire-on-tube without a fan: only `conductance` counts
  double design_difference = 12;  // K, coil to air at the design point (still air only)
};

/// What has happened to the air side: shares of the design air flow and of the design surface.
struct AirFault {
  double flow = 1;
  double surface = 1;
};

struct AirPoint {
  double K;              // W/K between coil and entering air
  double capacity_rate;  // W/K, zero in still air
};

/// `density_ratio` is the air's density over that of the design point (altitude); `difference` coil to air,
/// K.
AirPoint air_point(const AirSide& side, const AirFault& fault, double density_ratio, double difference);

/// Mean coefficient of a wire-on-tube panel in still air, W/(m2 K): free convection [tagliafico1997] and
/// radiation (emissivity 0.9). Nominal panel 0.6 m high, 5 mm tube at 50 mm, 1.5 mm wire at 6 mm (our
/// estimate).
double still_air_coefficient(double T_panel, double T_air);

}  // namespace coldwright::circuit

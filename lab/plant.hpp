// The whole cabinet as one set of differential equations: mass and internal energy of refrigerant in every
// cell, the metal around it, the compressor's body and its oil, the box, its moisture and its frost.
//
// Everything stored is a state itself, or heat in a constant capacity, and everything exchanged with the
// outside is added up in states of its own; the sums are then linear in the states, which a linear multistep
// method keeps to rounding whatever its tolerance: balance() shows it.
#pragma once

#include <memory>
#include <vector>

#include "lab/compressor.hpp"

namespace coldwright::lab {

enum class Turning { standing, locked, running };

/// What switches decide; constant between two calls of the integrator.
struct Switches {
  Turning motor = Turning::standing;
  bool condenser_fan = false, evaporator_fan = true, heater = false, door_open = false;
  bool hold_box = false;   // the box's air and what is in it keep their temperatures: a test bench
  double bore_factor = 1;  // of the tube, while a design is being found
  double feed = 0;         // kg/s of refrigerant let into the drier, likewise
  bool operator==(const Switches&) const = default;
};

/// Where things stand in the state vector.
struct Layout {
  int condenser, evaporator, cells, drier, first_evaporator, suction, shell_gas;
  bool gas;
  int gas_at, metal_at, body, dissolved, tube_flow, air, wall, product, moisture, frost_at, plug, sensor,
      overload, electricity, from_room, gone_mass, gone_energy, fed_mass, fed_energy, held, size;
  Layout(const Cabinet& cabinet, bool with_gas);
};

/// What the equations work out on the way and others like to see.
struct Seen {
  std::vector<Content> cells;
  Running compressor;
  double tube_flow = 0;
  double evaporator_heat = 0, condenser_heat = 0;  // W, from the box's air, to the room
  double evaporator_air_out = 0, condenser_air_out = 0;
  double evaporator_share = 1, condenser_share = 1;  // of the clean air flow
  double frost = 0;                                  // kg
  double tube_out_h = 0;
};

struct Balance {
  double mass, energy;              // what is inside less what came in: constant
  double mass_scale, energy_scale;  // to judge it against
};

class Plant {
 public:
  Plant(Cabinet cabinet, std::shared_ptr<const Refrigerant> refrigerant);

  const Cabinet& cabinet() const { return cabinet_; }
  const Layout& layout() const { return layout_; }
  const Refrigerant& refrigerant() const { return *refrigerant_; }

  /// Everything at `T`, pressures equal, the machine long off; the box at `T_box`.
  std::vector<double> at_rest(double T, double T_box) const;
  /// Absolute tolerances of the states.
  std::vector<double> tolerances() const;

  /// False where the state makes no sense. `learn`: keep the temperatures found, to start from next time.
  bool derivatives(double time, const double* y, const Switches& switches, const Condition& condition,
                   const Surroundings& outside, double* dy, Seen* seen, bool learn = false) const;

  /// Which states' derivatives a state can touch, as far as the lay of the pipes tells: for each state the
  /// rows.
  std::vector<std::vector<int>> touched() const;

  Balance balance(const double* y) const;
  double body_temperature(const double* y) const;
  double metal_heat(int cell) const;  // J/K of the metal around a cell
  double volume(int cell) const { return volumes_[static_cast<std::size_t>(cell)]; }
  double ambient(double time, const Surroundings& outside) const;

 private:
  friend class Rates;
  Cabinet cabinet_;
  std::shared_ptr<const Refrigerant> refrigerant_;
  Layout layout_;
  std::vector<double> volumes_;
  std::vector<double> resistances_;  // Pa per (kg/s)^2 times kg/m3, between a cell and the next
  double oil_u0_ = 0, oil_T0_ = 0, oil_c_ = 0;
  mutable std::vector<double> near_;  // temperatures to start the next look from; answers don't hang on them
};

inline constexpr double kVapourHeat = 2.5e6, kIceHeat = 3.34e5;  // J/kg of water, from memory

/// kg/m3 of dry air.
inline double air_density(double T, double pressure) { return pressure / (kGasConstant * T); }
/// Share of the evaporator's air that frost takes; `thick` is its mass over what halves the flow (our
/// estimate).
double air_taken_by_frost(double thick);
/// kg of water vapour per kg of dry air, saturated, over ice below freezing [alduchov1996].
double saturated_moisture(double T, double pressure);
/// kg of refrigerant per kg of oil in equilibrium, r = p / p_saturated of the oil's temperature: Flory and
/// Huggins with one interaction parameter.
double dissolved_at(double r);

}  // namespace coldwright::lab

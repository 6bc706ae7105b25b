// How fast every state of a plant moves: one look at the equations, part by part. Plant::derivatives() is the
// way in.
#pragma once

#include <array>

#include "lab/plant.hpp"

namespace coldwright::lab {

/// What holds while the look lasts.
struct Moment {
  double time;
  const Switches& on;
  const Condition& is;
  const Surroundings& outside;
};

class Rates {
 public:
  static constexpr int kMostCells = 48;

  /// `dy` is filled from zero. `learn`: the plant keeps the temperatures found.
  Rates(const Plant& plant, const Moment& moment, const double* y, double* dy);

  /// False where the state makes no sense; then nothing else may be asked.
  bool fill(bool learn);
  Seen seen() const;

 private:
  // The refrigerant's way round: rates.cpp.
  bool look_into_cells(bool learn);
  void between_cells();
  void capillary();
  double heat_to_suction_line();
  void compressor();
  void between_sides(double rho);
  void oil_and_body();
  void leak_and_feed();
  void control_and_plug();
  // Metal, air and box: rates_air.cpp.
  void muffler_and_lines_to_room(int cell);
  void condenser();
  void evaporator();
  double evaporator_cell(int j, double conductance, double humidity);
  void box();

  const Content& at(int cell) const { return cells_[static_cast<std::size_t>(cell)]; }
  double volume(int cell) const { return plant_.volumes_[static_cast<std::size_t>(cell)]; }
  double density(int cell) const { return y_[2 * cell] / volume(cell); }
  double bore(int cell) const;
  double gas_per_vapour(int cell) const;
  void move(int from, int to, double mass, double h, double gas);
  double film(int cell, double area, double bore) const;
  /// Between a cell and its metal; the metal's heat capacity is the plant's.
  void exchange(int cell, double area, double bore);
  void warm_metal(int cell, double watts) { d_metal_[cell] += watts / plant_.metal_heat(cell); }
  void to_room(double watts) { dy_[l_.from_room] -= watts; }

  const Plant& plant_;
  const Moment& now_;
  const double* y_;
  double* dy_;
  const Layout& l_;
  const Cabinet& c_;
  const Refrigerant& r_;
  const double* metal_;
  double* d_metal_;
  double T_room_, T_body_;

  std::array<Content, kMostCells> cells_;
  std::array<double, kMostCells> gas_{}, flow_{};  // kg in a cell; kg/s into the next
  Running work_;
  double tube_flow_ = 0, tube_out_h_ = 0, condenser_heat_ = 0, air_heat_ = 0, humidity_ = 0, frost_ = 0;
  double condenser_share_ = 1, evaporator_share_ = 1;
};

}  // namespace coldwright::lab

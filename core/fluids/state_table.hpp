// One refrigerant's single-phase states from tables, some tens of nanoseconds each, within 1e-6 of its
// equation.
//
// Liquid and vapour have each a table over sqrt(ln(p_crit/p)) and the way from saturation, so that no cell
// crosses the dome and the critical point is no singularity: the saturation line is the table's own edge. The
// tables are made from the equation when asked for (some 0.1 s) and need no data of their own.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "base/result.hpp"
#include "fluids/fluid.hpp"
#include "fluids/quick_curve.hpp"

namespace coldwright::fluids {

struct TableState {
  double T;    // K
  double rho;  // kg/m3
  double h;    // J/kg
  Phase phase;
};

class StateTable {
 public:
  /// Domain: liquid from 185 K (or its coldest) up, vapour up to 100 K above its dew point, as far as the
  /// equation reaches; pressures from 1 kPa, or saturation 12 K above the coldest liquid, to 0.9 of the
  /// critical pressure.
  static Result<StateTable> make(const Fluid& fluid);

  /// None outside the domain: ask the Fluid. Two-phase states of a pure fluid by the lever; of a blend none.
  std::optional<TableState> at_ph(double p, double h) const;
  std::optional<TableState> at_Tp(double T, double p) const;

  double p_low() const { return p_low_; }
  double p_high() const { return p_high_; }
  double T_low() const { return T_low_; }

 private:
  /// Two functions of (u, v) in [0, rows] x [0, columns], in each cell a polynomial of fifth order both ways.
  /// The two are kept and evaluated together.
  class Patches {
   public:
    using Pair = std::array<double, 2>;
    static constexpr std::size_t terms = 6;
    /// `of(u, v)` at the Chebyshev nodes of every cell.
    template <class Of>
    void fill(int rows, int columns, Of&& of);
    Pair at(double u, double v) const;

   private:
    int rows_ = 0, columns_ = 0;
    std::vector<std::array<Pair, terms * terms>> cells_;
  };

  /// One side of the dome. v runs from 0 at saturation to `columns` at the far end, as the square root of the
  /// way, so that cells are narrow where the critical point makes the states bend.
  struct Side {
    Patches by_h, by_T;  // (T, volume) and (h, volume); the volume is p/rho of vapour, 1/rho of liquid
    // Of y = sqrt(ln(p_crit/p)): the value at saturation, and one over the way from there to the far end.
    QuickCurveOf<Two> h, T;
  };

  std::optional<Side> fill(const Fluid& fluid, bool vapour) const;

  double p_low_ = 0, p_high_ = 0, T_low_ = 0;
  double ln_crit_ = 0, y_low_ = 0, y_high_ = 0, per_y_ = 0;
  bool blend_ = false;
  Side liquid_, vapour_;
};

}  // namespace coldwright::fluids

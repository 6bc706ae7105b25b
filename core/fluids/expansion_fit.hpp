// Makes a PiecewiseChebyshev from values at its points. Real is double, or a wider type in tools.
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "fluids/fluid_data.hpp"

namespace coldwright::fluids {

struct ExpansionShape {
  int pieces, terms;
};

/// Where the values are wanted: the Chebyshev-Lobatto points of each piece, so that neighbours meet exactly.
template <class Real>
std::vector<Real> expansion_points(Real low, Real high, ExpansionShape shape, Real pi) {
  using std::cos;
  std::vector<Real> out;
  const int n = shape.terms - 1;
  for (int piece = 0; piece < shape.pieces; ++piece)
    for (int j = 0; j <= n; ++j) {
      const Real t = j == n ? Real(-1) : Real(cos(pi * j / n));
      const Real along =
          (Real(piece) * piece + (2 * piece + 1) * (t + 1) / 2) / (Real(shape.pieces) * shape.pieces);
      out.push_back(low + (high - low) * along);
    }
  return out;
}

/// The expansion through those values, in the same order.
template <class Real>
PiecewiseChebyshev expansion_through(Real low, Real high, ExpansionShape shape,
                                     const std::vector<Real>& values, Real pi) {
  using std::cos;
  PiecewiseChebyshev out{static_cast<double>(low), static_cast<double>(high), shape.terms, {}};
  const int n = shape.terms - 1;
  for (int piece = 0; piece < shape.pieces; ++piece)
    for (int k = 0; k <= n; ++k) {
      Real sum = 0;
      for (int j = 0; j <= n; ++j) {
        const Real weight = j == 0 || j == n ? Real(0.5) : Real(1);
        sum += weight * values[static_cast<std::size_t>(piece * shape.terms + j)] * cos(pi * j * k / n);
      }
      const Real scale = k == 0 || k == n ? Real(1) : Real(2);
      out.coefficients.push_back(static_cast<double>(Real(scale * sum / n)));
    }
  return out;
}

}  // namespace coldwright::fluids

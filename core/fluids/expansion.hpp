// Evaluates a PiecewiseChebyshev by Clenshaw's recurrence. Cost: about 15 ns.
#pragma once

#include <algorithm>
#include <cmath>

#include "fluids/fluid_data.hpp"

namespace coldwright::fluids {

/// Value at x; outside [low, high] the end piece is continued (callers check the domain).
inline double evaluate(const PiecewiseChebyshev& f, double x) {
  const int pieces = f.pieces();
  const double span = f.high - f.low;
  const double place = std::sqrt(std::max(0.0, (x - f.low) / span)) * pieces;
  const int piece = std::clamp(static_cast<int>(place), 0, pieces - 1);
  // Piece i reaches from (i/N)^2 to ((i+1)/N)^2 of the span.
  const double squares = static_cast<double>(pieces) * pieces;
  const double along =
      ((x - f.low) / span * squares - static_cast<double>(piece) * piece) / (2.0 * piece + 1.0);
  const double twice = 2.0 * (2.0 * along - 1.0);
  const double* c = f.coefficients.data() + static_cast<std::ptrdiff_t>(piece) * f.terms;
  double b1 = 0, b2 = 0;
  for (int k = f.terms - 1; k > 0; --k) {
    const double b0 = (c[k] - b2) + twice * b1;  // in this order a step costs one multiply-add of latency
    b2 = b1;
    b1 = b0;
  }
  return (c[0] - b2) + 0.5 * twice * b1;
}

}  // namespace coldwright::fluids

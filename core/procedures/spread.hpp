// Quantities known within a spread, and draws from several of them at once.
//
// The draws are quasi-random: the Halton sequence, one prime base a quantity [halton1960], shifted by a half
// step and brought to normals by inversion. The same every time, and a hundred of them fill six dimensions
// more evenly than several hundred random ones.
#pragma once

#include <vector>

#include "diagnosis/answer.hpp"

namespace coldwright::procedures {

/// A value and one standard deviation, in the same unit.
struct Known {
  double value = 0, sigma = 0;
};

inline constexpr int kSpreadDimensions = 12;

/// The i-th point's standard normal in this dimension; i from 0, dimension below kSpreadDimensions.
double spread_normal(int i, int dimension);

/// value + sigma z, but never below a tenth of the value: what is measured here is above zero.
double drawn(const Known& known, double z);

/// 5, 50 and 95 % of values that count alike; all zero of none.
diagnosis::Interval spread_interval(std::vector<double> values);

}  // namespace coldwright::procedures

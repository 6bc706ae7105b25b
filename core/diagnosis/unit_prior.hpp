// What earlier calls tell of one machine, as the next call's prior: its latents are normal with a mean and a
// covariance of their own instead of standard normals. The inference keeps its standard normals z; the
// machine is that of
//   y = mean + root z,   root root^T = covariance,
// so that densities, proposals and weights stay as they are whatever is remembered.
#pragma once

#include <vector>

#include "diagnosis/causes.hpp"

namespace coldwright::diagnosis {

struct UnitPrior {
  Latents mean{};
  std::vector<double> root;  // kLatents x kLatents, lower triangular, row by row

  Latents place(const Latents& z) const {
    Latents y = mean;
    for (std::size_t i = 0; i < kLatents; ++i)
      for (std::size_t j = 0; j <= i; ++j) y[i] += root[i * kLatents + j] * z[j];
    return y;
  }
};

}  // namespace coldwright::diagnosis

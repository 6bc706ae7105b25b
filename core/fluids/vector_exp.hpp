// exp of several numbers at a time; behind a call, so that Eigen stays out of the headers.
#pragma once

#include <cstddef>

namespace coldwright::fluids {

/// x[i] = exp(x[i]), within 2 units in the last place.
void exp_in_place(double* x, std::size_t n);

}  // namespace coldwright::fluids

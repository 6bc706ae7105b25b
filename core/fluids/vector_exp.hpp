// exp of several numbers at a time.
#pragma once

#include <cstddef>

namespace coldwright::fluids {

/// Values are taken in blocks of this many.
inline constexpr std::size_t exp_block = 8;

/// x[i] = exp(x[i]) within 2 units in the last place for |x| < 700; beyond, what it is there. Up to the end
/// of the last block x must be readable and is overwritten.
void exp_in_place(double* x, std::size_t n);

}  // namespace coldwright::fluids

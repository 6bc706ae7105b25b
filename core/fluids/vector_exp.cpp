#include "fluids/vector_exp.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

// The same loop compiled for wider registers as well, and chosen when the program starts: twice as fast as
// the library's exp one by one, which is most of what a state costs.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#define COLDWRIGHT_WIDE __attribute__((target_clones("avx512f", "avx2,fma", "default")))
#else
#define COLDWRIGHT_WIDE
#endif

namespace coldwright::fluids {

namespace {

constexpr std::size_t at_once = exp_block, few = 5;

/// exp(x) = 2^k exp(r), k the nearest whole of x/ln 2, |r| <= ln 2 / 2; exp(r) by its series to r^13, cut off
/// below half a unit in the last place. ln 2 in two parts, so that k ln 2 is exact.
inline double one(double x) {
  constexpr double whole =
      6755399441055744.0;  // 1.5 * 2^52: added and taken away, it rounds to a whole number
  constexpr double ln2_high = 0x1.62e42fee00000p-1, ln2_low = 0x1.a39ef35793c76p-33;
  const double bounded = std::min(std::max(x, -708.0), 709.0);
  const double shifted = bounded * 1.4426950408889634 + whole;
  const double k = shifted - whole;
  const double r = (bounded - k * ln2_high) - k * ln2_low;
  const double r2 = r * r, r4 = r2 * r2;
  const double low = (1 + r) + (1.0 / 2 + r * (1.0 / 6)) * r2;
  const double middle = (1.0 / 24 + r * (1.0 / 120)) + (1.0 / 720 + r * (1.0 / 5040)) * r2;
  const double high = (1.0 / 40320 + r * (1.0 / 362880)) + (1.0 / 3628800 + r * (1.0 / 39916800)) * r2 +
                      (1.0 / 479001600 + r * (1.0 / 6227020800)) * r4;
  // The low bits of `shifted` are k; moved into the exponent they are 2^k.
  const auto exponent = (std::bit_cast<std::uint64_t>(shifted) + 1023) << 52;
  return (low + (middle + high * r4) * r4) * std::bit_cast<double>(exponent);
}

}  // namespace

COLDWRIGHT_WIDE void exp_in_place(double* x, std::size_t n) {
  std::size_t i = 0;
  for (; i + at_once <= n; i += at_once)
    for (std::size_t j = 0; j < at_once; ++j) x[i + j] = one(x[i + j]);
  if (n - i < few) {
    for (; i < n; ++i) x[i] = std::exp(x[i]);
  } else {
    for (std::size_t j = 0; j < at_once; ++j) x[i + j] = one(x[i + j]);
  }
}

}  // namespace coldwright::fluids

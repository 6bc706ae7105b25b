// The normal distribution and a small reproducible random stream. No library generator is used because
// their distributions differ between standard libraries, and an answer must replay bit for bit.
#pragma once

#include <cstdint>

namespace coldwright {

/// Standard normal distribution function.
double normal_cdf(double z);

/// Its inverse, p in (0, 1), about 1e-15 relative: algorithm AS 241, PPND16 [wichura1988].
double normal_quantile(double p);

/// ln of the standard normal density.
double normal_log_density(double z);

/// A stream of independent numbers fixed by its seed: SplitMix64 [steele2014].
class RandomStream {
 public:
  explicit RandomStream(std::uint64_t seed) : state_(seed) {}
  /// An independent stream for one purpose, so that adding a draw elsewhere changes nothing here.
  RandomStream fork(std::uint64_t label) const;

  std::uint64_t bits();
  double uniform();  // (0, 1), never 0 or 1
  double normal();   // standard normal, by inversion

 private:
  std::uint64_t state_;
};

}  // namespace coldwright

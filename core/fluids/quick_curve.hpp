// A smooth function of one variable as short polynomials on equal pieces: some five nanoseconds a value.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace coldwright::fluids {

/// Two numbers that are computed side by side where the machine can.
typedef double Two __attribute__((vector_size(16)));

/// c[0] + c[1] t + ... + c[7] t^7, in pairs so that the products run side by side.
template <class V>
V eighth_order(const V* c, double t) {
  const double t2 = t * t, t4 = t2 * t2;
  return ((c[0] + c[1] * t) + (c[2] + c[3] * t) * t2) + ((c[4] + c[5] * t) + (c[6] + c[7] * t) * t2) * t4;
}

/// Chebyshev point j of N, in -1..1.
template <std::size_t N>
double chebyshev_node(std::size_t j) {
  return std::cos(std::numbers::pi * (static_cast<double>(j) + 0.5) / static_cast<double>(N));
}

/// The polynomial through values at the N nodes, as powers of t in -1..1, by way of the Chebyshev series.
template <std::size_t N, class V>
std::array<V, N> monomials(const std::array<V, N>& values) {
  std::array<V, N> series{};
  for (std::size_t k = 0; k < N; ++k) {
    for (std::size_t j = 0; j < N; ++j)
      series[k] += values[j] * std::cos(std::numbers::pi * static_cast<double>(k) *
                                        (static_cast<double>(j) + 0.5) / static_cast<double>(N));
    series[k] *= (k == 0 ? 1.0 : 2.0) / static_cast<double>(N);
  }
  std::array<V, N> out{};
  std::array<double, N> before{1}, here{0, 1};  // T_0 and T_1
  for (std::size_t i = 0; i < N; ++i) out[i] = series[0] * before[i] + series[1] * here[i];
  for (std::size_t k = 2; k < N; ++k) {
    std::array<double, N> next{};
    for (std::size_t i = 0; i < N; ++i) next[i] = (i > 0 ? 2 * here[i - 1] : 0.0) - before[i];
    for (std::size_t i = 0; i < N; ++i) out[i] += series[k] * next[i];
    before = here;
    here = next;
  }
  return out;
}

/// V is double, or Two for two functions at once.
template <class V>
class QuickCurveOf {
 public:
  static constexpr std::size_t terms = 8;

  QuickCurveOf() = default;

  /// Interpolates f on [low, high] at the Chebyshev points of each piece.
  template <class F>
  QuickCurveOf(double low, double high, int pieces, F&& f)
      : low_(low), high_(high), per_piece_(pieces / (high - low)), last_(pieces - 1) {
    coefficients_.reserve(static_cast<std::size_t>(pieces));
    for (int piece = 0; piece < pieces; ++piece) {
      std::array<V, terms> values;
      for (std::size_t j = 0; j < terms; ++j)
        values[j] = f(low + (piece + 0.5 * (1 + chebyshev_node<terms>(j))) / per_piece_);
      coefficients_.push_back(monomials(values));
    }
  }

  bool covers(double x) const { return x >= low_ && x <= high_; }

  /// Precondition: covers(x).
  V at(double x) const {
    const double place = (x - low_) * per_piece_;
    const int piece = std::min(static_cast<int>(place), last_);
    return eighth_order(coefficients_[static_cast<std::size_t>(piece)].data(), 2 * (place - piece) - 1);
  }

 private:
  double low_ = 0, high_ = -1, per_piece_ = 0;  // covers nothing until filled
  int last_ = 0;
  std::vector<std::array<V, terms>> coefficients_;
};

using QuickCurve = QuickCurveOf<double>;

}  // namespace coldwright::fluids

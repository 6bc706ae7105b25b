// Whether a failure comes oftener than usual among the units of a model.
//
// Of n failures k were this one. Its share theta has the prior Beta(s p, s (1 - p)) around the usual share p,
// worth s = 10 failures (our estimate), so that the posterior is Beta(s p + k, s (1 - p) + n - k)
// [mackay2003, Chapter 23]. Said is what holds with 99.5 %, in three units at the least; between seventeen
// causes looked at at once that is rarely chance (tests/property/failure_rate_test.cpp measures how rarely).
#pragma once

#include "diagnosis/answer.hpp"

namespace coldwright::diagnosis {

struct FailureRate {
  int failures, of;    // k and n
  double usual;        // p
  double above_usual;  // probability that theta > p
  Interval share;      // of theta
  bool worth_saying;
};

inline constexpr int kFewestFailing = 3;         // units that it must have befallen
inline constexpr double kSureOfFailing = 0.995;  // probability from which it is said

/// 0 <= failures <= of, 0 < usual < 1. `units`: that it befell.
FailureRate failure_rate(int failures, int of, int units, double usual);

/// Regularised incomplete beta function, by the continued fraction of [dlmf, 8.17.22], about 1e-13. a, b > 0.
double beta_cdf(double a, double b, double x);
/// Its inverse by bisection, p in (0, 1).
double beta_quantile(double a, double b, double p);

}  // namespace coldwright::diagnosis

#include "diagnosis/failure_rate.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::diagnosis {
namespace {

constexpr double kPriorFailures = 10;

// The continued fraction after its prefactor, by Lentz' method; converges fast for x < (a + 1) / (a + b + 2).
double fraction(double a, double b, double x) {
  constexpr double tiny = 1e-300;
  double c = 1, d = 1 - (a + b) * x / (a + 1);
  d = 1 / (std::abs(d) < tiny ? tiny : d);
  double f = d;
  for (int m = 1; m < 500; ++m) {
    const double odd = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    const double even = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    double change = 0;
    for (const double term : {odd, even}) {
      d = 1 + term * d;
      d = 1 / (std::abs(d) < tiny ? tiny : d);
      c = 1 + term / c;
      if (std::abs(c) < tiny) c = tiny;
      change = c * d;
      f *= change;
    }
    if (std::abs(change - 1) < 1e-15) break;
  }
  return f;
}

}  // namespace

double beta_cdf(double a, double b, double x) {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const double front =
      std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) + a * std::log(x) + b * std::log1p(-x));
  return x < (a + 1) / (a + b + 2) ? front * fraction(a, b, x) / a : 1 - front * fraction(b, a, 1 - x) / b;
}

double beta_quantile(double a, double b, double p) {
  double low = 0, high = 1;
  for (int i = 0; i < 60; ++i) {
    const double x = 0.5 * (low + high);
    (beta_cdf(a, b, x) < p ? low : high) = x;
  }
  return 0.5 * (low + high);
}

FailureRate failure_rate(int failures, int of, int units, double usual) {
  const double a = kPriorFailures * usual + failures, b = kPriorFailures * (1 - usual) + of - failures;
  FailureRate r{};
  r.failures = failures;
  r.of = of;
  r.usual = usual;
  r.above_usual = 1 - beta_cdf(a, b, usual);
  r.share = {beta_quantile(a, b, 0.05), beta_quantile(a, b, 0.5), beta_quantile(a, b, 0.95)};
  r.worth_saying = units >= kFewestFailing && r.above_usual >= kSureOfFailing;
  return r;
}

}  // namespace coldwright::diagnosis

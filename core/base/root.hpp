// One root of a monotone function inside a bracket: Newton where it behaves, bisection where not.
#pragma once

#include <cmath>
#include <utility>

namespace coldwright {

struct RootOptions {
  double relative_step = 1e-14;  // stop once a step is this small a part of x
  int max_iterations = 200;
};

struct RootSummary {
  double x = 0;
  bool converged = false;
  int iterations = 0;
};

/// Root of an increasing function on [low, high], from `guess`. `f(x)` returns {value, slope}.
/// Converges for every continuous increasing f whose root lies inside; an end is returned when the
/// root lies beyond it by rounding. Typically 3-6 evaluations, at worst about 60.
template <class F>
RootSummary increasing_root(F&& f, double low, double high, double guess, RootOptions options = {}) {
  RootSummary out;
  double x = guess > low && guess < high ? guess : 0.5 * (low + high);
  double last_step = high - low;
  for (out.iterations = 1; out.iterations <= options.max_iterations; ++out.iterations) {
    const std::pair<double, double> here = f(x);
    if (here.first == 0) {
      out.x = x;
      out.converged = true;
      return out;
    }
    (here.first < 0 ? low : high) = x;
    double next = x - here.first / here.second;
    // A Newton step that leaves the bracket, or shrinks too slowly to be trusted, gives way to bisection.
    const bool lost = !(next > low && next < high) || !(std::abs(next - x) < 0.75 * std::abs(last_step));
    const bool tiny = std::abs(next - x) <= options.relative_step * std::abs(x);
    if (lost && !tiny) next = 0.5 * (low + high);
    last_step = next - x;
    x = next;
    if (std::abs(last_step) <= options.relative_step * std::abs(x)) {
      out.x = x;
      out.converged = true;
      return out;
    }
  }
  out.x = x;
  return out;
}

}  // namespace coldwright

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

/// Root of an increasing f on [low, high] from its values at both ends, without slopes: the chord's point,
/// pulled to the other side when one end stays (the Illinois rule). Stops once |f| <= `small` or the bracket
/// is at rounding; some 4-8 evaluations for a nearly straight f. The last f evaluated is at the returned x.
template <class F>
RootSummary secant_root(F&& f, double low, double high, double f_low, double f_high, double small) {
  RootSummary out;
  int kept = 0;  // -1: low stayed last time, +1: high
  for (out.iterations = 1; out.iterations <= 100; ++out.iterations) {
    double x = f_high != f_low ? (low * f_high - high * f_low) / (f_high - f_low) : 0.5 * (low + high);
    if (!(x > low && x < high)) x = 0.5 * (low + high);
    const double here = f(x);
    out.x = x;
    if (std::abs(here) <= small || high - low <= 4e-16 * (std::abs(low) + std::abs(high))) {
      out.converged = true;
      return out;
    }
    if (here < 0) {
      low = x;
      f_low = here;
      if (kept == 1) f_high *= 0.5;
      kept = 1;
    } else {
      high = x;
      f_high = here;
      if (kept == -1) f_low *= 0.5;
      kept = -1;
    }
  }
  return out;
}

}  // namespace coldwright

#include "circuit/charge.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::circuit {

double zivi_void(double x, double rho_l, double rho_v) {
  const double b = std::pow(rho_v / rho_l, 2.0 / 3.0);
  return x / (x + (1 - x) * b);
}

double zivi_void_mean(double xa, double xb, double rho_l, double rho_v) {
  const double b = std::pow(rho_v / rho_l, 2.0 / 3.0);
  const double dx = xb - xa;
  if (std::abs(dx) < 1e-6) return zivi_void(0.5 * (xa + xb), rho_l, rho_v);
  // integral of x / (b + (1-b) x) = x/(1-b) - b/(1-b)^2 ln(b + (1-b) x)
  const double c = 1 - b;
  const double logs = std::log((b + c * xb) / (b + c * xa));
  return 1 / c - b / (c * c) * logs / dx;
}

double two_phase_mean_density(double xa, double xb, double rho_l, double rho_v, double hold_up) {
  const double void_mean = zivi_void_mean(xa, xb, rho_l, rho_v);
  const double liquid = hold_up * (1 - void_mean);
  const double share = liquid / (1 + std::max(liquid - (1 - void_mean), 0.0));  // stays below one
  return share * rho_l + (1 - share) * rho_v;
}

double dissolved_in_oil(double r, double a) {
  const double x = std::clamp(r, 0.0, 1.0);
  const double w = std::min(a * x * (1 + 1.5 * x * x), 0.6);
  return w / (1 - w);
}

}  // namespace coldwright::circuit

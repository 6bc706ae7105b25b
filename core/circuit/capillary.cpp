#include "circuit/capillary.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace coldwright::circuit {
namespace {

constexpr int kNodes = 11;
constexpr double kEntrance = 0.75;  // half of (1 + 0.5): acceleration into the tube and a sharp-edged inlet

struct Mixture {
  double rho, mu;
};

// Density and McAdams viscosity at (p, h), any phase. `sat` is saturation at p.
Mixture mixture(const WorkingFluid& f, const SatPoint& sat, double lnp, double h) {
  if (h >= sat.h_v) return {f.isobar(lnp).vapour(h).rho, sat.mu_v};
  if (h <= sat.h_l) return {sat.rho_l, sat.mu_l};
  const double x = (h - sat.h_l) / (sat.h_v - sat.h_l);
  return {1 / (x / sat.rho_v + (1 - x) / sat.rho_l), 1 / (x / sat.mu_v + (1 - x) / sat.mu_l)};
}

// The same with the kinetic energy taken out of h0: h = h0 - G^2 v^2 / 2, v from before: the term is small.
Mixture moving_mixture(const WorkingFluid& f, const SatPoint& sat, double lnp, double h0, double G) {
  const double v = 1 / mixture(f, sat, lnp, h0).rho;
  return mixture(f, sat, lnp, h0 - std::min(0.5 * G * G * v * v, 0.2 * (sat.h_v - sat.h_l)));
}

// integral of rho dp between two points if rho follows a power of p in between; `log_ratio` = ln(rho_a/rho_b)
double rho_dp(double dlnp, double p_a, double rho_a, double p_b, double rho_b, double log_ratio) {
  if (dlnp < 1e-12) return 0;
  const double a = log_ratio / dlnp + 1;
  const double A = rho_a * p_a, B = rho_b * p_b;
  return std::abs(a) < 1e-6 ? 0.5 * (A + B) * dlnp : (A - B) / a;
}

// Largest value of a parabola through three points, no less than the middle one.
struct Peak {
  double at, value;
};
Peak peak(double xa, double ya, double xb, double yb, double xc, double yc) {
  const double d1 = (yb - ya) / (xb - xa), d2 = (yc - yb) / (xc - xb);
  const double curve = (d2 - d1) / (xc - xa);
  if (curve >= 0) return {xb, yb};
  const double x = std::clamp(0.5 * (xa + xb) - d1 / (2 * curve), std::min(xa, xc), std::max(xa, xc));
  return {x, ya + d1 * (x - xa) + curve * (x - xa) * (x - xb)};
}

// Where the liquid starts to flash: saturation at its own temperature, or the inlet when already two-phase.
struct Inlet {
  double lnp_flash;
  double rho_liquid, mu;
  bool liquid;
};
Inlet inspect(const WorkingFluid& f, double lnp_in, double h) {
  const SatPoint sat = f.saturation(lnp_in);
  if (h >= sat.h_l) return {lnp_in, sat.rho_l, mixture(f, sat, lnp_in, h).mu, false};
  double T = sat.T - (sat.h_l - h) / sat.cp_l;
  for (int i = 0; i < 3; ++i) {
    const SatPoint at = f.at_temperature(T);
    T += (h - at.h_l) / at.cp_l;
  }
  const double lnp = f.ln_saturation_pressure(T);
  const SatPoint at = f.saturation(lnp);
  return {std::min(lnp, lnp_in), at.rho_l, at.mu_l, true};
}

}  // namespace

double churchill_friction(double reynolds, double relative_roughness) {
  const double re = std::max(reynolds, 1.0);
  const double a = std::pow(2.457 * std::log(1 / (std::pow(7 / re, 0.9) + 0.27 * relative_roughness)), 16);
  const double b = std::pow(37530 / re, 16);
  return 8 * std::pow(std::pow(8 / re, 12) + 1 / std::pow(a + b, 1.5), 1.0 / 12);
}

CapillaryFlow flow_through(const Capillary& tube, const WorkingFluid& f, const CapillaryInlet& inlet,
                           double lnp_out, double heat_removed, std::optional<double> expected_flow) {
  const double area = std::numbers::pi / 4 * tube.diameter * tube.diameter * tube.open_share;
  if (lnp_out >= inlet.lnp - 1e-9) return {0, lnp_out, false};
  const double h0 = inlet.h - 0.5 * heat_removed;
  const Inlet in = inspect(f, inlet.lnp, h0);
  const double lnp_start = std::max(in.lnp_flash, lnp_out);
  const double p_in = std::exp(inlet.lnp);
  const double liquid = in.liquid ? in.rho_liquid * (p_in - std::exp(lnp_start)) : 0;
  const double span = lnp_start - lnp_out;

  std::array<double, kNodes + 1> lnp{}, pressure{};
  std::array<SatPoint, kNodes + 1> sat;
  for (int i = 0; i <= kNodes; ++i) {
    const double t = static_cast<double>(i) / kNodes;
    lnp[i] = lnp_start - span * t * (0.4 + 0.6 * t);  // closer together where flashing begins
    pressure[i] = std::exp(lnp[i]);
    sat[i] = f.saturation(lnp[i]);
  }
  double G = expected_flow ? std::max(*expected_flow / area, 50.0) : 5000;
  Peak best{lnp_out, 0};
  for (int pass = 0; pass < (expected_flow ? 1 : 4); ++pass) {
    const double friction =
        churchill_friction(G * tube.diameter / in.mu) * tube.length / (2 * tube.diameter) + kEntrance;
    double drive = liquid, stretch = 0;
    std::array<double, kNodes + 1> G2{};
    Mixture before = moving_mixture(f, sat[0], lnp[0], h0, G);
    if (in.liquid) before.rho = in.rho_liquid;
    G2[0] = drive / friction;
    int top = 0;
    for (int i = 1; i <= kNodes && span > 0; ++i) {
      const Mixture here = moving_mixture(f, sat[i], lnp[i], h0, G);
      const double w = std::sqrt(std::sqrt(2 * in.mu / (before.mu + here.mu)));  // f ~ Re^-1/4 along the tube
      const double log_ratio = std::log(before.rho / here.rho);
      drive += w * rho_dp(lnp[i - 1] - lnp[i], pressure[i - 1], before.rho, pressure[i], here.rho, log_ratio);
      stretch += w * log_ratio;
      G2[i] = drive / (friction + stretch);
      if (G2[i] > G2[top]) top = i;
      before = here;
    }
    best = {lnp[top], G2[top]};
    if (top > 0 && top < kNodes)
      best = peak(lnp[top - 1], G2[top - 1], lnp[top], G2[top], lnp[top + 1], G2[top + 1]);
    G = std::sqrt(std::max(best.value, 1.0));  // the map G -> G contracts by 0.11 a pass (f ~ Re^-1/4)
  }
  return {area * G, best.at, best.at > lnp_out + 1e-6};
}

}  // namespace coldwright::circuit

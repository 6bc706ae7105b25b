// The stepwise capillary: for a trial G the tube is walked in small pressure steps, each giving the length it
// takes; the largest G whose walk covers the tube's length before choking or reaching the evaporator pressure
// is the flow.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "circuit/capillary.hpp"

namespace coldwright::circuit {
namespace {

// Pressure spent on entering: acceleration and a sharp-edged inlet.
double entrance_loss(double G, double v) { return 0.75 * G * G * v; }

struct Local {
  double v, mu;
};

Local local(const WorkingFluid& f, double lnp, double h0, double G) {
  const SatPoint sat = f.saturation(lnp);
  double h = h0;
  Local out{1 / sat.rho_l, sat.mu_l};
  for (int i = 0; i < 6; ++i) {
    if (h <= sat.h_l) {
      out = {1 / sat.rho_l, sat.mu_l};
    } else if (h >= sat.h_v) {
      out = {1 / f.isobar(lnp).vapour(h).rho, sat.mu_v};
    } else {
      const double x = (h - sat.h_l) / (sat.h_v - sat.h_l);
      out = {x / sat.rho_v + (1 - x) / sat.rho_l, 1 / (x / sat.mu_v + (1 - x) / sat.mu_l)};
    }
    h = h0 - 0.5 * G * G * out.v * out.v;
  }
  return out;
}

struct Walk {
  double length;  // covered before choking or the evaporator pressure
  double lnp_exit;
  bool choked;
};

Walk walk(const Capillary& tube, const WorkingFluid& f, const CapillaryInlet& inlet, double lnp_out, double G,
          double heat, double from, double to) {
  const double D = tube.diameter;
  double lnp = inlet.lnp, z = 0;
  Local here = local(f, lnp, inlet.h, G);
  // entrance: acceleration and a sharp edge
  double p = std::exp(lnp) - entrance_loss(G, here.v);
  if (p <= std::exp(lnp_out)) return {0, lnp_out, false};
  lnp = std::log(p);
  const auto heat_at = [&](double at) {
    return heat * std::clamp((at / tube.length - from) / std::max(to - from, 1e-9), 0.0, 1.0);
  };
  const double step = 0.0008;
  while (lnp > lnp_out && z < 1.5 * tube.length) {
    const double next = std::max(lnp - step, lnp_out);
    const Local there = local(f, next, inlet.h - heat_at(z), G);
    const double dp = std::exp(lnp) - std::exp(next);
    const double mu = 0.5 * (here.mu + there.mu), v = 0.5 * (here.v + there.v);
    const double fric = churchill_friction(G * D / mu) * G * G * v / (2 * D);
    const double dz = (dp - G * G * (there.v - here.v)) / fric;
    if (dz < 0) return {z, lnp, true};
    z += dz;
    lnp = next;
    here = there;
  }
  return {z, lnp, false};
}

}  // namespace

CapillaryFlow march_through(const Capillary& tube, const WorkingFluid& f, const CapillaryInlet& inlet,
                            double lnp_out, double heat_removed, double contact_from, double contact_to) {
  const double area = std::numbers::pi / 4 * tube.diameter * tube.diameter * tube.open_share;
  if (lnp_out >= inlet.lnp) return {0, lnp_out, false};
  double low = 10, high = 60000;
  Walk last{};
  for (int i = 0; i < 60 && high / low > 1 + 1e-6; ++i) {
    const double G = std::sqrt(low * high);
    const Walk w = walk(tube, f, inlet, lnp_out, G, heat_removed, contact_from, contact_to);
    if (w.length > tube.length) {
      low = G;
    } else {
      high = G;
      last = w;
    }
  }
  return {area * low, last.lnp_exit, last.choked};
}

}  // namespace coldwright::circuit

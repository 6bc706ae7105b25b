#include "lab/capillary.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace coldwright::lab {

namespace {

constexpr int kLiquidSteps = 6, kFlashSteps = 18;

// Heat given to the suction line over a stretch that begins at z, as a share of all of it.
double share_of_contact(const Tube& tube, double z, double dz) {
  const double end = tube.length - tube.contact_end, begin = end - tube.contact;
  const double overlap = std::min(z + dz, end) - std::max(z, begin);
  return tube.contact > 0 ? std::max(overlap, 0.0) / tube.contact : 0;
}

struct Stream {
  double v, mu;
};

Stream stream_at(const Refrigerant& r, const Correlations& with, const Saturated& s, double h) {
  const Carrying of = r.carrying(s.T);
  const double x = std::clamp((h - s.h_l()) / (s.h_v() - s.h_l()), 0.0, 1.0);
  const double v_l = 1 / s.rho_l, v_v = 1 / s.rho_v;
  double v = v_l + x * (v_v - v_l);
  if (h > s.h_v()) v *= 1 + (h - s.h_v()) / (of.cp_v * s.T);  // superheated: as an ideal gas beyond dew
  double mu = x * of.mu_v + (1 - x) * of.mu_l;                // [cicchitti1960]
  if (with.viscosity == TwoPhaseViscosity::dukler)
    mu = (x * v_v * of.mu_v + (1 - x) * v_l * of.mu_l) / v;  // [dukler1964]
  return {v, mu};
}

}  // namespace

double length_for(const Refrigerant& r, const Correlations& with, const Tube& tube, const Before& before,
                  double p_out, double flow, double heat) {
  const double area = std::numbers::pi / 4 * tube.bore * tube.bore;
  const double G = flow / area;
  const double relative = tube.roughness / tube.bore;
  double z = 0, p = before.p, h = before.h;
  // Entrance: sudden contraction, 1.5 dynamic pressures together with the acceleration.
  if (before.liquid) {
    const Carrying of = r.carrying(before.T);
    const double v = 1 / r.saturated(before.T).rho_l;
    p -= 0.75 * G * G * v;
    double T = before.T;
    const double gradient =
        with.friction * friction_factor(G * tube.bore / of.mu_l, relative) * G * G * v / (2 * tube.bore);
    for (int i = 0; i < kLiquidSteps; ++i) {
      const double delay = with.delayed_flashing && i == kLiquidSteps - 1
                               ? underpressure(r, T, G, tube.bore, r.temperature(before.p) - T)
                               : 0;
      const double flash = std::max(r.pressure(T) - std::min(delay, 0.3 * r.pressure(T)), p_out);
      const double left = std::max(p - flash, 0.0);
      const double dp = left / (kLiquidSteps - i);
      const double dz = dp / gradient;
      const double given = heat * share_of_contact(tube, z, dz) / flow;
      T -= std::min(given / of.cp_l, 60.0);
      h -= given;
      z += dz;
      p -= dp;
    }
  }
  if (p <= p_out) return z;
  Saturated s = r.saturated(r.temperature(p));
  Stream here = stream_at(r, with, s, h);
  const double ratio = std::pow(std::max(p_out, 5e3) / p, 1.0 / kFlashSteps);
  for (int i = 0; i < kFlashSteps; ++i) {
    const double p_next = p * ratio;
    s = r.saturated(r.temperature(p_next));
    // Isenthalpic but for what the flow's own speed takes.
    Stream next = stream_at(r, with, s, h);
    next = stream_at(r, with, s, h - 0.5 * G * G * (next.v * next.v - here.v * here.v));
    const double v = 0.5 * (here.v + next.v), mu = 0.5 * (here.mu + next.mu);
    const double friction =
        with.friction * friction_factor(G * tube.bore / mu, relative) * G * G * v / (2 * tube.bore);
    const double driving = (p - p_next) - G * G * (next.v - here.v);
    if (driving <= 0) return z;
    const double dz = driving / friction;
    h -= heat * share_of_contact(tube, z, dz) / flow + 0.5 * G * G * (next.v * next.v - here.v * here.v);
    z += dz;
    p = p_next;
    here = next;
  }
  return z;
}

}  // namespace coldwright::lab

#include "circuit/working_fluid.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::circuit {
namespace {

// Cubic through four neighbours, continuous slope (Catmull-Rom). `w` are the weights at fraction t of the
// middle interval, `d` the weights of the slope per interval.
struct Cubic {
  int first;
  double w[4];
  double d[4];
};

Cubic cubic_at(double position, int n) {
  const double clamped = std::clamp(position, 0.0, static_cast<double>(n - 1));
  const int cell = std::clamp(static_cast<int>(clamped), 1, n - 3);
  const double t = clamped - cell;
  const double t2 = t * t, t3 = t2 * t;
  Cubic c{};
  c.first = cell - 1;
  c.w[0] = -0.5 * t3 + t2 - 0.5 * t;
  c.w[1] = 1.5 * t3 - 2.5 * t2 + 1;
  c.w[2] = -1.5 * t3 + 2 * t2 + 0.5 * t;
  c.w[3] = 0.5 * t3 - 0.5 * t2;
  c.d[0] = -1.5 * t2 + 2 * t - 0.5;
  c.d[1] = 4.5 * t2 - 5 * t;
  c.d[2] = -4.5 * t2 + 4 * t + 0.5;
  c.d[3] = 1.5 * t2 - t;
  return c;
}

}  // namespace

Result<WorkingFluid> WorkingFluid::make(const fluids::Fluid& fluid) {
  WorkingFluid table;
  table.designation_ = fluid.designation();
  auto done = table.tabulate_saturation(fluid);
  if (done) done = table.tabulate_vapour(fluid);
  if (!done) return done.problem();
  return table;
}

Result<bool> WorkingFluid::tabulate_saturation(const fluids::Fluid& fluid) {
  T1_ = 0.985 * fluid.limits().T_crit;
  T0_ = std::max(195.0, fluid.limits().T_min);
  const auto p_low = fluid.saturation_pressure(T0_);
  const auto p_high = fluid.saturation_pressure(T1_);
  if (!p_low) return p_low.problem();
  if (!p_high) return p_high.problem();
  lnp0_ = std::log(std::max(*p_low, 2000.0));
  lnp1_ = std::log(*p_high);
  n_sat_ = 400;
  sat_.resize(static_cast<std::size_t>(n_sat_ * kSatFields));
  for (int i = 0; i < n_sat_; ++i) {
    // The ends are nudged inwards so that rounding can't step over the fluid's own limits.
    const double lnp = lnp0_ + (lnp1_ - lnp0_) * i / (n_sat_ - 1);
    const auto s = fluid.saturation_at_p(std::exp(lnp));
    if (!s) return s.problem();
    const auto liquid = fluid.transport(s->liquid);
    const auto vapour = fluid.transport(s->vapour);
    if (!liquid) return liquid.problem();
    if (!vapour) return vapour.problem();
    double* row = &sat_[static_cast<std::size_t>(i * kSatFields)];
    row[0] = s->T;
    row[1] = s->liquid.h;
    row[2] = s->vapour.h;
    row[3] = s->liquid.rho;
    row[4] = std::log(s->vapour.rho);
    row[5] = std::log(liquid->viscosity);
    row[6] = std::log(vapour->viscosity);
    row[7] = s->liquid.single ? s->liquid.single->cp : 0;
  }
  T0_ = sat_[0];
  n_T_ = 400;
  lnp_T_.resize(static_cast<std::size_t>(n_T_));
  for (int i = 0; i < n_T_; ++i) {
    const auto p = fluid.saturation_pressure(T0_ + (T1_ - T0_) * i / (n_T_ - 1));
    if (!p) return p.problem();
    lnp_T_[static_cast<std::size_t>(i)] = std::log(*p);
  }
  return true;
}

Result<bool> WorkingFluid::tabulate_vapour(const fluids::Fluid& fluid) {
  n_p_ = 72;
  n_h_ = 40;
  // Superheat up to about 130 K above saturation, in enthalpy.
  dh1_ = 150.0 * (fluid.limits().M < 0.08 ? 2100.0 : 1150.0);
  vapour_.resize(static_cast<std::size_t>(n_p_ * n_h_ * kVapourFields));
  for (int i = 0; i < n_p_; ++i) {
    const double p = std::exp(lnp0_ + (lnp1_ - lnp0_) * i / (n_p_ - 1));
    const auto sat = fluid.saturation_at_p(p);
    if (!sat) return sat.problem();
    for (int j = 0; j < n_h_; ++j) {
      const double dh = dh1_ * j / (n_h_ - 1);
      const auto state = j == 0 ? Result<fluids::State>(sat->vapour) : fluid.at_ph(p, sat->vapour.h + dh);
      if (!state) return state.problem();
      if (!state->single) return Problem{"vapour table", fluid.designation(), "single-phase states", "the state split into two phases"};
      double* cell = &vapour_[static_cast<std::size_t>((i * n_h_ + j) * kVapourFields)];
      cell[0] = state->T;
      cell[1] = std::log(state->rho);
      cell[2] = state->rho * state->single->sound_speed * state->single->sound_speed / p;
    }
  }
  return true;
}

SatPoint WorkingFluid::saturation(double lnp) const {
  const Cubic c = cubic_at((lnp - lnp0_) / (lnp1_ - lnp0_) * (n_sat_ - 1), n_sat_);
  double f[kSatFields] = {};
  for (int i = 0; i < 4; ++i) {
    const double* row = &sat_[static_cast<std::size_t>((c.first + i) * kSatFields)];
    for (int k = 0; k < kSatFields; ++k) f[k] += c.w[i] * row[k];
  }
  return {f[0], f[1], f[2], f[3], std::exp(f[4]), std::exp(f[5]), std::exp(f[6]), f[7]};
}

double WorkingFluid::saturation_temperature(double lnp) const {
  const Cubic c = cubic_at((lnp - lnp0_) / (lnp1_ - lnp0_) * (n_sat_ - 1), n_sat_);
  double T = 0;
  for (int i = 0; i < 4; ++i) T += c.w[i] * sat_[static_cast<std::size_t>((c.first + i) * kSatFields)];
  return T;
}

double WorkingFluid::ln_saturation_pressure(double T) const {
  const Cubic c = cubic_at((T - T0_) / (T1_ - T0_) * (n_T_ - 1), n_T_);
  double lnp = 0;
  for (int i = 0; i < 4; ++i) lnp += c.w[i] * lnp_T_[static_cast<std::size_t>(c.first + i)];
  return lnp;
}

double WorkingFluid::saturation_pressure(double T) const { return std::exp(ln_saturation_pressure(T)); }

void WorkingFluid::vapour_fields(double lnp, double dh, double out[kVapourFields], double& dT_dh) const {
  const Cubic cp = cubic_at((lnp - lnp0_) / (lnp1_ - lnp0_) * (n_p_ - 1), n_p_);
  const Cubic ch = cubic_at(dh / dh1_ * (n_h_ - 1), n_h_);
  for (int k = 0; k < kVapourFields; ++k) out[k] = 0;
  dT_dh = 0;
  for (int i = 0; i < 4; ++i) {
    const double* row = &vapour_[static_cast<std::size_t>(((cp.first + i) * n_h_ + ch.first) * kVapourFields)];
    for (int j = 0; j < 4; ++j) {
      const double w = cp.w[i] * ch.w[j];
      for (int k = 0; k < kVapourFields; ++k) out[k] += w * row[j * kVapourFields + k];
      dT_dh += cp.w[i] * ch.d[j] * row[j * kVapourFields];
    }
  }
  dT_dh *= (n_h_ - 1) / dh1_;
}

VapourPoint WorkingFluid::vapour(double lnp, double h) const {
  const Cubic c = cubic_at((lnp - lnp0_) / (lnp1_ - lnp0_) * (n_sat_ - 1), n_sat_);
  double h_v = 0;
  for (int i = 0; i < 4; ++i) h_v += c.w[i] * sat_[static_cast<std::size_t>((c.first + i) * kSatFields + 2)];
  const double dh = std::max(h - h_v, 0.0);
  double f[kVapourFields], dT_dh;
  vapour_fields(lnp, dh, f, dT_dh);
  VapourPoint point{f[0], std::exp(f[1]), f[2], 1 / std::max(dT_dh, 1e-6)};
  if (dh > dh1_) {  // far beyond any machine: continue as a gas of constant heat capacity
    const double T = point.T + (dh - dh1_) / point.cp;
    point.rho *= point.T / T;
    point.T = T;
  }
  return point;
}

double WorkingFluid::vapour_enthalpy(double lnp, double T) const {
  const SatPoint sat = saturation(lnp);
  double f[kVapourFields], dT_dh;
  vapour_fields(lnp, 0, f, dT_dh);
  double dh = std::max(T - sat.T, 0.0) / dT_dh;
  for (int i = 0; i < 4; ++i) {
    vapour_fields(lnp, std::min(dh, dh1_), f, dT_dh);
    const double T_at = f[0] + std::max(dh - dh1_, 0.0) * dT_dh;
    dh = std::max(dh + (T - T_at) / dT_dh, 0.0);
  }
  return sat.h_v + dh;
}

}  // namespace coldwright::circuit

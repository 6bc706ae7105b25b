#include "circuit/working_fluid.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

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
  const double clamped = position > 0 ? std::min(position, static_cast<double>(n - 1)) : 0.0;
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

// Row below a position and the weight of the row above it, clamped to the table.
struct Place {
  int row;
  double weight;
};

Place place(double position, int n) {
  const double at =
      position > 0 ? std::min(position, static_cast<double>(n - 1)) : 0.0;  // NaN reads the first row
  const int row = std::min(static_cast<int>(at), n - 2);
  return {row, at - row};
}

/// A blend is taken to boil at its dew temperature throughout, which its glide must allow.
std::optional<Problem> too_much_glide(const fluids::Fluid& fluid) {
  constexpr double most_glide = 1.5, where = 5e5;  // K, Pa
  const auto bubble = fluid.bubble_temperature(where), dew = fluid.dew_temperature(where);
  if (!fluid.is_blend() || !bubble || !dew || *dew - *bubble <= most_glide) return std::nullopt;
  char glide[80];
  std::snprintf(glide, sizeof glide, "a glide of %.1f K at 500 kPa", *dew - *bubble);
  return Problem{"refrigerant", fluid.designation() + ", " + glide,
                 "a pure refrigerant, or a blend that glides by up to 1.5 K",
                 "the model of the machine evaporates and condenses at one temperature"};
}

}  // namespace

bool WorkingFluid::suits(const fluids::Fluid& fluid) { return !too_much_glide(fluid); }

Result<WorkingFluid> WorkingFluid::make(const fluids::Fluid& fluid) {
  if (auto problem = too_much_glide(fluid)) return *problem;
  WorkingFluid table;
  table.designation_ = fluid.designation();
  auto done = table.tabulate_saturation(fluid);
  if (done) done = table.tabulate_vapour(fluid);
  if (!done) return done.problem();
  return table;
}

Result<bool> WorkingFluid::tabulate_saturation(const fluids::Fluid& fluid) {
  T1_ = 0.985 * fluid.limits().T_crit;
  T0_ = std::max(195.0, fluid.limits().T_min + 0.01);
  // Of a blend the higher and the lower one, so that both its lines exist between them.
  const auto p_low = fluid.bubble_pressure(T0_);
  const auto p_high = fluid.dew_pressure(T1_);
  if (!p_low) return p_low.problem();
  if (!p_high) return p_high.problem();
  lnp0_ = std::log(std::max(*p_low, 2000.0));
  lnp1_ = std::log(*p_high);
  n_sat_ = 2000;  // 0.003 in ln p: linear is good to 1e-6 there
  per_lnp_ = (n_sat_ - 1) / (lnp1_ - lnp0_);
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
    row[0] = s->vapour.T;
    row[1] = s->liquid.h;
    row[2] = s->vapour.h;
    row[3] = s->liquid.rho;
    row[4] = s->vapour.rho;
    row[5] = liquid->viscosity;
    row[6] = vapour->viscosity;
    row[7] = s->liquid.single ? s->liquid.single->cp : 0;
  }
  T0_ = sat_[0];
  n_T_ = 4000;
  per_T_ = (n_T_ - 1) / (T1_ - T0_);
  lnp_T_.resize(static_cast<std::size_t>(n_T_));
  for (int i = 0; i < n_T_; ++i) {
    const auto p = fluid.dew_pressure(T0_ + (T1_ - T0_) * i / (n_T_ - 1));
    if (!p) return p.problem();
    lnp_T_[static_cast<std::size_t>(i)] = std::log(*p);
  }
  return true;
}

Result<bool> WorkingFluid::tabulate_vapour(const fluids::Fluid& fluid) {
  n_p_ = 160;
  n_h_ = 32;
  // As much superheat as the equation allows at every pressure, but no more than any machine shows.
  dh1_ = 320e3;
  for (int i = 0; i < n_p_; ++i) {
    const double lnp = lnp0_ + (lnp1_ - lnp0_) * i / (n_p_ - 1);
    const auto hottest = fluid.at_Tp(fluid.limits().T_max - 1, std::exp(lnp));
    const auto saturated = fluid.saturation_at_p(std::exp(lnp));
    if (!hottest) return hottest.problem();
    if (!saturated) return saturated.problem();
    dh1_ = std::min(dh1_, hottest->h - saturated->vapour.h);
  }
  vapour_.resize(static_cast<std::size_t>(n_p_ * n_h_ * kVapourFields));
  for (int i = 0; i < n_p_; ++i) {
    const double p = std::exp(lnp0_ + (lnp1_ - lnp0_) * i / (n_p_ - 1));
    const auto sat = fluid.saturation_at_p(p);
    if (!sat) return sat.problem();
    for (int j = 0; j < n_h_; ++j) {
      const double dh = dh1_ * j / (n_h_ - 1);
      const auto state = j == 0 ? Result<fluids::State>(sat->vapour) : fluid.at_ph(p, sat->vapour.h + dh);
      if (!state) return state.problem();
      if (!state->single)
        return Problem{"vapour table", fluid.designation(), "single-phase states",
                       "the state split into two phases"};
      double* cell = &vapour_[static_cast<std::size_t>((i * n_h_ + j) * kVapourFields)];
      cell[0] = state->T;
      cell[1] = state->rho / p;
      cell[2] = state->rho * state->single->sound_speed * state->single->sound_speed / p;
    }
  }
  return true;
}

SatPoint WorkingFluid::saturation(double lnp) const {
  const Place at = place((lnp - lnp0_) * per_lnp_, n_sat_);
  const double* low = &sat_[static_cast<std::size_t>(at.row * kSatFields)];
  double f[kSatFields];
  for (int k = 0; k < kSatFields; ++k) f[k] = low[k] + at.weight * (low[k + kSatFields] - low[k]);
  return {f[0], f[1], f[2], f[3], f[4], f[5], f[6], f[7]};
}

double WorkingFluid::saturation_temperature(double lnp) const { return saturation(lnp).T; }

double WorkingFluid::ln_saturation_pressure(double T) const {
  const Place at = place((T - T0_) * per_T_, n_T_);
  const double* low = &lnp_T_[static_cast<std::size_t>(at.row)];
  return low[0] + at.weight * (low[1] - low[0]);
}

double WorkingFluid::saturation_pressure(double T) const { return std::exp(ln_saturation_pressure(T)); }

Isobar WorkingFluid::isobar(double lnp) const {
  const Place at = place((lnp - lnp0_) / (lnp1_ - lnp0_) * (n_p_ - 1), n_p_);
  return {this, lnp, std::exp(lnp), saturation(lnp), at.row, at.weight};
}

// Linear in ln p (rho is stored over p, so that nothing bends much), cubic in enthalpy.
void WorkingFluid::vapour_fields(const Isobar& at, double dh, double out[kVapourFields],
                                 double& dT_dh) const {
  const Cubic ch = cubic_at(dh / dh1_ * (n_h_ - 1), n_h_);
  const double* low = &vapour_[static_cast<std::size_t>((at.row * n_h_ + ch.first) * kVapourFields)];
  const double* high = low + n_h_ * kVapourFields;
  const double a = 1 - at.weight, b = at.weight;
  out[0] = out[1] = out[2] = dT_dh = 0;
  for (int j = 0; j < 4; ++j) {
    const double T = a * low[j * kVapourFields] + b * high[j * kVapourFields];
    out[0] += ch.w[j] * T;
    dT_dh += ch.d[j] * T;
    for (int k = 1; k < kVapourFields; ++k)
      out[k] += ch.w[j] * (a * low[j * kVapourFields + k] + b * high[j * kVapourFields + k]);
  }
  dT_dh *= (n_h_ - 1) / dh1_;
}

VapourPoint Isobar::vapour(double h) const {
  const double dh = std::max(h - sat.h_v, 0.0);
  double f[WorkingFluid::kVapourFields], dT_dh;
  fluid->vapour_fields(*this, dh, f, dT_dh);
  VapourPoint point{f[0], f[1] * p, f[2], 1 / std::max(dT_dh, 1e-6)};
  if (dh > fluid->dh1_) {  // far beyond any machine: continue as a gas of constant heat capacity
    const double T = point.T + (dh - fluid->dh1_) / point.cp;
    point.rho *= point.T / T;
    point.T = T;
  }
  return point;
}

double Isobar::vapour_enthalpy(double T) const {
  double f[WorkingFluid::kVapourFields], dT_dh;
  fluid->vapour_fields(*this, 0, f, dT_dh);
  double dh = std::max(T - sat.T, 0.0) / dT_dh;
  for (int i = 0; i < 3; ++i) {  // Newton on a nearly straight line
    fluid->vapour_fields(*this, std::min(dh, fluid->dh1_), f, dT_dh);
    const double T_at = f[0] + std::max(dh - fluid->dh1_, 0.0) * dT_dh;
    dh = std::max(dh + (T - T_at) / dT_dh, 0.0);
  }
  return sat.h_v + dh;
}

double Isobar::density(double h) const {
  if (h >= sat.h_v) return vapour(h).rho;
  if (h <= sat.h_l) return sat.rho_l;
  const double x = (h - sat.h_l) / (sat.h_v - sat.h_l);
  return 1 / (x / sat.rho_v + (1 - x) / sat.rho_l);
}

}  // namespace coldwright::circuit

#include "lab/refrigerant.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::lab {

namespace {

constexpr int kFields = 3;
constexpr int kPieces = 48;
constexpr double kSpan = 320e3;  // J/kg above dew

// Weights of the four nodes around a place 0..1 between the middle two: a cubic with continuous slope.
struct Cubic {
  double w[4];
  explicit Cubic(double t) {
    const double t2 = t * t, t3 = t2 * t;
    w[0] = 0.5 * (-t + 2 * t2 - t3);
    w[1] = 0.5 * (2 - 5 * t2 + 3 * t3);
    w[2] = 0.5 * (t + 4 * t2 - 3 * t3);
    w[3] = 0.5 * (-t2 + t3);
  }
};

}  // namespace

Result<Refrigerant> Refrigerant::make(const fluids::Fluid& fluid) {
  if (fluid.is_blend())
    return Problem{"refrigerant", fluid.designation(), "one pure refrigerant",
                   "the virtual cabinet keeps one composition in every cell"};
  Refrigerant r;
  const auto& limits = fluid.limits();
  r.T_critical_ = limits.T_crit;
  r.p_critical_ = limits.p_crit;
  r.molar_mass_ = limits.M;
  r.T_low_ = std::max(limits.T_min + 1, 0.52 * limits.T_crit);
  r.T_high_ = 0.985 * limits.T_crit;
  bool ok = true;
  const auto saturation = [&](double T) {
    auto s = fluid.saturation_at_T(T);
    if (!s) ok = false;
    return s ? *s : fluids::Saturation{};
  };
  const auto transport = [&](const fluids::State& s) {
    auto t = fluid.transport(s);
    if (!t) ok = false;
    return t ? *t : fluids::Transport{};
  };
  const auto curve = [&](auto&& f) { return fluids::QuickCurveOf<Two>(r.T_low_, r.T_high_, kPieces, f); };
  r.ln_p_rho_v_ = curve([&](double T) {
    const auto s = saturation(T);
    return Two{std::log(s.vapour.p), std::log(s.vapour.rho)};
  });
  r.rho_l_u_l_ = curve([&](double T) {
    const auto s = saturation(T);
    return Two{s.liquid.rho, s.liquid.u};
  });
  r.u_v_sigma_ = curve([&](double T) {
    const auto tension = fluid.surface_tension(T);
    if (!tension) ok = false;
    return Two{saturation(T).vapour.u, tension ? *tension : 0};
  });
  r.mu_ = curve([&](double T) {
    const auto s = saturation(T);
    return Two{transport(s.liquid).viscosity, transport(s.vapour).viscosity};
  });
  r.k_ = curve([&](double T) {
    const auto s = saturation(T);
    return Two{transport(s.liquid).conductivity, transport(s.vapour).conductivity};
  });
  r.cp_ = curve([&](double T) {
    const auto s = saturation(T);
    return Two{s.liquid.single ? s.liquid.single->cp : 0, s.vapour.single ? s.vapour.single->cp : 0};
  });
  if (!ok)
    return Problem{"refrigerant", fluid.designation(), "one with equations for states and transport",
                   "the virtual cabinet needs both along the whole saturation line"};

  const auto solve = [&](auto&& f, double wanted) {  // f rises over T
    double low = r.T_low_, high = r.T_high_;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      (f(middle) < wanted ? low : high) = middle;
    }
    return 0.5 * (low + high);
  };
  const auto ln_p = [&](double T) { return r.ln_p_rho_v_.at(T)[0]; };
  const auto ln_rho = [&](double T) { return r.ln_p_rho_v_.at(T)[1]; };
  const auto u_l = [&](double T) { return r.rho_l_u_l_.at(T)[1]; };
  r.T_of_ln_p_ =
      fluids::QuickCurve(ln_p(r.T_low_), ln_p(r.T_high_), kPieces, [&](double x) { return solve(ln_p, x); });
  r.T_of_u_l_ =
      fluids::QuickCurve(u_l(r.T_low_), u_l(r.T_high_), kPieces, [&](double x) { return solve(u_l, x); });
  r.ln_rho_low_ = ln_rho(r.T_low_);
  const double ln_rho_high = ln_rho(r.T_high_);
  r.dew_by_ln_rho_ = fluids::QuickCurveOf<Two>(r.ln_rho_low_, ln_rho_high, kPieces, [&](double x) {
    const double T = solve(ln_rho, x);
    return Two{r.u_v_sigma_.at(T)[0], T};
  });

  r.rows_ = 72;
  r.columns_ = 56;
  r.per_ln_rho_ = (r.rows_ - 1) / (ln_rho_high - r.ln_rho_low_);
  r.per_u_ = (r.columns_ - 1) / kSpan;
  r.nodes_.resize(static_cast<std::size_t>(r.rows_ * r.columns_ * kFields));
  for (int i = 0; i < r.rows_; ++i) {
    const double x = r.ln_rho_low_ + i / r.per_ln_rho_, rho = std::exp(x);
    const Two dew = r.dew_by_ln_rho_.at(std::min(x, ln_rho_high));
    double T = dew[1];
    for (int j = 0; j < r.columns_; ++j) {
      const double u = dew[0] + j / r.per_u_;
      double* node = &r.nodes_[static_cast<std::size_t>((i * r.columns_ + j) * kFields)];
      fluids::State s{};
      for (int step = 0; step < 8; ++step) {
        const auto found = fluid.at_Trho(std::clamp(T, dew[1] * (1 + 1e-9), limits.T_max), rho);
        if (!found) return found.problem();
        s = *found;
        const double off = u - s.u;
        T = s.T + off / (s.single ? s.single->cv : 1500);
        if (std::abs(off) < 1e-3 || T > limits.T_max) break;
      }
      // Hotter than the equation reaches: straight on, at the last heat capacity; such vapour is only met on
      // the solver's way.
      const double beyond = T > limits.T_max ? T / s.T : 1;
      node[0] = s.T * beyond;
      node[1] = s.p / rho * beyond;
      node[2] = s.single ? rho * s.single->sound_speed * s.single->sound_speed / s.p : 1.1;
    }
  }
  return r;
}

double Refrigerant::clamp_T(double T) const { return std::clamp(T, T_low_, T_high_); }

Saturated Refrigerant::saturated(double T) const {
  T = clamp_T(T);
  const Two a = ln_p_rho_v_.at(T), b = rho_l_u_l_.at(T), c = u_v_sigma_.at(T);
  return {T, std::exp(a[0]), b[0], std::exp(a[1]), b[1], c[0]};
}

Carrying Refrigerant::carrying(double T) const {
  T = clamp_T(T);
  const Two mu = mu_.at(T), k = k_.at(T), cp = cp_.at(T);
  return {mu[0], mu[1], k[0], k[1], cp[0], cp[1], u_v_sigma_.at(T)[1]};
}

double Refrigerant::pressure(double T) const { return std::exp(ln_p_rho_v_.at(clamp_T(T))[0]); }

double Refrigerant::temperature(double p) const {
  const double low = ln_p_rho_v_.at(T_low_)[0], high = ln_p_rho_v_.at(T_high_)[0];
  return T_of_ln_p_.at(std::clamp(std::log(p), low, high));
}

Vapour Refrigerant::vapour(double rho, double u) const {
  const double x_high = ln_rho_low_ + (rows_ - 1) / per_ln_rho_;
  const double ln_rho = std::log(rho), x = std::clamp(ln_rho, ln_rho_low_, x_high);
  const double above = u - dew_by_ln_rho_.at(x)[0];
  const double row = (x - ln_rho_low_) * per_ln_rho_;
  const double column = std::clamp(above * per_u_, 0.0, columns_ - 1.0);
  const int i = std::min(static_cast<int>(row), rows_ - 2),
            j = std::min(static_cast<int>(column), columns_ - 2);
  const Cubic a(row - i), b(column - j);
  double out[kFields] = {};
  for (int m = 0; m < 4; ++m)
    for (int n = 0; n < 4; ++n) {
      // Beyond the edge the table goes on straight.
      int ii = i - 1 + m, jj = j - 1 + n;
      double w = a.w[m] * b.w[n];
      const auto add = [&](int at_i, int at_j, double weight) {
        const double* node = &nodes_[static_cast<std::size_t>((at_i * columns_ + at_j) * kFields)];
        for (int f = 0; f < kFields; ++f) out[f] += weight * node[f];
      };
      const auto add_j = [&](int at_i, double weight) {
        if (jj < 0) {
          add(at_i, 0, 2 * weight);
          add(at_i, 1, -weight);
        } else if (jj >= columns_) {
          add(at_i, columns_ - 1, 2 * weight);
          add(at_i, columns_ - 2, -weight);
        } else {
          add(at_i, jj, weight);
        }
      };
      if (ii < 0) {
        add_j(0, 2 * w);
        add_j(1, -w);
      } else if (ii >= rows_) {
        add_j(rows_ - 1, 2 * w);
        add_j(rows_ - 2, -w);
      } else {
        add_j(ii, w);
      }
    }
  // Hotter or colder than the table: at the heat capacity of its edge.
  const double beyond = above - column / per_u_;
  if (beyond != 0) {
    constexpr double cv = 1700;  // J/(kg K), our estimate: such vapour is only met on the way
    const double before = out[0];
    out[0] = std::max(before + beyond / cv, 0.4 * before);
    out[1] *= out[0] / before;
  }
  return {out[0], out[1] * rho, std::max(out[2], 1.02)};
}

Refrigerant::Gas Refrigerant::gas(double p, double h) const {
  const Saturated s = saturated(temperature(p));
  double rho = s.rho_v, u = std::max(h, s.h_v()) - p / rho;
  Vapour v{};
  for (int i = 0; i < 12; ++i) {
    u = std::max(h, s.h_v()) - p / rho;
    v = vapour(rho, u);
    const double better = rho * p / v.p;
    const double off = std::abs(better / rho - 1);
    rho = better;
    if (off < 1e-8) break;
  }
  return {v.T, rho, u, v.k};
}

Content Refrigerant::liquid(double rho, double u, double gas, double volume) const {
  const Saturated s = saturated(T_of_u_l_.at(u));
  Content c{};
  c.held = Held::liquid;
  c.T = s.T;
  c.at = s;
  c.p_gas = gas > 0 ? gas * kGasConstant * s.T / (0.01 * volume) : 0;
  const double p = s.p + kModulus * (rho / s.rho_l - 1);
  c.p = p + c.p_gas;
  c.h_l = u + p / rho;
  c.h_v = s.h_v();
  return c;
}

Content Refrigerant::two_phase(double mass, double energy, double gas, double volume, double near) const {
  const double v = volume / mass;
  double x = 0;
  Saturated s{};
  const auto excess = [&](double T) {
    s = saturated(T);
    const double v_l = 1 / s.rho_l, v_v = 1 / s.rho_v;
    x = (v - v_l) / (v_v - v_l);
    return s.u_l + x * (s.u_v - s.u_l) + (gas * kGasHeat * T - energy) / mass;
  };
  double low = T_low_, high = T_high_;
  double T0 = std::clamp(near, low + 0.1, high - 0.1), f0 = excess(T0);
  double T1 = std::clamp(T0 - f0 / 8e3, low, high);
  if (std::abs(T1 - T0) < 1e-3) T1 = T0 + (T1 >= T0 ? 1e-3 : -1e-3);
  for (int i = 0; i < 60; ++i) {
    const double f1 = excess(T1);
    (f1 < 0 ? low : high) = T1;
    if (std::abs(f1) < 1e-7 || high - low < 1e-11) break;
    double T2 = T1 - f1 * (T1 - T0) / (f1 - f0);
    if (!(T2 > low && T2 < high)) T2 = 0.5 * (low + high);
    T0 = T1;
    f0 = f1;
    T1 = T2;
  }
  Content c{};
  c.held = Held::two_phase;
  c.T = s.T;
  c.at = s;
  c.quality = std::clamp(x, 0.0, 1.0);
  c.open = std::clamp(c.quality * mass / (s.rho_v * volume), 0.0, 1.0);
  c.p_gas = gas > 0 ? gas * kGasConstant * s.T / (volume * std::max(c.open, 0.01)) : 0;
  c.p = s.p + c.p_gas;
  c.h_l = s.h_l();
  c.h_v = s.h_v();
  return c;
}

Content Refrigerant::content(double mass, double energy, double gas, double volume, double near) const {
  const double rho = mass / volume;
  double u = (energy - gas * kGasHeat * near) / mass;  // right at once without foreign gas
  if (gas <= 0) u = energy / mass;
  const double x_high = ln_rho_low_ + (rows_ - 1) / per_ln_rho_;
  const double ln_rho = std::log(rho);
  if (ln_rho < x_high) {
    const double x = std::max(ln_rho, ln_rho_low_);
    const Two dew = dew_by_ln_rho_.at(x);
    if (energy >= mass * dew[0] + gas * kGasHeat * dew[1]) {
      Vapour v = vapour(rho, gas > 0 ? energy / mass - gas * kGasHeat * dew[1] / mass : u);
      if (gas > 0)
        for (int i = 0; i < 6; ++i) {
          u = (energy - gas * kGasHeat * v.T) / mass;
          const Vapour next = vapour(rho, u);
          const bool done = std::abs(next.T - v.T) < 1e-9;
          v = next;
          if (done) break;
        }
      Content c{};
      c.held = Held::vapour;
      c.T = v.T;
      c.quality = c.open = 1;
      c.p_gas = gas > 0 ? gas * kGasConstant * v.T / volume : 0;
      c.p = v.p + c.p_gas;
      c.at = saturated(std::min(dew[1], T_high_));
      c.at.rho_v = rho;
      c.at.u_v = u;
      c.h_v = u + v.p / rho;
      c.h_l = c.at.h_l();
      return c;
    }
  }
  const double u_alone = gas > 0 ? u : energy / mass;
  const double u_low = rho_l_u_l_.at(T_low_)[1], u_high = rho_l_u_l_.at(T_high_)[1];
  if (u_alone < u_high) {
    const double u_in = std::max(u_alone, u_low);
    if (rho >= saturated(T_of_u_l_.at(u_in)).rho_l) return liquid(rho, u_in, gas, volume);
  }
  return two_phase(mass, energy, gas, volume, near);
}

}  // namespace coldwright::lab

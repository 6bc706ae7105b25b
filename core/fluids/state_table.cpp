#include "fluids/state_table.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::fluids {
namespace {

constexpr double table_coldest = 185, least_subcooling = 12, lowest_pressure = 1e3, highest_part = 0.9,
                 warmest_superheat = 100;
constexpr int rows = 16, columns_of_h = 8, columns_of_T = 16, curve_pieces = 32;

Two both(const std::array<double, 2>& pair) { return Two{pair[0], pair[1]}; }

}  // namespace

template <class Of>
void StateTable::Patches::fill(int rows_in, int columns_in, Of&& of) {
  rows_ = rows_in;
  columns_ = columns_in;
  using Line = std::array<double, terms>;
  for (int i = 0; i < rows_; ++i)
    for (int j = 0; j < columns_; ++j) {
      std::array<std::array<Line, terms>, 2> values;  // of either function, along v for each node of u
      for (std::size_t a = 0; a < terms; ++a)
        for (std::size_t b = 0; b < terms; ++b) {
          const Pair pair =
              of(i + 0.5 * (1 + chebyshev_node<terms>(a)), j + 0.5 * (1 + chebyshev_node<terms>(b)));
          values[0][a][b] = pair[0];
          values[1][a][b] = pair[1];
        }
      auto& cell = cells_.emplace_back();
      for (std::size_t f = 0; f < 2; ++f) {
        for (Line& line : values[f]) line = monomials(line);
        for (std::size_t n = 0; n < terms; ++n) {
          Line across;
          for (std::size_t a = 0; a < terms; ++a) across[a] = values[f][a][n];
          const Line powers = monomials(across);
          for (std::size_t m = 0; m < terms; ++m) cell[m * terms + n][f] = powers[m];
        }
      }
    }
}

StateTable::Patches::Pair StateTable::Patches::at(double u, double v) const {
  const int i = std::clamp(static_cast<int>(u), 0, rows_ - 1),
            j = std::clamp(static_cast<int>(v), 0, columns_ - 1);
  const double s = 2 * (u - i) - 1, t = 2 * (v - j) - 1, t2 = t * t, s2 = s * s;
  const Pair* c = cells_[static_cast<std::size_t>(i * columns_ + j)].data();
  const auto row = [&](std::size_t n) {
    const Pair* k = c + n * terms;
    return (both(k[0]) + both(k[1]) * t) +
           ((both(k[2]) + both(k[3]) * t) + (both(k[4]) + both(k[5]) * t) * t2) * t2;
  };
  const Two out = (row(0) + row(1) * s) + ((row(2) + row(3) * s) + (row(4) + row(5) * s) * s2) * s2;
  return {out[0], out[1]};
}

std::optional<StateTable::Side> StateTable::fill(const Fluid& fluid, bool vapour) const {
  Side out;
  bool complete = true;
  const auto p_of = [&](double y) { return std::clamp(std::exp(ln_crit_ - y * y), p_low_, p_high_); };
  const auto saturated = [&](double p) {
    const auto ends = fluid.saturation_at_p(p);
    complete = complete && ends;
    return ends ? (vapour ? ends->vapour : ends->liquid) : State{};
  };
  const double superheat = std::min(warmest_superheat, fluid.limits().T_max - 1 - saturated(p_high_).T);
  const auto far = [&](double p) {
    const State near = saturated(p);
    const auto state = fluid.at_Tp(vapour ? near.T + superheat : T_low_, p);
    complete = complete && state;
    return state ? *state : State{};
  };
  const auto curve = [&](double State::*of) {
    return QuickCurveOf<Two>(y_low_, y_high_, curve_pieces, [&](double y) {
      const double near = saturated(p_of(y)).*of;
      return Two{near, 1 / (far(p_of(y)).*of - near)};
    });
  };
  out.h = curve(&State::h);
  out.T = curve(&State::T);
  const auto pair = [&](const Result<State>& state, double p, bool by_h) {
    complete = complete && state;
    if (!state) return Patches::Pair{};
    return Patches::Pair{by_h ? state->T : state->h, (vapour ? p : 1.0) / state->rho};
  };
  out.by_h.fill(rows, columns_of_h, [&](double u, double v) {
    const double y = y_low_ + u / per_y_, along = v / columns_of_h;
    const Two ends = out.h.at(y);
    return pair(fluid.at_ph(p_of(y), ends[0] + along * along / ends[1]), p_of(y), true);
  });
  out.by_T.fill(rows, columns_of_T, [&](double u, double v) {
    const double y = y_low_ + u / per_y_, along = v / columns_of_T;
    const Two ends = out.T.at(y);
    return pair(fluid.at_Tp(ends[0] + along * along / ends[1], p_of(y)), p_of(y), false);
  });
  if (!complete) return std::nullopt;
  return out;
}

Result<StateTable> StateTable::make(const Fluid& fluid) {
  StateTable out;
  out.blend_ = fluid.is_blend();
  const Limits& limits = fluid.limits();
  out.T_low_ = std::max(table_coldest, limits.T_min + 0.01);
  const auto p_coldest = fluid.bubble_pressure(out.T_low_ + least_subcooling);
  if (!p_coldest) return p_coldest.problem();
  out.p_low_ = std::max(lowest_pressure, *p_coldest);
  out.p_high_ = highest_part * limits.p_crit;
  if (const auto end = fluid.dew_pressure(fluid.T_two_phase_max()); end)
    out.p_high_ = std::min(out.p_high_, 0.999 * *end);
  out.ln_crit_ = std::log(limits.p_crit);
  out.y_low_ = std::sqrt(out.ln_crit_ - std::log(out.p_high_));
  out.y_high_ = std::sqrt(out.ln_crit_ - std::log(out.p_low_));
  out.per_y_ = rows / (out.y_high_ - out.y_low_);
  auto liquid = out.fill(fluid, false), vapour = out.fill(fluid, true);
  if (!liquid || !vapour)
    return Problem{"table", fluid.designation(), "a refrigerant whose states can be tabulated",
                   "a state inside the table's limits has no answer"};
  out.liquid_ = std::move(*liquid);
  out.vapour_ = std::move(*vapour);
  return out;
}

std::optional<TableState> StateTable::at_ph(double p, double h) const {
  if (!(p >= p_low_ && p <= p_high_)) return std::nullopt;
  const double y = std::sqrt(ln_crit_ - std::log(p)), u = (y - y_low_) * per_y_;
  const Two dew = vapour_.h.at(y);
  if (h >= dew[0]) {
    const double along = (h - dew[0]) * dew[1];
    if (!(along <= 1)) return std::nullopt;
    const auto [T, volume] = vapour_.by_h.at(u, columns_of_h * std::sqrt(along));
    return TableState{T, p / volume, h, Phase::vapour};
  }
  const Two bubble = liquid_.h.at(y);
  if (h <= bubble[0]) {
    const double along = (h - bubble[0]) * bubble[1];
    if (!(along <= 1)) return std::nullopt;
    const auto [T, volume] = liquid_.by_h.at(u, columns_of_h * std::sqrt(along));
    return TableState{T, 1 / volume, h, Phase::liquid};
  }
  if (blend_) return std::nullopt;
  const double quality = (h - bubble[0]) / (dew[0] - bubble[0]);
  if (!(quality >= 0)) return std::nullopt;  // not a number
  const double v_liquid = liquid_.by_h.at(u, 0)[1], v_vapour = vapour_.by_h.at(u, 0)[1] / p;
  return TableState{vapour_.T.at(y)[0], 1 / (v_liquid + quality * (v_vapour - v_liquid)), h,
                    Phase::two_phase};
}

std::optional<TableState> StateTable::at_Tp(double T, double p) const {
  if (!(p >= p_low_ && p <= p_high_)) return std::nullopt;
  const double y = std::sqrt(ln_crit_ - std::log(p)), u = (y - y_low_) * per_y_;
  const Two dew = vapour_.T.at(y);
  if (T >= dew[0]) {
    const double along = (T - dew[0]) * dew[1];
    if (!(along <= 1)) return std::nullopt;
    const auto [h, volume] = vapour_.by_T.at(u, columns_of_T * std::sqrt(along));
    return TableState{T, p / volume, h, Phase::vapour};
  }
  const Two bubble = liquid_.T.at(y);
  if (T > bubble[0]) return std::nullopt;
  const double along = (T - bubble[0]) * bubble[1];
  if (!(along <= 1)) return std::nullopt;
  const auto [h, volume] = liquid_.by_T.at(u, columns_of_T * std::sqrt(along));
  return TableState{T, 1 / volume, h, Phase::liquid};
}

}  // namespace coldwright::fluids

#include "circuit/operating_point.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "circuit/charge.hpp"

namespace coldwright::circuit {
namespace {

using Vec3 = std::array<double, 3>;  // unknowns: ln p_e, T_c (or extra condenser conductance), h_eo

constexpr double kMaxStep[3] = {0.4, 10, 80e3};
constexpr double kNudge[3] = {1e-4, 2e-3, 20};
constexpr double kTolerance = 2e-6;
constexpr double kAtRest = 1e-4;  // what is still taken where no step leads nearer
constexpr int kMaxIterations = 40;

// What one evaluation works on. With `fixed_Tc` set the condensing temperature is given and the second
// unknown is ln of a factor on the condenser's conductance: how much better it would have to be to hold that
// state.
struct Problem3 {
  const Machine& machine;
  const WorkingFluid& fluid;
  const Conditions& conditions;
  const Departure& departure;
  double charge;
  double fixed_Tc = 0;
  int evaluations = 0;
};

struct Balance {
  Vec3 residual;
  OperatingPoint point;
};

double elsewhere(const Problem3& q, const Isobar& suction, const CompressorPoint& comp,
                 const CondenserPoint& cond, const Isobar& condensing) {
  const WorkingFluid& f = q.fluid;
  const Vessels& v = q.machine.vessels;
  const SatPoint& sat = condensing.sat;
  double line_rho = 0;
  if (cond.x_out >= 1) {
    line_rho = condensing.vapour(cond.h_out).rho;
  } else if (cond.x_out > 0) {
    line_rho = two_phase_mean_density(cond.x_out, cond.x_out, sat.rho_l, sat.rho_v, 1.0);
  } else {
    line_rho = f.at_temperature(cond.T_out).rho_l;
  }
  const double T_oil = std::clamp(comp.T_shell, f.T_low(), f.T_high());
  const double r = suction.p / f.saturation_pressure(T_oil);
  const double shell_rho =
      suction.sat.rho_v * suction.sat.T / std::max(comp.T_shell, suction.sat.T);  // a thin gas
  return v.liquid_line * line_rho + v.shell * shell_rho + v.oil * dissolved_in_oil(r, v.oil_solubility);
}

Balance evaluate(Problem3& q, const Vec3& x) {
  ++q.evaluations;
  const Machine& m = q.machine;
  const WorkingFluid& f = q.fluid;
  const double lnp_e = x[0], h_eo = x[2];
  const double T_c = q.fixed_Tc > 0 ? q.fixed_Tc : x[1];
  const double lnp_c = f.ln_saturation_pressure(T_c);
  const double p_c = std::exp(lnp_c);
  const double foreign = q.departure.noncondensable;
  const double lnp_d = std::log(p_c + foreign);
  const double lnp_s = lnp_e + std::log(1 - m.suction_drop);
  const double T_air = q.conditions.ambient;

  AirPoint cold_side =
      air_point(m.condenser_air, q.departure.condenser_air, q.conditions.air_density, T_c - T_air);
  cold_side.K *= std::max(1 - 0.04e-5 * foreign, 0.5);  // gas blanket on the tube, 4 % a bar, our estimate
  if (q.fixed_Tc > 0) cold_side.K *= std::exp(x[1]);
  const Isobar evaporating = f.isobar(lnp_e), condensing = f.isobar(lnp_c);
  const Ports gas = ports(f, lnp_s, lnp_d);
  const SatPoint& sat_e = evaporating.sat;

  // Suction exchange needs the condenser outlet and the condenser needs the compressor: two rounds close it.
  double T_hot = T_c - 0.35 * std::max(T_c - T_air, 0.0);
  SuctionPoint suction{};
  CompressorPoint comp{};
  CondenserPoint cond{};
  for (int round = 0; round < 2; ++round) {
    suction = exchange(m.suction, evaporating, h_eo, T_hot, T_air);
    comp = run(m.compressor, gas, suction.h_out, T_air, q.conditions.voltage, q.departure.compressor,
               round > 0 ? &comp : nullptr);
    cond =
        condense(m.condenser, condensing, cold_side.K, T_air, comp.flow, comp.h_discharge, comp.T_discharge);
    T_hot = cond.T_out;
  }
  Capillary tube = m.capillary;
  tube.open_share *= q.departure.capillary_open;
  const CapillaryFlow cap = flow_through(tube, f, {lnp_d, cond.h_out}, lnp_e, suction.heat, comp.flow);
  const double h_ei = cond.h_out - suction.heat;
  const AirPoint warm_side = air_point(m.evaporator_air, q.departure.evaporator_air, q.conditions.air_density,
                                       q.conditions.box - sat_e.T);
  const EvaporatorPoint evap =
      evaporate(m.evaporator, evaporating, warm_side.K, q.conditions.box, comp.flow, h_ei);
  const double other = elsewhere(q, gas.suction, comp, cond, condensing);

  Balance b{};
  b.residual = {(cap.flow - comp.flow) / (0.5 * (cap.flow + comp.flow) + 0.02 * m.evaporator.design_flow),
                (evap.h_out - h_eo) / 1e5, (cond.mass + evap.mass + other - q.charge) / q.charge};
  OperatingPoint& p = b.point;
  p.p_evaporator = std::exp(lnp_e);
  p.p_suction = std::exp(lnp_s);
  p.p_condensing = p_c;
  p.p_discharge = p_c + foreign;
  p.T_evaporating = sat_e.T;
  p.T_condensing = T_c;
  p.flow = comp.flow;
  p.T_evaporator_out = evap.T_out;
  p.T_suction = suction.T_out;
  p.T_discharge = comp.T_discharge;
  p.T_shell = comp.T_shell;
  p.T_condenser_middle = cond.T_middle;
  p.T_liquid = cond.T_out;
  p.superheat = evap.T_out - sat_e.T;
  p.subcooling = T_c - cond.T_out;
  p.capacity = evap.heat;
  p.condenser_heat = cond.heat;
  p.power = comp.power;
  p.current = comp.current;
  p.T_evaporator_air_out =
      q.conditions.box - (warm_side.capacity_rate > 0 ? evap.heat / warm_side.capacity_rate : 0);
  p.T_condenser_air_out = T_air + (cold_side.capacity_rate > 0 ? cond.heat / cold_side.capacity_rate : 0);
  p.quality_evaporator_in = evap.x_in;
  p.quality_evaporator_out = evap.x_out;
  p.quality_liquid_line = cond.x_out;
  p.charge_condenser = cond.mass;
  p.charge_evaporator = evap.mass;
  p.charge_elsewhere = other;
  p.capillary_choked = cap.choked;
  p.summary.status = comp.stalled ? Status::failed : Status::converged;
  return b;
}

double size_of(const Vec3& r) { return std::max({std::abs(r[0]), std::abs(r[1]), std::abs(r[2])}); }
double square(const Vec3& r) { return r[0] * r[0] + r[1] * r[1] + r[2] * r[2]; }

// x = A^-1 b for 3x3 by Cramer's rule; false when singular.
bool solve3(const std::array<Vec3, 3>& A, const Vec3& b, Vec3& x) {
  const auto det = [](const std::array<Vec3, 3>& M) {
    return M[0][0] * (M[1][1] * M[2][2] - M[1][2] * M[2][1]) -
           M[0][1] * (M[1][0] * M[2][2] - M[1][2] * M[2][0]) +
           M[0][2] * (M[1][0] * M[2][1] - M[1][1] * M[2][0]);
  };
  const double D = det(A);
  if (!(std::abs(D) > 1e-18)) return false;
  for (int j = 0; j < 3; ++j) {
    std::array<Vec3, 3> M = A;
    for (int i = 0; i < 3; ++i) M[i][j] = b[i];
    x[j] = det(M) / D;
  }
  return true;
}

void keep_inside(const Problem3& q, Vec3& x) {
  const WorkingFluid& f = q.fluid;
  x[0] = std::clamp(x[0], f.lnp_low() + 0.05,
                    f.ln_saturation_pressure(std::min(q.conditions.ambient + 25, f.T_high() - 2)));
  if (q.fixed_Tc > 0) {
    x[1] = std::clamp(x[1], -3.0, 6.0);
  } else {
    x[1] = std::clamp(x[1], q.conditions.ambient - 12, f.T_high() - 0.5);
  }
  const SatPoint sat = f.saturation(x[0]);
  x[2] = std::clamp(x[2], sat.h_l + 0.05 * (sat.h_v - sat.h_l), sat.h_v + f.span_h() * 0.6);
}

struct Newton {
  Vec3 x;
  Balance at;
  int iterations;
  bool done;
  std::array<Vec3, 3> slope;
};

double nudge_of(const Problem3& q, int j) { return q.fixed_Tc > 0 && j == 1 ? 1e-4 : kNudge[j]; }
double most_of(const Problem3& q, int j) { return q.fixed_Tc > 0 && j == 1 ? 0.5 : kMaxStep[j]; }

std::array<Vec3, 3> slopes(Problem3& q, const Vec3& x, const Vec3& residual) {
  std::array<Vec3, 3> J{};
  for (int j = 0; j < 3; ++j) {
    Vec3 y = x;
    y[j] += nudge_of(q, j);
    const Vec3 r = evaluate(q, y).residual;
    for (int i = 0; i < 3; ++i) J[i][j] = (r[i] - residual[i]) / nudge_of(q, j);
  }
  return J;
}

// Broyden's update in scaled unknowns: J += (dr - J dx) dx^T / (dx^T dx)
void update(const Problem3& q, std::array<Vec3, 3>& J, const Vec3& dx, const Vec3& dr) {
  Vec3 s{};
  double norm = 0;
  for (int j = 0; j < 3; ++j) {
    s[j] = dx[j] / (most_of(q, j) * most_of(q, j));
    norm += dx[j] * s[j];
  }
  if (norm < 1e-20) return;
  for (int i = 0; i < 3; ++i) {
    const double miss = dr[i] - J[i][0] * dx[0] - J[i][1] * dx[1] - J[i][2] * dx[2];
    for (int j = 0; j < 3; ++j) J[i][j] += miss * s[j] / norm;
  }
}

// `known_slope`: that of a nearby solution, used until it serves badly.
Newton newton(Problem3& q, Vec3 x, const std::array<Vec3, 3>* known_slope = nullptr) {
  keep_inside(q, x);
  Balance at = evaluate(q, x);
  std::array<Vec3, 3> J{};
  if (known_slope) J = *known_slope;
  bool fresh = false;
  int iteration = 0;
  for (; iteration < kMaxIterations; ++iteration) {
    if (size_of(at.residual) < kTolerance) return {x, at, iteration, true, J};
    if (iteration == 0 && !known_slope) {
      J = slopes(q, x, at.residual);
      fresh = true;
    }
    Vec3 step{};
    if (!solve3(J, {-at.residual[0], -at.residual[1], -at.residual[2]}, step)) break;
    double shrink = 1;
    for (int j = 0; j < 3; ++j) shrink = std::min(shrink, most_of(q, j) / std::max(std::abs(step[j]), 1e-12));
    const double before = square(at.residual);
    bool better = false;
    for (int search = 0; search < (fresh ? 6 : 2); ++search, shrink *= 0.4) {
      Vec3 y = x;
      for (int j = 0; j < 3; ++j) y[j] += shrink * step[j];
      keep_inside(q, y);
      const Balance trial = evaluate(q, y);
      if (square(trial.residual) >= before) continue;
      Vec3 dx{}, dr{};
      for (int j = 0; j < 3; ++j) {
        dx[j] = y[j] - x[j];
        dr[j] = trial.residual[j] - at.residual[j];
      }
      update(q, J, dx, dr);
      x = y;
      at = trial;
      better = true;
      break;
    }
    const bool slow = !better || square(at.residual) > 0.1 * before;
    if (slow && fresh && !better) break;
    fresh = false;
    if (slow && size_of(at.residual) >= kTolerance) {
      J = slopes(q, x, at.residual);
      fresh = true;
    }
  }
  return {x, at, iteration, size_of(at.residual) < kAtRest, J};
}

// Where Newton's steps come to rest short of a solution, at a bend of the equations: smaller ones between his
// and the steepest descent's [marquardt1963].
Newton crawl(Problem3& q, Newton n) {
  double damping = 1e-3;
  std::array<Vec3, 3> J = slopes(q, n.x, n.at.residual);
  for (int i = 0; i < kMaxIterations && size_of(n.at.residual) >= kTolerance; ++i, ++n.iterations) {
    std::array<Vec3, 3> A{};
    Vec3 b{};
    for (int j = 0; j < 3; ++j)
      for (int r = 0; r < 3; ++r) {
        b[j] -= J[r][j] * n.at.residual[r];
        for (int k = 0; k < 3; ++k) A[j][k] += J[r][j] * J[r][k];
      }
    for (int j = 0; j < 3; ++j) A[j][j] += damping * (A[j][j] + 1e-12);
    Vec3 y{};
    if (!solve3(A, b, y)) break;
    for (int j = 0; j < 3; ++j) y[j] = n.x[j] + std::clamp(y[j], -most_of(q, j), most_of(q, j));
    keep_inside(q, y);
    const Balance trial = evaluate(q, y);
    if (square(trial.residual) < square(n.at.residual)) {
      n.x = y;
      n.at = trial;
      J = slopes(q, y, trial.residual);
      damping = std::max(damping / 5, 1e-9);
    } else if ((damping *= 4) > 1e6) {
      break;
    }
  }
  n.done = size_of(n.at.residual) < kAtRest;
  n.slope = J;
  return n;
}

// Starting points: the design first, then states typical of starved, flooded and hot machines.
struct Guess {
  double below_box, above_ambient, superheat;  // K; negative superheat means wet
};
constexpr Guess kGuesses[] = {{25, 5, 18}, {6, 25, -8}, {12, 40, -3}, {35, 2, 30}, {3, 3, 1}};
constexpr int kStarts = 6;

Vec3 start(const Problem3& q, int i) {
  const Machine& m = q.machine;
  const Conditions& c = q.conditions;
  if (i == 0) return {m.lnp_e0, c.ambient + std::max(m.split0, 6.0), m.h_eo0};
  const Guess& g = kGuesses[i - 1];
  const Isobar at = q.fluid.isobar(q.fluid.ln_saturation_pressure(c.box - g.below_box));
  const double h = g.superheat >= 0 ? at.vapour_enthalpy(at.sat.T + g.superheat)
                                    : at.sat.h_v + g.superheat * 0.02 * (at.sat.h_v - at.sat.h_l);
  return {at.lnp, c.ambient + g.above_ambient, h};
}

// Somewhere on the way to the trip: the latest moment for which a balanced state is found.
OperatingPoint snapshot(Problem3& q, int iterations, std::string_view why, const Solution* near = nullptr,
                        bool by_heat = false) {
  const double top = std::min(q.machine.T_trip - 3, q.fluid.T_high() - 2);
  OperatingPoint p{};
  p.summary = {Status::failed, iterations, q.evaluations, 0,
               "no state found on the way to the overload trip"};
  for (double earlier : {0.0, 6.0, 12.0, 20.0}) {
    q.fixed_Tc = std::max(top - earlier, q.conditions.ambient + 8);
    for (int i = near && earlier == 0 ? -1 : 0; i < kStarts; ++i) {
      const Vec3 s = i < 0 ? near->x : start(q, i);
      const Newton n = i < 0 ? newton(q, s, &near->slope) : newton(q, {s[0], 0.5, s[2]});
      iterations += n.iterations;
      // If heat is what trips it, a condenser that could do more than it must is not on its way there.
      if (!n.done || (by_heat && n.x[1] < -0.02)) continue;
      p = n.at.point;
      p.summary = {Status::tripped, iterations, q.evaluations, size_of(n.at.residual), why};
      p.solution = {true, true, n.x, n.slope};
      return p;
    }
  }
  p.summary.iterations = iterations;
  p.summary.evaluations = q.evaluations;
  return p;
}

}  // namespace

std::string_view to_word(Status status) {
  switch (status) {
    case Status::not_run:
      return "not run";
    case Status::converged:
      return "converged";
    case Status::tripped:
      return "tripped on overload";
    case Status::equalised:
      return "equalised";
    case Status::failed:
      return "failed";
  }
  return "";
}

double air_density_ratio(double site_pressure) { return site_pressure / 101325.0; }

OperatingPoint operate(const Machine& machine, const WorkingFluid& fluid, const Conditions& conditions,
                       const Departure& departure, const Solution* near) {
  if (!departure.pumps || departure.compressor.suction_leak > 0.95)
    return equalise(machine, fluid, conditions, departure, true);
  Problem3 q{machine, fluid, conditions, departure, machine.charge * departure.charge};
  if (near && near->known && near->tripped)
    return snapshot(q, 0, "like the machine it was started from", near);
  int iterations = 0;
  std::optional<Newton> closest;  // of those that found nothing
  for (int i = near && near->known ? -1 : 0; i <= kStarts; ++i) {
    Newton n = i < 0 ? newton(q, near->x, &near->slope) : i == kStarts ? *closest : newton(q, start(q, i));
    if (i == kStarts || (n.done && size_of(n.at.residual) >= kTolerance)) n = crawl(q, n);
    iterations += n.iterations;
    if (!n.done && (!closest || square(n.at.residual) < square(closest->at.residual))) closest = n;
    if (!n.done && n.x[1] > machine.T_trip + 3) break;  // ran up against the top of the tables
    if (!n.done) continue;
    OperatingPoint p = n.at.point;
    if (p.summary.status == Status::failed)
      return snapshot(q, iterations, "the motor can't hold this load at this voltage");
    if (p.T_condensing > machine.T_trip)
      return snapshot(q, iterations, "condensing above the trip temperature");
    if (p.current > machine.current_trip) return snapshot(q, iterations, "current above the overload's");
    p.summary.iterations = iterations;
    p.summary.evaluations = q.evaluations;
    p.summary.residual = size_of(n.at.residual);
    p.solution = {true, false, n.x, n.slope};
    return p;
  }
  // No steady state at all below the top of the tables: the condenser can't get rid of the heat.
  return snapshot(q, iterations, "no steady state below the trip temperature", nullptr, true);
}

}  // namespace coldwright::circuit

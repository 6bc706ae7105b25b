#include "circuit/compressor.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::circuit {
namespace {

constexpr double kSuctionValve = 0.98;    // pressure left after the suction valve, our estimate
constexpr double kDischargeValve = 1.03;  // over-pressure of the discharge valve, our estimate

// max(x, 0) with a rounded corner of width s, so that Newton sees a slope.
double softplus(double x, double s) {
  const double t = x / s;
  return t > 30 ? x : s * std::log1p(std::exp(t));
}

// Density and exponent at (p, h), wet states included.
VapourPoint cylinder_gas(const WorkingFluid& f, double lnp, double h) {
  const SatPoint sat = f.saturation(lnp);
  VapourPoint gas = f.vapour(lnp, h);
  if (h < sat.h_v) {
    const double x = std::clamp((h - sat.h_l) / (sat.h_v - sat.h_l), 0.0, 1.0);
    gas.rho = 1 / (x / sat.rho_v + (1 - x) / sat.rho_l);
  }
  return gas;
}

}  // namespace

MotorPoint motor(const Compressor& c, double mechanical_power, double voltage) {
  const double v = std::max(voltage, 1.0) / c.rated_voltage;
  const double P0 = mechanical_power + c.iron_loss * v * v;
  const double I_mag = c.magnetising_current * std::pow(v, 1.6);  // saturation: rises faster than V, our estimate
  const double V = std::max(voltage, 1.0), R = c.winding_ohms;
  // y = I^2 solves R^2 y^2 + (2 P0 R - V^2) y + P0^2 + I_mag^2 V^2 = 0
  const double b = V * V - 2 * P0 * R;
  const double disc = b * b - 4 * R * R * (P0 * P0 + I_mag * I_mag * V * V);
  const bool stalled = b <= 0 || disc <= 0;
  const double y = stalled ? V * V / (4 * R * R) : 2 * (P0 * P0 + I_mag * I_mag * V * V) / (b + std::sqrt(disc));
  return {std::sqrt(y), P0 + y * R, stalled};
}

Compression compression(const Compressor& c, const WorkingFluid& f, double lnp_s, double h_cylinder, double lnp_d,
                        double suction_leak) {
  const double lnp1 = lnp_s + std::log(kSuctionValve);
  const VapourPoint gas = cylinder_gas(f, lnp1, h_cylinder);
  const double k = std::clamp(gas.k, 1.02, 1.4);
  const double ln_ratio = std::max(lnp_d + std::log(kDischargeValve) - lnp1, 0.02);
  const double clearance = c.clearance + 0.25 * suction_leak * c.clearance;
  const double fill = c.fill * softplus(1 - clearance * (std::exp(ln_ratio / k) - 1), 0.02);
  const double work = k / (k - 1) * std::exp(lnp1) / gas.rho * (std::exp(ln_ratio * (k - 1) / k) - 1);
  return {gas.rho, fill, work};
}

CompressorPoint run(const Compressor& c, const WorkingFluid& f, double lnp_s, double h_s, double lnp_d, double T_ambient,
                    double voltage, const CompressorFault& fault) {
  const VapourPoint suction = f.vapour(lnp_s, h_s);
  const double v = voltage / c.rated_voltage;
  const double slip = std::min(0.03 / std::max(v * v, 0.2), 0.3);  // grows as torque reserve falls, our estimate
  const double N = c.speed * (1 - slip) / 0.97;
  const double leak_back = fault.discharge_leak * c.leak_flow_ref *
                           std::max(std::exp(lnp_d) - std::exp(lnp_s), 0.0) / c.dp_ref;
  CompressorPoint point{};
  double T_shell = c.T_shell_design;
  for (int i = 0; i < 3; ++i) {
    const double h_cyl = h_s + suction.cp * c.suction_heating * std::max(T_shell - suction.T, 0.0);
    const Compression z = compression(c, f, lnp_s, h_cyl, lnp_d, fault.suction_leak);
    const double swept = c.displacement * N * z.rho * z.fill;
    const double flow = softplus(swept * (1 - fault.suction_leak) - leak_back, 0.004 * swept + 1e-9);
    const double leaked = std::max(swept - flow, 0.0);
    const MotorPoint m = motor(c, (flow + c.recompressed * leaked) * z.work / c.efficiency + c.friction, voltage);
    // Newton on the shell balance in theta = T_shell - T_amb, discharge vapour enthalpy linear around its point.
    const double theta0 = T_shell - T_ambient;
    const double T_d0 = std::max(T_ambient + theta0 / c.shell_share, f.saturation_temperature(lnp_d) + 0.5);
    const double h_d0 = f.vapour_enthalpy(lnp_d, T_d0);
    const double cp_d = f.vapour(lnp_d, h_d0).cp;
    const double residual = m.power - flow * (h_d0 + cp_d * (T_ambient + theta0 / c.shell_share - T_d0) - h_s) -
                            c.shell_conductance * theta0;
    const double theta = theta0 + residual / (flow * cp_d / c.shell_share + c.shell_conductance);
    T_shell = T_ambient + std::clamp(theta, -40.0, 160.0);
    const double T_d = T_ambient + (T_shell - T_ambient) / c.shell_share;
    point = {flow, h_d0 + cp_d * (T_d - T_d0), T_d, T_shell, m.power, m.current, h_cyl, m.stalled};
  }
  const double T_sat = f.saturation_temperature(lnp_d);
  if (point.T_discharge < T_sat) point.T_discharge = T_sat;  // wet discharge: clamp reads saturation
  return point;
}

}  // namespace coldwright::circuit

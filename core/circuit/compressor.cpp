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

// Vapour at h continued below saturation along its slope, so that Newton passes through wet discharges.
VapourPoint discharge_gas(const Isobar& at, double h) {
  VapourPoint gas = at.vapour(h);
  if (h < at.sat.h_v) gas.T += (h - at.sat.h_v) / gas.cp;
  return gas;
}

}  // namespace

Ports ports(const WorkingFluid& f, double lnp_s, double lnp_d) {
  return {f.isobar(lnp_s), f.isobar(lnp_s + std::log(kSuctionValve)), f.isobar(lnp_d)};
}

MotorPoint motor(const Compressor& c, double mechanical_power, double voltage) {
  const double v = std::max(voltage, 1.0) / c.rated_voltage;
  const double P0 = mechanical_power + c.iron_loss * v * v;
  const double I_mag =
      c.magnetising_current * v * std::sqrt(v);  // saturation: rises faster than V, our estimate
  const double V = std::max(voltage, 1.0), R = c.winding_ohms;
  // y = I^2 solves R^2 y^2 + (2 P0 R - V^2) y + P0^2 + I_mag^2 V^2 = 0
  const double b = V * V - 2 * P0 * R;
  const double disc = b * b - 4 * R * R * (P0 * P0 + I_mag * I_mag * V * V);
  const bool stalled = b <= 0 || disc <= 0;
  const double y =
      stalled ? V * V / (4 * R * R) : 2 * (P0 * P0 + I_mag * I_mag * V * V) / (b + std::sqrt(disc));
  return {std::sqrt(y), P0 + y * R, stalled};
}

Compression compression(const Compressor& c, const Ports& at, double h_cylinder, double suction_leak) {
  const VapourPoint gas = at.cylinder.vapour(h_cylinder);
  const double rho = h_cylinder < at.cylinder.sat.h_v ? at.cylinder.density(h_cylinder) : gas.rho;
  const double k = std::clamp(gas.k, 1.02, 1.4);
  const double ln_ratio = std::max(at.discharge.lnp + std::log(kDischargeValve) - at.cylinder.lnp, 0.02);
  const double rise = std::exp(ln_ratio / k);  // Pi^(1/k); Pi^((k-1)/k) = Pi / Pi^(1/k)
  const double clearance = c.clearance + 0.25 * suction_leak * c.clearance;
  const double fill = c.fill * softplus(1 - clearance * (rise - 1), 0.02);
  const double work = k / (k - 1) * at.cylinder.p / rho * (std::exp(ln_ratio) / rise - 1);
  return {rho, fill, work};
}

CompressorPoint run(const Compressor& c, const Ports& at, double h_s, double T_ambient, double voltage,
                    const CompressorFault& fault, const CompressorPoint* warm) {
  const VapourPoint suction = at.suction.vapour(h_s);
  const double v = voltage / c.rated_voltage;
  const double slip =
      std::min(0.03 / std::max(v * v, 0.2), 0.3);  // grows as torque reserve falls, our estimate
  const double N = c.speed * (1 - slip) / 0.97;
  const double leak_back =
      fault.discharge_leak * c.leak_flow_ref * std::max(at.discharge.p - at.suction.p, 0.0) / c.dp_ref;
  CompressorPoint point{};
  const double out = c.shell_conductance * c.shell_share;  // W per kelvin of discharge over ambient
  double T_shell = warm ? warm->T_shell : c.T_shell_design, h_d = warm ? warm->h_discharge : 0;
  for (int i = 0; i < (warm ? 1 : 3); ++i) {
    const double h_cyl = h_s + suction.cp * c.suction_heating * std::max(T_shell - suction.T, 0.0);
    const Compression z = compression(c, at, h_cyl, fault.suction_leak);
    const double swept = c.displacement * N * z.rho * z.fill;
    const double flow = softplus(swept * (1 - fault.suction_leak) - leak_back, 0.004 * swept + 1e-9);
    const double leaked = std::max(swept - flow, 0.0);
    const MotorPoint m =
        motor(c, (flow + c.recompressed * leaked) * z.work / c.efficiency + c.friction, voltage);
    if (h_d == 0) h_d = h_s + 0.6 * m.power / flow;
    // One Newton step a round on P = m (h_d - h_s) + UA phi (T_d(h_d) - T_amb)
    const VapourPoint d = discharge_gas(at.discharge, h_d);
    const double dh = (m.power - flow * (h_d - h_s) - out * (d.T - T_ambient)) / (flow + out / d.cp);
    h_d += dh;
    const double T_d = std::clamp(d.T + dh / d.cp, T_ambient - 40, T_ambient + 260);
    T_shell = T_ambient + c.shell_share * (T_d - T_ambient);
    point = {flow, h_d, T_d, T_shell, m.power, m.current, h_cyl, m.stalled};
  }
  point.T_discharge =
      std::max(point.T_discharge, at.discharge.sat.T);  // a clamp on a wet discharge reads saturation
  return point;
}

}  // namespace coldwright::circuit

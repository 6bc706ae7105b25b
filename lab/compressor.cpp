#include "lab/compressor.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::lab {

double warm_ohms(double at_25, double T) { return at_25 * (234.5 + T - 273.15) / (234.5 + 25); }

namespace {

// A little above zero where x is below, smooth in between.
double soft_positive(double x, double width) {
  return x > 30 * width ? x : width * std::log1p(std::exp(x / width));
}

// Power and current from the shaft's power: an equivalent circuit whose slip grows with load and falling
// voltage, with copper, core and rotor losses, a magnetising current that saturates and leakage reactance.
void electrical(const Motor& motor, const Ports& at, double slip, Running& out) {
  const double v = std::max(at.volts / motor.voltage, 0.05);
  const double R = warm_ohms(motor.winding, at.T_body);
  const double gap = out.shaft / std::max(1 - slip, 0.3) + motor.core * v * v;
  const double idle = motor.magnetising * (0.75 * v + 0.25 * std::pow(v, 6));
  double I = out.shaft / at.volts + idle;
  for (int i = 0; i < 6; ++i) {
    out.power = gap + R * I * I;
    const double real = out.power / at.volts;
    const double imaginary = idle + motor.leakage * I * I / (motor.design_current * v);
    I = std::sqrt(real * real + imaginary * imaginary);
  }
  out.current = I;
}

}  // namespace

Running run(const Pump& pump, const Motor& motor, const Cabinet& of, const Condition& is, const Ports& at) {
  Running out;
  const double v = std::max(at.volts / motor.voltage, 0.3);
  const double rho_design = of.design_flow / (pump.displacement * pump.speed * 0.8);
  double slip = motor.slip, drawn = 0, work = 0, h_in = at.h_suction, k = at.k_suction;
  for (int i = 0; i < 3; ++i) {
    const double N = pump.speed * (1 - slip);
    const double swept = pump.displacement * N;
    // Valves as orifices: the loss goes with density and speed squared.
    const double speed2 = (N / pump.speed) * (N / pump.speed);
    const double p1 = at.p_suction * (1 - std::min(pump.valve_suction * at.rho_suction / rho_design *
                                                       of.design_suction / at.p_suction * speed2,
                                                   0.3));
    const double head = std::max(at.p_head, p1 * 1.01);
    const double p2 = head * (1 + pump.valve_discharge * speed2);
    const double cp = at.k_suction / (at.k_suction - 1) * at.p_suction / (at.rho_suction * at.T_suction);
    const double dT = pump.suction_heating * (at.T_body - at.T_suction);
    h_in = at.h_suction + cp * dT;
    const double rho1 = at.rho_suction * p1 / at.p_suction * at.T_suction / (at.T_suction + dT);
    const double ratio = p2 / p1;
    // The real gas' exponent halfway up; from the second round on with the work known.
    if (i > 0) k = at.refrigerant->gas(std::sqrt(p1 * p2), h_in + 0.45 * work * pump.indicated).k;
    const double filled = 1 - pump.clearance * (std::pow(ratio, 1 / k) - 1);
    const double past = pump.blow_by * of.design_flow * (p2 - p1) / (of.design_head - of.design_suction);
    drawn = is.pumps ? soft_positive(swept * rho1 * filled - past, 0.01 * of.design_flow) : 0;
    work = k / (k - 1) * p1 / rho1 * (std::pow(ratio, (k - 1) / k) - 1) / pump.indicated;
    // Broken valves still move a little gas to and fro.
    const double indicated =
        is.pumps ? (drawn + past) * work * (1 - 0.35 * is.suction_leak) : 0.06 * motor.design_shaft;
    out.shaft = indicated + pump.friction * (N / pump.speed) + 0.03 * indicated;
    out.to_gas = indicated;
    slip = std::clamp(motor.slip * out.shaft / motor.design_shaft / (v * v), 0.0, 0.25);
  }
  out.flow = drawn * (1 - is.suction_leak);
  out.h_out = h_in + work;
  // What isn't carried off by the gas delivered stays in the shell's gas; the rest of the power in the body.
  out.to_gas -= out.flow * work;
  electrical(motor, at, slip, out);
  out.to_body = out.power - out.flow * (out.h_out - at.h_suction) - out.to_gas;
  return out;
}

Running stand_locked(const Motor& motor, const Ports& at) {
  Running out;
  out.current = motor.locked * motor.design_current * at.volts / motor.voltage;
  out.power = warm_ohms(motor.winding, at.T_body) * out.current * out.current * 1.15;
  out.to_body = out.power;
  return out;
}

}  // namespace coldwright::lab

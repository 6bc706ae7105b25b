// A hermetic reciprocating compressor with its motor: flow, power, current and where the heat goes.
//
// Flow      m_swept = V N rho_cyl eta0 [1 - c (Pi^(1/k) - 1)],  Pi = 1.03 p_d / 0.98 p_s (valve losses, our
//           estimate), rho_cyl after the suction gas was heated towards the shell; k the real-gas isentropic
//           exponent. A leaking suction reed returns a share of the stroke; a leaking discharge reed (or a
//           blown gasket) lets high-pressure gas back in proportion to p_d - p_s.
// Power     P = (m + kappa m_leak) w_s / eta + friction + iron + I^2 R,
//           w_s = k/(k-1) p/rho (Pi^((k-1)/k) - 1).
// Current   I^2 = (P/V)^2 + I_mag(V)^2: a motor that turns without pumping still draws its magnetising and
//           friction current, a third to two thirds of the running one.
// Shell     P = m (h_d - h_s) + UA (T_shell - T_amb), T_shell - T_amb = phi (T_d - T_amb).
// Domain: p_s, p_d inside the working fluid's tables. Never fails; `stalled` says the motor can't hold the
// load at this voltage.
#pragma once

#include "circuit/working_fluid.hpp"

namespace coldwright::circuit {

struct Compressor {
  double displacement = 0;     // m3 a revolution
  double speed = 0;            // 1/s at rated voltage, unloaded slip included
  double clearance = 0;        // c
  double fill = 0;             // eta0
  double efficiency = 0;       // eta, isentropic work to shaft
  double suction_heating = 0;  // share of T_shell - T_suction taken up before the cylinder
  double friction = 0;         // W
  double iron_loss = 0;        // W at rated voltage
  double winding_ohms = 0;     // run winding, warm
  double start_winding_ohms = 0;
  double magnetising_current = 0;  // A at rated voltage
  double rated_voltage = 0;
  double shell_conductance = 0;  // W/K
  double shell_share = 0.55;     // phi, our estimate
  double leak_flow_ref = 0;      // kg/s through a fully leaking discharge reed at dp_ref
  double dp_ref = 0;             // Pa
  double recompressed = 0.5;     // kappa
  double T_shell_design = 0;     // K, start of the shell iteration
};

struct CompressorFault {
  double suction_leak = 0;    // 0..1 share of the stroke returned
  double discharge_leak = 0;  // 0..1 of leak_flow_ref
};

struct CompressorPoint {
  double flow;  // kg/s, never below a tiny positive floor
  double h_discharge;
  double T_discharge;
  double T_shell;
  double power;    // W electrical
  double current;  // A
  double h_cylinder;
  bool stalled;
};

/// Motor current and electrical power for a mechanical load (W) at a voltage.
struct MotorPoint {
  double current, power;
  bool stalled;
};
MotorPoint motor(const Compressor& c, double mechanical_power, double voltage);

/// Pressures a compressor works between: shell inlet, cylinder after the suction valve, discharge (total).
struct Ports {
  Isobar suction, cylinder, discharge;
};
Ports ports(const WorkingFluid& f, double lnp_s, double lnp_d);

/// `h_s` suction enthalpy at the shell inlet. `warm` continues the shell iteration from an earlier point of
/// the same machine in nearly the same state.
CompressorPoint run(const Compressor& c, const Ports& at, double h_s, double T_ambient, double voltage,
                    const CompressorFault& fault, const CompressorPoint* warm = nullptr);

/// Specific compression from a cylinder state: used by run() and by the design of a machine.
struct Compression {
  double rho;   // kg/m3 in the cylinder
  double fill;  // volumetric efficiency before leaks
  double work;  // J/kg isentropic
};
Compression compression(const Compressor& c, const Ports& at, double h_cylinder, double suction_leak);

}  // namespace coldwright::circuit

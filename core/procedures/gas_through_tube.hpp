// Gas through a narrow tube: adiabatic flow of a perfect gas with wall friction from a vessel (Fanno flow,
// [shapiro1953, Chapter 6]), choking included. With M the Mach number and f the Darcy friction factor,
//   f L/D = F(M_in) - F(M_out),
//   F(M) = (1 - M^2)/(g M^2) + (g + 1)/(2 g) ln((g + 1) M^2/(2 + (g - 1) M^2)),     F(1) = 0,
// and isentropic acceleration from the vessel into the tube. The loss of a sharp inlet (half a velocity head)
// counts as added length. f by Churchill [churchill1977] at the Reynolds number of the flow found.
// Used for nitrogen at up to about 45 bar and room temperature: there its compressibility differs from one by
// 1 % at most (taken into the vessel's density), its ratio of heats from 1.40 by 4 % (left out). The wall of
// a real capillary gives heat back; isothermal instead of adiabatic flow differs by less than 3 % at these
// friction lengths (tests/identity/gas_through_tube_test.cpp).
#pragma once

#include <functional>

#include "base/result.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::procedures {

struct Gas {
  double gas_constant;         // J/(kg K)
  double heat_ratio;           // cp/cv
  double viscosity;            // Pa s at about room temperature
  double compressibility = 1;  // Z in the vessel
};

/// Nitrogen at about 20 C: R from its molar mass, cp/cv 1.40, viscosity 17.6e-6 Pa s [lemmon2004air].
Gas nitrogen();

struct Tube {
  double bore;           // m
  double length;         // m
  double roughness = 0;  // m; drawn copper about 1.5e-6
};

struct GasFlow {
  double flow;          // kg/s
  double mach_in;       // just inside the inlet
  double mach_out;      // 1 when choked
  double pressure_out;  // Pa in the tube's last section; above the back pressure when choked
  bool choked;
  double reynolds;
  double friction;  // Darcy
};

/// Friction length from M to the point of choking, f L*/D (Darcy). M in (0, 1].
double friction_length(double mach, double heat_ratio);
/// Pressure over the pressure at the point of choking.
double pressure_ratio_to_choking(double mach, double heat_ratio);

/// What flows from a vessel at p_from (absolute Pa) and T (K) through the tube to p_to. Problem when p_to is
/// not below p_from or a dimension isn't positive.
Result<GasFlow> gas_flow(const Gas& gas, const Tube& tube, double p_from, double T, double p_to);

/// Seconds until a vessel of `volume` (m3), its gas kept at T by its walls, has fallen from p_start to p_end
/// through the tube to p_to.
Result<double> time_to_fall(const Gas& gas, const Tube& tube, double volume, double T, double p_start,
                            double p_end, double p_to);

/// What a vessel holds at one pressure: the gas for the flow, and its density (kg/m3).
struct VesselGas {
  Gas gas;
  double density;
};
using VesselModel = std::function<Result<VesselGas>(double p)>;

/// The same with the vessel's density given at every pressure, so that a real gas empties as it does; `steps`
/// (even) of Simpson's rule over ln p, 32 are within 1e-4.
Result<double> time_to_fall(const VesselModel& vessel, const Tube& tube, double volume, double T,
                            double p_start, double p_end, double p_to, int steps);

/// Nitrogen in a vessel at p and T: compressibility there and viscosity at the mean pressure of the tube, by
/// the equation of state [span2000nitrogen] and its companion for viscosity [lemmon2004air].
Result<Gas> real_nitrogen(const fluids::Fluid& nitrogen, double T, double p, double p_to);

/// The same over a range of pressures without asking the equation each time: (Z - 1)/p and the viscosity
/// straight lines in p between its ends, which is within 1e-5 of Z up to 50 bar.
Result<std::function<Gas(double p)>> nitrogen_between(const fluids::Fluid& nitrogen, double T, double p_low,
                                                      double p_high, double p_to);

/// Seconds until two closed vessels joined by the tube differ by less than `difference` (Pa), their gas kept
/// at T.
Result<double> time_to_equalise(const Gas& gas, const Tube& tube, double volume_high, double p_high,
                                double volume_low, double p_low, double T, double difference);

}  // namespace coldwright::procedures

// A charge let out through an opening: how fast it leaves, and how far away it is thinner than a chosen
// density. Mean values; a cloud's edges and gusts reach further.
//
// Flow      the largest rho sqrt(2 (h0 - h)) along the isentrope of the refrigerant's own vapour, by its
//           equation of state; choked where that lies above the air's pressure (thermodynamics textbooks).
// Jet       where it is choked it is taken as expanded to the air's pressure and temperature at the speed of
//           sound [birch1984]; on the axis of a round jet the mass fraction is Y = K (d/x) sqrt(rho0/rho_a),
//           K about 5 [chen1980, from memory], here 4.6 to 5.4. Momentum rules up to
//           x = 0.5 Fr^(1/2) (rho0/rho_a)^(1/4) d, Fr = rho0 u^2/(g d |rho0 - rho_a|) [chen1980, from
//           memory]; beyond it a heavy gas sinks.
// Calm      all of it at once as an even half sphere on the ground: r = (3 V/(2 pi))^(1/3).
// Wind      half a circle on the ground that the wind u carries through: r = sqrt(2 m/(pi u c)); and the
//           plume on the ground c = m/(pi u s_y s_z) with open-country widths [briggs1973, from memory], made
//           for 100 m and more and here carried down to metres.
// Indoors   even mixing and n air changes an hour: dC/dt = m/V - n C.
#pragma once

#include "base/result.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::procedures {

struct Opening {
  double bore;           // m, the narrowest place
  double discharge = 1;  // share of the bore that the stream fills; 1 lets out the most
};

/// What leaves at first, out of vapour at p0 (Pa) and T0 (K), or at its dew point where T0 lies below.
struct Outflow {
  double flow;      // kg/s
  double p, T;      // Pa, K in the narrowest place
  double rho;       // kg/m3 there
  double velocity;  // m/s there
  bool choked;
};
/// Problem when p0 isn't above the air's pressure or the bore isn't positive.
Result<Outflow> vapour_outflow(const fluids::Fluid& fluid, const Opening& opening, double p0, double T0,
                               double p_air);

/// The same through a hose of this bore and `length` (m) with wall friction (gas_through_tube.hpp, the vapour
/// as a perfect gas with its own ratio of heats, viscosity and compressibility in the vessel); no more than
/// the bore alone passes. Length 0 is the bore alone.
Result<Outflow> hose_outflow(const fluids::Fluid& fluid, const Opening& opening, double length, double p0,
                             double T0, double p_air);

/// The jet as it stands at the air's pressure.
struct Jet {
  double bore;      // m, of the stream so expanded
  double density;   // kg/m3
  double velocity;  // m/s
};
/// Problem when the vapour would condense in air of this temperature and pressure.
Result<Jet> expanded(const fluids::Fluid& fluid, const Outflow& outflow, double T_air, double p_air);

inline constexpr double kJetLow = 4.6, kJetMid = 5.0, kJetHigh = 5.4;  // [chen1980, from memory], our spread

/// Metres along the axis until the gas is at `density` (kg of it in a m3 of the mixture) in air of
/// `air_density` (kg/m3), with decay constant K.
double jet_distance(const Jet& jet, double air_density, double density, double K);
/// Metres in which the jet's own momentum rules.
double momentum_reach(const Jet& jet, double air_density);

/// Radius (m) of the half sphere in which `charge` (kg) has `density` (kg/m3).
double half_sphere(double charge, double density);
/// Radius (m) of the half circle that a wind (m/s) must carry `flow` (kg/s) through to thin it to `density`.
double wind_section(double flow, double wind, double density);

enum class Air { neutral, still_night };  // stability classes D and F
/// Metres downwind on the ground until the plume's middle is at `density`.
double plume_distance(double flow, double wind, double density, Air air);

/// Share of a liquid at T (K) that is still there, cold at its boiling point, when its pressure has fallen to
/// the air's by boiling off its own heat alone: dm/m = dh'/r. 1 when it is no warmer than that already.
Result<double> left_cold(const fluids::Fluid& fluid, double T, double p_air);

/// kg/m3 in a room of `volume` (m3) with `changes` (1/s) at the end of an even release of `charge` (kg) over
/// `seconds`; 0 seconds: all at once.
double room_peak(double charge, double seconds, double volume, double changes);
/// Seconds of airing until `peak` has fallen to `density` (both kg/m3); 0 when it is below.
double airing_time(double peak, double density, double changes);

}  // namespace coldwright::procedures

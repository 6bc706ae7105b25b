// Viscosity, thermal conductivity and surface tension of any refrigerant and of any blend by one method:
// residual entropy scaling. A dense fluid's viscosity and conductivity, in units of its density and
// temperature, follow one curve of the residual entropy s+ = -s_res/R, whatever the equation of state
// [martinek2025] [yang2021]; blends take the mole-fraction mean of the curves. No equation of state in here:
// the caller brings s+ and the ideal-gas cp. SI, molar.
#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "fluids/fluid_data.hpp"

namespace coldwright::fluids {

/// A relative uncertainty that 95 % of the states keep, by region: liquid s+ >= 1.5, vapour s+ < 0.4, dense
/// between. How each was found stands in data/transport.json.
struct RegionUncertainty {
  double liquid = 0, dense = 0, vapour = 0;
  double at(double s_plus) const { return s_plus < 0.4 ? vapour : s_plus < 1.5 ? dense : liquid; }
};

/// One component's parameters. Each block has the key of its paper in data/references.bib and its `kind`: as
/// published, on a group's curve, or fitted by tools/transcribe_transport.py.
struct ScalingComponent {
  std::string designation;                     // "R32"
  double M = 0;                                // kg/mol
  double epsilon_over_k = 0, sigma = 0;        // Lennard-Jones, K and m, for the dilute gas
  double f_int_constant = 0, f_int_per_K = 0;  // heat carried by internal motion of the molecules

  struct Viscosity {
    std::string reference, kind;
    std::string compared_with;  // the correlation that the uncertainty was measured against, if any
    std::array<double, 3> n{};  // ln(eta+ + 1) = n1 s^1.8 + n2 s^2.4 + n3 s^2.8, s = s+/xi
    double xi = 1;
    RegionUncertainty uncertainty;
  } viscosity;

  struct Conductivity {
    std::string reference, kind, compared_with;
    std::array<double, 4> n{};  // lambda+ = n1 s + n2 s^1.5 + n3 s^2 + n4 s^2.5, s = s+/xi
    double xi = 1;
    double phi0 = 0, Gamma = 0, q_D = 0, T_far = 0;  // critical enhancement: m, -, 1/m, K
    RegionUncertainty uncertainty;
  } conductivity;

  std::string tension_kind;
  SurfaceTensionData tension;                // also gives T_c
  double parachor = 0, parachor_spread = 0;  // (N/m)^(1/4) m3/mol; relative, over 0.6 .. 0.9 T_c
};

/// What blends are granted at the least, from those that were measured.
struct BlendUncertainty {
  RegionUncertainty viscosity, conductivity;
  double tension = 0;
};

/// data/transport.json as values.
struct ScalingTables {
  std::vector<ScalingComponent> components;
  BlendUncertainty blends;
  /// nullptr if there is none of that designation, spelt as in the file: "R1234ze(E)".
  const ScalingComponent* find(std::string_view designation) const;
};

/// The components of one refrigerant, in the order of its mixture; one for a pure fluid.
struct ScalingModel {
  std::vector<ScalingComponent> components;
  BlendUncertainty blends;
};

inline constexpr std::size_t most_scaled_parts = 10;

/// A component in a mixture.
struct ScaledPart {
  const ScalingComponent* component = nullptr;
  double x = 0;    // mole fraction
  double cp0 = 0;  // J/(mol K), of the ideal gas at T; only for conductivity
};

struct ScaledState {
  double T = 0;    // K
  double rho = 0;  // mol/m3
  double s_plus =
      0;  // -s_res/R against the ideal gas at the same T and rho; below zero (hot gas) counts as zero
};

/// What the critical enhancement needs from the equation of state: molar heat capacities in J/(mol K),
/// (d rho/d p)_T in mol/(m3 Pa) at the state and at (far_temperature(parts), rho), and the critical point
/// that it scales with (for a blend: its pseudo-critical one).
struct NearCritical {
  double cp = 0, cv = 0;
  double drho_dp = 0, drho_dp_far = 0;
  double p_crit = 0, rho_crit = 0;  // Pa, mol/m3
};

struct Estimate {
  double value = 0;
  double uncertainty = 0;  // relative, for about 95 %; grows in the cold (below 0.55 T_c, blends 0.65)
};

// Each refuses parts that are none, more than most_scaled_parts or don't sum to one, a T, density or s+ that
// is not a number of its kind, and s+ beyond 15. About 0.2 us a component, no allocation unless refused.

/// Pa s.
Result<Estimate> scaled_viscosity(std::span<const ScaledPart> parts, const BlendUncertainty& blends,
                                  const ScaledState& state);

/// W/(m K). Without `near` the critical enhancement is left out: 10 % and more within a tenth of T_c.
Result<Estimate> scaled_conductivity(std::span<const ScaledPart> parts, const BlendUncertainty& blends,
                                     const ScaledState& state, const NearCritical* near = nullptr);

/// K: the mean of the temperatures where the components' enhancement has died out.
double far_temperature(std::span<const ScaledPart> parts);

/// N/m, between a liquid and a vapour of these compositions (y[i] belongs to liquid[i]) and densities in
/// mol/m3 at T. One part: its own correlation. A blend: sigma^(1/4) = sum P_i (x_i rho' - y_i rho'')
/// [weinaug1943].
Result<Estimate> scaled_surface_tension(std::span<const ScaledPart> liquid, std::span<const double> y,
                                        const BlendUncertainty& blends, double T, double rho_liquid,
                                        double rho_vapour);

}  // namespace coldwright::fluids

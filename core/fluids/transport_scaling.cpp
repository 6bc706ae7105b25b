#include "fluids/transport_scaling.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fluids/problems.hpp"
#include "fluids/transport.hpp"

namespace coldwright::fluids {
namespace {

// Exact since 2019.
constexpr double boltzmann = 1.380649e-23, avogadro = 6.02214076e23, gas_constant = boltzmann * avogadro;

// Wide borders against slips; the equations of state have their own limits.
constexpr double lowest_T = 1, highest_T = 5000;  // K
constexpr double densest = 1e6;                   // mol/m3
constexpr double highest_s_plus = 15;
constexpr double lowest_cp0 = 2 * gas_constant, highest_cp0 = 200 * gas_constant;
// K, the range that f_int was fitted in: from here, or 0.75 T_c if that is colder, to there.
constexpr double f_int_low = 250, f_int_low_reduced = 0.75, f_int_high = 450;

// Below 0.55 T_c the stated uncertainty grows by so much per unit of T/T_c: the correlations that reach there
// part from the curves by 25 % in viscosity and 10 % in conductivity at 0.45 T_c, a few by twice that. Blends
// were compared from 0.65 T_c up; colder, what is known of them parts by 15 % and 5 % at 0.57 T_c
// [our-estimate].
struct ColdGrowth {
  double pure, blend;
};
constexpr double cold_pure = 0.55, cold_blend = 0.65;
constexpr ColdGrowth viscosity_growth{4.0, 1.5}, conductivity_growth{1.5, 0.6};

using Values = std::array<double, most_scaled_parts>;

/// Omega(2,2) of the Lennard-Jones gas: A + sum B_k/T*^k + C_k (ln T*)^k [kim2014], which begins at T* = 0.3.
double collision_integral(double T_star) {
  constexpr double A = -0.92032979;
  constexpr std::array B{2.3508044, 0.50110649, -4.7193769e-1, 1.5806367e-1, -2.6367184e-2, 1.8120118e-3};
  constexpr std::array C{1.6330213, -6.9795156e-1, 1.6096572e-1, -2.2109440e-2, 1.7031434e-3, -0.56699986e-4};
  const double inverse = 1.0 / std::max(T_star, 0.3), ln = -std::log(inverse);
  double sum = 0;
  for (std::size_t k = B.size(); k-- > 0;) sum = (sum + B[k]) * inverse;
  double of_ln = 0;
  for (std::size_t k = C.size(); k-- > 0;) of_ln = (of_ln + C[k]) * ln;
  return A + sum + of_ln;
}

/// eta0 = 5/16 sqrt(M k T / (pi N_A)) / (sigma^2 Omega)
double dilute_viscosity(const ScalingComponent& c, double T) {
  return 5.0 / 16.0 * std::sqrt(c.M * boltzmann * T / (std::numbers::pi * avogadro)) /
         (c.sigma * c.sigma * collision_integral(T / c.epsilon_over_k));
}

/// sum x_i v_i / sum x_j Phi_ij, Phi_ij = (1 + (r_i/r_j)^(1/2) (M_j/M_i)^(1/4))^2 / sqrt(8 (1 + M_i/M_j)).
/// With r = v = eta0 Wilke's rule [wilke1950], with r = the translational part of v that of [mason1958].
double mixed_dilute(std::span<const ScaledPart> parts, const Values& r, const Values& v) {
  if (parts.size() == 1) return v[0];
  double total = 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    double below = 0;
    for (std::size_t j = 0; j < parts.size(); ++j) {
      const double M_ratio = parts[i].component->M / parts[j].component->M;
      const double root = 1 + std::sqrt(r[i] / r[j] / std::sqrt(M_ratio));
      below += parts[j].x * root * root / std::sqrt(8 * (1 + M_ratio));
    }
    total += parts[i].x * v[i] / below;
  }
  return total;
}

double mean_molar_mass(std::span<const ScaledPart> parts) {
  double M = 0;
  for (const ScaledPart& part : parts) M += part.x * part.component->M;
  return M;
}

/// ln(eta+ + 1) = sum x_i (n1 s^1.8 + n2 s^2.4 + n3 s^2.8)
double viscosity_curve(std::span<const ScaledPart> parts, double s_plus) {
  double sum = 0;
  for (const ScaledPart& part : parts) {
    const auto& v = part.component->viscosity;
    const double ln = std::log(s_plus / v.xi);
    sum += part.x * (v.n[0] * std::exp(1.8 * ln) + v.n[1] * std::exp(2.4 * ln) + v.n[2] * std::exp(2.8 * ln));
  }
  return sum;
}

/// lambda+ = sum x_i (n1 s + n2 s^1.5 + n3 s^2 + n4 s^2.5)
double conductivity_curve(std::span<const ScaledPart> parts, double s_plus) {
  double sum = 0;
  for (const ScaledPart& part : parts) {
    const auto& c = part.component->conductivity;
    const double s = s_plus / c.xi, root = std::sqrt(s);
    sum += part.x * s * (c.n[0] + root * (c.n[1] + root * (c.n[2] + root * c.n[3])));
  }
  return sum;
}

/// (rho_N / s+)^(2/3), rho_N molecules in a m3: the square of the length that scales.
double inverse_length_squared(const ScaledState& state) {
  const double root = std::cbrt(state.rho * avogadro / state.s_plus);
  return root * root;
}

/// eta = eta0 + eta+ (rho_N/s+)^(2/3) sqrt(m k T)
double viscosity_of(std::span<const ScaledPart> parts, const ScaledState& state) {
  Values dilute{};
  for (std::size_t i = 0; i < parts.size(); ++i) dilute[i] = dilute_viscosity(*parts[i].component, state.T);
  const double mixed = mixed_dilute(parts, dilute, dilute);
  if (!(state.s_plus > 0)) return mixed;
  const double impulse = std::sqrt(mean_molar_mass(parts) / avogadro * boltzmann * state.T);
  return mixed + std::expm1(viscosity_curve(parts, state.s_plus)) * inverse_length_squared(state) * impulse;
}

/// lambda0_i = eta0/M (15/4 R + f_int (cp0 - 5/2 R)), lambda = lambda0 + lambda+ (rho_N/s+)^(2/3) k sqrt(k
/// T/m)
double background_conductivity(std::span<const ScaledPart> parts, const ScaledState& state) {
  Values translational{}, dilute{};
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const ScalingComponent& c = *parts[i].component;
    const double per_mole = dilute_viscosity(c, state.T) / c.M;
    const double low = std::min(f_int_low, f_int_low_reduced * c.tension.T_c);
    const double f_int = c.f_int_constant + c.f_int_per_K * std::clamp(state.T, low, f_int_high);
    translational[i] = 3.75 * gas_constant * per_mole;
    dilute[i] = translational[i] + f_int * per_mole * (parts[i].cp0 - 2.5 * gas_constant);
  }
  const double mixed = mixed_dilute(parts, translational, dilute);
  if (!(state.s_plus > 0)) return mixed;
  const double speed = std::sqrt(boltzmann * state.T * avogadro / mean_molar_mass(parts));
  return mixed + conductivity_curve(parts, state.s_plus) * inverse_length_squared(state) * boltzmann * speed;
}

/// Simplified crossover [olchowy1989], parameters by mole fraction [yang2021]:
///   lambda_c = rho cp 1.02 k T / (6 pi eta phi) (Omega - Omega0)
///   phi = phi0 (p_c rho / (rho_c^2 Gamma) (d rho/d p - T_far/T (d rho/d p)_far))^(0.63/1.239)
double enhancement(std::span<const ScaledPart> parts, const ScaledState& state, const NearCritical& near) {
  double phi0 = 0, Gamma = 0, q_D = 0;
  for (const ScaledPart& part : parts) {
    phi0 += part.x * part.component->conductivity.phi0;
    Gamma += part.x * part.component->conductivity.Gamma;
    q_D += part.x * part.component->conductivity.q_D;
  }
  const double excess = near.drho_dp - far_temperature(parts) / state.T * near.drho_dp_far;
  if (!(excess > 0) || !(state.rho > 0)) return 0;
  const double rho_ratio = near.rho_crit / state.rho;
  const double phi =
      phi0 * std::pow(near.p_crit / (near.rho_crit * rho_ratio) / Gamma * excess, 0.63 / 1.239);
  const double y = q_D * phi, c = near.cv / near.cp;
  const double omega =
      2.0 / std::numbers::pi *
      ((1 - c) * std::atan(y) + c * y - 1 + std::exp(-1.0 / (1.0 / y + y * y * rho_ratio * rho_ratio / 3.0)));
  return state.rho * near.cp * 1.02 * boltzmann * state.T /
         (6.0 * std::numbers::pi * viscosity_of(parts, state) * phi) * omega;
}

double grown_when_cold(double uncertainty, std::span<const ScaledPart> parts, double T,
                       const ColdGrowth& growth) {
  double T_c = 0;
  for (const ScaledPart& part : parts) T_c += part.x * part.component->tension.T_c;
  const double T_r = T / T_c;
  uncertainty += growth.pure * std::max(0.0, cold_pure - T_r);
  return parts.size() == 1 ? uncertainty : uncertainty + growth.blend * std::max(0.0, cold_blend - T_r);
}

bool within(double value, double low, double high) { return value >= low && value <= high; }  // not NaN

std::string in_molar_density(double rho) { return fmt::format("{:.6g} mol/m3", rho); }
std::string in_molar_heat(double cp) { return fmt::format("{:.6g} J/(mol K)", cp); }

// Words are put together only for a refusal.

std::optional<Problem> bad_parts(std::span<const ScaledPart> parts) {
  if (parts.empty() || parts.size() > most_scaled_parts)
    return Problem{"composition", fmt::format("{} components", parts.size()),
                   fmt::format("1 to {}", most_scaled_parts), "transport is computed for a mixture of these"};
  double sum = 0;
  for (const ScaledPart& part : parts) {
    if (part.component == nullptr)
      return Problem{"composition", "a component without transport data", "one from data/transport.json",
                     "its molecules' size and its curves are needed"};
    if (!within(part.x, 0, 1))
      return outside("mole fraction", part.x, 0, 1, as_fraction, "it is a share of the whole");
    sum += part.x;
  }
  if (within(sum, 1 - 1e-6, 1 + 1e-6)) return std::nullopt;
  return Problem{"composition", fmt::format("mole fractions that sum to {:.9g}", sum), "a sum of 1",
                 "they are shares of the whole"};
}

std::optional<Problem> bad_temperature(double T) {
  if (within(T, lowest_T, highest_T)) return std::nullopt;
  return outside("temperature", T, lowest_T, highest_T, in_kelvin, "no refrigerant is met beyond");
}

std::optional<Problem> bad_density(double rho) {
  if (within(rho, 0, densest)) return std::nullopt;
  return outside("density", rho, 0, densest, in_molar_density, "no fluid is denser");
}

std::optional<Problem> bad_state(std::span<const ScaledPart> parts, const ScaledState& state) {
  if (auto problem = bad_parts(parts)) return problem;
  if (auto problem = bad_temperature(state.T)) return problem;
  if (auto problem = bad_density(state.rho)) return problem;
  if (within(state.s_plus, -highest_s_plus, highest_s_plus)) return std::nullopt;
  return outside("residual entropy -s/R", state.s_plus, -highest_s_plus, highest_s_plus, as_fraction,
                 "the curves have no data beyond");
}

}  // namespace

const ScalingComponent* ScalingTables::find(std::string_view designation) const {
  const auto found = std::find_if(components.begin(), components.end(),
                                  [&](const auto& c) { return c.designation == designation; });
  return found == components.end() ? nullptr : &*found;
}

double far_temperature(std::span<const ScaledPart> parts) {
  double T = 0;
  for (const ScaledPart& part : parts) T += part.x * part.component->conductivity.T_far;
  return T;
}

Result<Estimate> scaled_viscosity(std::span<const ScaledPart> parts, const BlendUncertainty& blends,
                                  const ScaledState& state) {
  if (auto problem = bad_state(parts, state)) return *problem;
  double uncertainty = 0;
  for (const ScaledPart& part : parts)
    uncertainty += part.x * part.component->viscosity.uncertainty.at(state.s_plus);
  if (parts.size() > 1) uncertainty = std::max(uncertainty, blends.viscosity.at(state.s_plus));
  return Estimate{viscosity_of(parts, state), grown_when_cold(uncertainty, parts, state.T, viscosity_growth)};
}

Result<Estimate> scaled_conductivity(std::span<const ScaledPart> parts, const BlendUncertainty& blends,
                                     const ScaledState& state, const NearCritical* near) {
  if (auto problem = bad_state(parts, state)) return *problem;
  double uncertainty = 0;
  for (const ScaledPart& part : parts) {
    if (!within(part.cp0, lowest_cp0, highest_cp0))
      return *outside("ideal-gas heat capacity", part.cp0, lowest_cp0, highest_cp0, in_molar_heat,
                      "from an atom's to a long chain's");
    uncertainty += part.x * part.component->conductivity.uncertainty.at(state.s_plus);
  }
  if (parts.size() > 1) uncertainty = std::max(uncertainty, blends.conductivity.at(state.s_plus));
  double value = background_conductivity(parts, state);
  if (near != nullptr) value += enhancement(parts, state, *near);
  return Estimate{value, grown_when_cold(uncertainty, parts, state.T, conductivity_growth)};
}

Result<Estimate> scaled_surface_tension(std::span<const ScaledPart> liquid, std::span<const double> y,
                                        const BlendUncertainty& blends, double T, double rho_liquid,
                                        double rho_vapour) {
  if (auto problem = bad_parts(liquid)) return *problem;
  if (auto problem = bad_temperature(T)) return *problem;
  for (const double rho : {rho_liquid, rho_vapour})
    if (auto problem = bad_density(rho)) return *problem;
  if (liquid.size() == 1) {
    const SurfaceTensionData& own = liquid[0].component->tension;
    return Estimate{surface_tension(own, T), own.stated_uncertainty};
  }
  if (y.size() != liquid.size())
    return Problem{"vapour composition", fmt::format("{} fractions", y.size()),
                   fmt::format("{}, one a component", liquid.size()),
                   "each belongs to a component of the liquid"};
  double root = 0, spread = 0;
  for (std::size_t i = 0; i < liquid.size(); ++i) {
    if (!within(y[i], 0, 1))
      return *outside("mole fraction in the vapour", y[i], 0, 1, as_fraction, "it is a share of the whole");
    const ScalingComponent& c = *liquid[i].component;
    root += c.parachor * (liquid[i].x * rho_liquid - y[i] * rho_vapour);
    // sigma goes with the fourth power of the parachor.
    spread += liquid[i].x * (c.tension.stated_uncertainty + 4 * c.parachor_spread);
  }
  root = std::max(root, 0.0);
  return Estimate{root * root * root * root, std::max(spread, blends.tension)};
}

}  // namespace coldwright::fluids

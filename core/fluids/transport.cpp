#include "fluids/transport.hpp"

#include <cmath>
#include <numbers>

namespace coldwright::fluids {
namespace {

constexpr double avogadro_2010 = 6.02214129e23;   // 1/mol, as used by the correlations' authors' time
constexpr double boltzmann_2010 = 1.3806488e-23;  // J/K

double power_sum(const std::vector<double>& factor, const std::vector<double>& exponent, double base) {
  double sum = 0;
  for (std::size_t i = 0; i < factor.size(); ++i) sum += factor[i] * std::pow(base, exponent[i]);
  return sum;
}

/// eta0 = C sqrt(M T) / (sigma^2 S*), ln S* = sum a (ln T*)^t, with M in g/mol and sigma in nm.
double dilute_viscosity(const ViscosityData& data, double T) {
  const double sigma_nm = data.sigma * 1e9;
  const double ln_collision =
      power_sum(data.collision_a, data.collision_t, std::log(T / data.epsilon_over_k));
  return data.dilute_constant * std::sqrt(data.dilute_M * 1e3 * T) /
         (sigma_nm * sigma_nm * std::exp(ln_collision));
}

/// sum a delta^d tau^t + f delta^d (1/(delta0 - delta) - 1/delta0)
double residual_viscosity(const ViscosityData& data, double T, double rho_molar) {
  const double tau = data.residual_T / T;
  const double delta = rho_molar / data.residual_rho;
  double sum = 0;
  for (const auto& term : data.terms) sum += term.a * std::pow(delta, term.d) * std::pow(tau, term.t);
  const auto& packing = data.packing;
  const double delta0 = power_sum(packing.g, packing.h, tau) / power_sum(packing.p, packing.q, tau);
  return sum + packing.f * std::pow(delta, packing.d) * (1.0 / (delta0 - delta) - 1.0 / delta0);
}

/// Simplified crossover [olchowy1989]:
///   lambda_c = rho cp R0 k T / (6 pi eta xi) (Omega - Omega0)
///   xi = xi0 ((chi(T) - chi(T_far) T_far/T) / Gamma)^(nu/gamma),  chi = p_c rho / rho_c^2 (d rho/d p)_T
double critical_enhancement(const FluidData& fluid, double T, double rho) {
  const ConductivityData& data = *fluid.conductivity;
  const double rho_c = data.critical_rho * fluid.M;
  const auto susceptibility = [&](double at_T) {
    return data.critical_p * rho / (rho_c * rho_c * isotherm_point(fluid, at_T, rho).dp_drho);
  };
  const double excess = susceptibility(T) - susceptibility(data.T_far) * data.T_far / T;
  if (!(excess > 0)) return 0;
  const double xi = data.xi0 * std::pow(excess / data.critical_Gamma, data.critical_nu / data.critical_gamma);
  const Caloric at = caloric(fluid, T, rho);
  const double y = xi * data.q_D;
  const double two_over_pi = 2.0 / std::numbers::pi;
  const double omega = two_over_pi * ((at.cp - at.cv) / at.cp * std::atan(y) + at.cv / at.cp * y);
  const double ratio = rho_c / rho;
  const double omega0 = two_over_pi * (1.0 - std::exp(-1.0 / (1.0 / y + y * y * ratio * ratio / 3.0)));
  const double eta = viscosity(fluid, T, rho);
  return rho * at.cp * data.critical_R0 * boltzmann_2010 * T / (6.0 * std::numbers::pi * eta * xi) *
         (omega - omega0);
}

}  // namespace

double viscosity(const FluidData& fluid, double T, double rho) {
  const ViscosityData& data = *fluid.viscosity;
  const double rho_molar = rho / fluid.M;
  const double reduced = power_sum(data.initial_b, data.initial_t, T / data.epsilon_over_k);
  const double second_virial = avogadro_2010 * data.sigma * data.sigma * data.sigma * reduced;  // m3/mol
  return dilute_viscosity(data, T) * (1.0 + second_virial * rho_molar) +
         residual_viscosity(data, T, rho_molar);
}

double conductivity(const FluidData& fluid, double T, double rho) {
  const ConductivityData& data = *fluid.conductivity;
  double dilute = 0;
  for (std::size_t i = data.dilute.size(); i-- > 0;) dilute = dilute * (T / data.dilute_T) + data.dilute[i];
  const double tau = data.residual_T / T;
  double residual = 0;
  for (const auto& term : data.terms)
    residual += term.b * std::pow(rho / data.residual_rho, term.d) * std::pow(tau, term.t);
  return dilute + residual + critical_enhancement(fluid, T, rho);
}

double surface_tension(const SurfaceTensionData& data, double T) {
  const double reduced = 1.0 - T / data.T_c;
  if (reduced <= 0) return 0;
  double sum = 0;
  for (const auto& term : data.terms) sum += term.a * std::pow(reduced, term.n);
  return sum;
}

}  // namespace coldwright::fluids

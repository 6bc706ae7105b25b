#include "fluids/fluid_scaling.hpp"

#include <array>
#include <cmath>

#include "fluids/blend_model.hpp"
#include "fluids/problems.hpp"
#include "fluids/transport_scaling.hpp"

namespace coldwright::fluids {
namespace {

/// The components as the scaling wants them, on the stack.
struct Parts {
  std::array<ScaledPart, most_components> room;
  std::size_t size = 0;
  std::span<const ScaledPart> all() const { return {room.data(), size}; }
};

/// cp of the ideal gas per mole: R (1 - tau^2 d2 alpha0/d tau2).
double ideal_heat_capacity(const Formula& fluid, double T) {
  const double tau = fluid.T_reducing / T;
  const Jet1<double> a0 = alpha_ideal_of_tau(fluid.ideal, Jet1<double>::variable(tau));
  return fluid.R * (1 - tau * tau * a0.dd);
}

Parts parts_of(const FluidData& data, double T, const Amounts* mole_fractions) {
  Parts out;
  out.size = data.scaling->components.size();
  for (std::size_t k = 0; k < out.size; ++k) {
    const Formula& own = data.blend ? static_cast<const Formula&>(data.blend->mixture.components()[k]) : data;
    const double x = mole_fractions ? (*mole_fractions)(static_cast<Eigen::Index>(k)) : 1.0;
    out.room[k] = {&data.scaling->components[k], x, ideal_heat_capacity(own, T)};
  }
  return out;
}

/// s+ = alphar - tau d alphar/d tau
double residual_entropy(const FluidData& data, double T, double rho) {
  const double tau = data.T_reducing / T;
  const ResidualAtTau<Jet1<double>> at(data.residual, Jet1<double>::variable(tau));
  const Jet<double> alphar = at.both(rho / (data.rho_reducing * data.M));
  return alphar.v - tau * alphar.x;
}

}  // namespace

Result<Transport> scaled_transport(const Equation& equation, const State& state) {
  const FluidData& data = equation.data();
  const Amounts* moles = data.blend ? &data.blend->mole_fractions : nullptr;
  const Parts parts = parts_of(data, state.T, moles);
  const ScaledState scaled{state.T, state.rho / data.M, residual_entropy(data, state.T, state.rho)};
  const auto eta = scaled_viscosity(parts.all(), data.scaling->blends, scaled);
  if (!eta) return eta.problem();
  const double slope = isotherm_point<double>(data, state.T, state.rho).dp_drho;
  const double slope_far = isotherm_point<double>(data, far_temperature(parts.all()), state.rho).dp_drho;
  const Limits& limits = equation.limits();
  const NearCritical near{state.single->cp * data.M,
                          state.single->cv * data.M,
                          1 / (slope * data.M),
                          1 / (slope_far * data.M),
                          limits.p_crit,
                          limits.rho_crit / data.M};
  const auto lambda = scaled_conductivity(parts.all(), data.scaling->blends, scaled, &near);
  if (!lambda) return lambda.problem();
  return Transport{eta->value, lambda->value, eta->uncertainty, lambda->uncertainty};
}

Result<double> scaled_tension(const Equation& equation, double T) {
  const FluidData& data = equation.data();
  Result<Estimate> sigma = Estimate{};
  if (data.blend) {
    const PhaseSplit split = data.blend->split_at_T(T, 0);
    if (!split.converged)
      return Problem{"temperature", in_kelvin(T), "a temperature away from the critical point",
                     "the equilibrium of " + data.designation + " was not found here"};
    const Amounts x = fractions(split.liquid), y = fractions(split.vapour);
    const Parts parts = parts_of(data, T, &x);
    sigma = scaled_surface_tension(parts.all(), {y.data(), parts.size}, data.scaling->blends, T,
                                   split.liquid.sum(), split.vapour.sum());
  } else {
    constexpr double all[] = {1.0};
    sigma = scaled_surface_tension(parts_of(data, T, nullptr).all(), all, data.scaling->blends, T,
                                   equation.bubble_density(T) / data.M, equation.dew_density(T) / data.M);
  }
  if (!sigma) return sigma.problem();
  return sigma->value;
}

}  // namespace coldwright::fluids

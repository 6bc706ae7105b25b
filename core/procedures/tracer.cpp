#include "procedures/tracer.hpp"

#include <algorithm>
#include <cmath>

#include "base/field_units.hpp"
#include "base/normal.hpp"
#include "procedures/constants.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kOxygen = 0.21;
constexpr double kNearDew = 0.8;
constexpr double kSpreading = 0.2089;  // tan 11.8 degrees
constexpr double kNoseSpread = 0.5;    // of ln size, one standard deviation
// Hydrogen as thin gas at 20 C, from handbooks (from memory).
constexpr double kHydrogenMass = 0.00201588, kHydrogenViscosity = 8.8e-6;

Result<double> thin_viscosity(const fluids::Fluid& fluid, double T, double p) {
  const auto state = fluid.at_Tp(T, p);
  if (!state) return state.problem();
  const auto transport = fluid.transport(*state);
  if (!transport) return transport.problem();
  return transport->viscosity;
}

std::optional<Problem> check_pressures(double p_test, double p_service, double p_air) {
  const auto below = [&](const char* field, double p) {
    return Problem{field, std::to_string(p) + " Pa", "above the air's pressure", "air would flow in instead"};
  };
  if (!(p_test > p_air)) return below("test pressure", p_test);
  if (!(p_service > p_air)) return below("service pressure", p_service);
  return std::nullopt;
}

}  // namespace

double largest_fuel_share(double lower_limit, double oxygen_limit) {
  return oxygen_limit < kOxygen ? std::min(lower_limit / (1 - oxygen_limit / kOxygen), 1.0) : 1.0;
}

Result<Filling> fill_with_trace(const fluids::Fluid& trace, const fluids::Fluid& nitrogen, double volume,
                                double T, double coldest, double p, double share) {
  if (!(share > 0 && share < 1))
    return Problem{"share", base::number_text(100 * share, 2) + " %", "above zero and below all of it",
                   "a trace is a part of the mixture"};
  if (!(volume > 0))
    return Problem{"volume", std::to_string(volume) + " m3", "above zero", "there is nothing to fill"};
  Filling out{};
  out.first_pressure = share * p;
  const auto dew = trace.dew_pressure(std::min(coldest, T));
  if (!dew) return dew.problem();
  out.dew_at_coldest = *dew;
  if (out.first_pressure > kNearDew * *dew)
    return Problem{"share", base::number_text(100 * share, 2) + " %",
                   "up to " + base::number_text(100 * kNearDew * *dew / p, 2) + " % at this pressure",
                   "the trace would condense at the coldest wall and be missing elsewhere"};
  const auto vapour = trace.at_Tp(T, out.first_pressure);
  if (!vapour) return vapour.problem();
  const auto gas = nitrogen.at_Tp(T, p - out.first_pressure);
  if (!gas) return gas.problem();
  out.trace = volume * vapour->rho;
  out.nitrogen = volume * gas->rho;
  out.mass_share = out.trace / (out.trace + out.nitrogen);
  return out;
}

double mixed_viscosity(double mu_1, double M_1, double mu_2, double M_2, double y) {
  const auto phi = [](double mu_i, double M_i, double mu_j, double M_j) {
    const double root = 1 + std::sqrt(mu_i / mu_j) * std::pow(M_j / M_i, 0.25);
    return root * root / std::sqrt(8 * (1 + M_i / M_j));
  };
  const double x = 1 - y;
  return x * mu_1 / (x + y * phi(mu_1, M_1, mu_2, M_2)) + y * mu_2 / (y + x * phi(mu_2, M_2, mu_1, M_1));
}

Result<Shown> smallest_shown(const fluids::Fluid& trace, const fluids::Fluid& nitrogen, double share,
                             double smallest, double p_test, double p_service, double p_air, double T) {
  if (const auto problem = check_pressures(p_test, p_service, p_air)) return *problem;
  const auto mu_n = thin_viscosity(nitrogen, T, p_air);
  const auto mu_r = thin_viscosity(trace, T, std::min(p_air, 0.5 * p_service));
  if (!mu_n) return mu_n.problem();
  if (!mu_r) return mu_r.problem();
  const double mu = mixed_viscosity(*mu_n, nitrogen.limits().M, *mu_r, trace.limits().M, share);
  const double service = (p_service * p_service - p_air * p_air) / *mu_r;
  const double test = share * (p_test * p_test - p_air * p_air) / mu;
  return Shown{smallest * service / test, smallest * p_service / (share * p_test)};
}

Result<HydrogenShown> hydrogen_shown(const fluids::Fluid& refrigerant, const fluids::Fluid& nitrogen,
                                     double share, double seen, double sampled, double p_test,
                                     double p_service, double p_air, double T) {
  if (const auto problem = check_pressures(p_test, p_service, p_air)) return *problem;
  const auto mu_n = thin_viscosity(nitrogen, T, p_air);
  const auto mu_r = thin_viscosity(refrigerant, T, std::min(p_air, 0.5 * p_service));
  if (!mu_n) return mu_n.problem();
  if (!mu_r) return mu_r.problem();
  const double mu = mixed_viscosity(*mu_n, nitrogen.limits().M, kHydrogenViscosity, kHydrogenMass, share);
  const double moles = seen * sampled * p_air / (kGasConstant * T);  // of hydrogen a second
  const double M = refrigerant.limits().M;
  const double viscous =
      (p_service * p_service - p_air * p_air) / *mu_r / (share * (p_test * p_test - p_air * p_air) / mu);
  const double molecular = p_service / std::sqrt(M) / (share * p_test / std::sqrt(kHydrogenMass));
  return HydrogenShown{moles * viscous * M, moles * molecular * M};
}

double probe_speed(double response, double tip, double distance, double margin) {
  const double width = tip + 2 * kSpreading * distance;
  const double dwell = -response / std::log(10.0) * std::log(1 - 1 / margin);
  return width / dwell;
}

LeakSizes usual_leaks() {
  const double low = normal_quantile(0.57), high = normal_quantile(0.96);
  const double spread = std::log(100.0) / (high - low);
  return {5e-3 * std::exp(-spread * low), std::exp(spread)};
}

ClearResult clear_result(double prior, const LeakSizes& sizes, double smallest, double covered,
                         double above) {
  // over the leak's size in standard deviations from the median
  const double spread = std::log(sizes.ratio);
  const double edge = std::log(above / sizes.median) / spread;
  constexpr int kSteps = 4000;
  constexpr double kEnd = 8;
  double missed = 0, missed_above = 0, all_above = 0;
  for (int i = 0; i < kSteps; ++i) {
    const double z = -kEnd + 2 * kEnd * (i + 0.5) / kSteps;
    const double mass = std::exp(normal_log_density(z)) * 2 * kEnd / kSteps;
    const double ln_size = std::log(sizes.median) + spread * z;
    const double miss = 1 - covered * normal_cdf((ln_size - std::log(smallest)) / kNoseSpread);
    missed += mass * miss;
    if (z > edge) {
      missed_above += mass * miss;
      all_above += mass;
    }
  }
  const double clear = prior * missed + 1 - prior;
  return {prior * all_above, prior * missed_above / clear, prior * missed / clear};
}

}  // namespace coldwright::procedures

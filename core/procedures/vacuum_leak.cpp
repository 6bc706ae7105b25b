#include "procedures/vacuum_leak.hpp"

#include <algorithm>
#include <cmath>

#include "procedures/vacuum_line.hpp"

namespace coldwright::procedures {
namespace {
constexpr double kAirMass = 0.0289647;  // kg/mol [lemmon2004]
}

double air_a_year(double leak, double T) { return kilograms_a_year(leak, kAirMass, T); }

Result<YearlyLoss> service_loss(const fluids::Fluid& refrigerant, double leak, double p_service, double T,
                                double p_air) {
  if (!(p_service > p_air)) return YearlyLoss{0, 0};
  // Viscosity as thin gas: between the two pressures it changes by a few percent.
  const auto state = refrigerant.at_Tp(T, std::min(p_air, 0.5 * p_service));
  if (!state) return state.problem();
  const auto transport = refrigerant.transport(*state);
  if (!transport) return transport.problem();
  const double M = refrigerant.limits().M;
  const double squares = (p_service * p_service - p_air * p_air) / (p_air * p_air);
  const double straight = (p_service - p_air) / p_air;
  return YearlyLoss{kilograms_a_year(leak * squares * air().viscosity / transport->viscosity, M, T),
                    kilograms_a_year(leak * straight * std::sqrt(kAirMass / M), M, T)};
}

}  // namespace coldwright::procedures

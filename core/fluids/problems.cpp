#include "fluids/problems.hpp"

#include <fmt/format.h>

#include <cmath>

namespace coldwright::fluids {

std::string in_kelvin(double T) { return fmt::format("{:.9g} K", T); }
std::string in_pascal(double p) { return fmt::format("{:.9g} Pa", p); }
std::string in_density(double rho) { return fmt::format("{:.6g} kg/m3", rho); }
std::string in_energy(double h) { return fmt::format("{:.6g} J/kg", h); }
std::string in_entropy(double s) { return fmt::format("{:.6g} J/(kg K)", s); }
std::string as_fraction(double x) { return fmt::format("{:.6g}", x); }

std::optional<Problem> not_finite(const char* field, double value) {
  if (std::isfinite(value)) return std::nullopt;
  return Problem{field, std::isnan(value) ? "not a number" : "an infinite value", "a finite number",
                 "no state can be computed from it"};
}

std::optional<Problem> outside(const char* field, double value, double low, double high,
                               std::string (*show)(double), const std::string& why) {
  if (auto problem = not_finite(field, value)) return problem;
  if (value >= low && value <= high) return std::nullopt;
  return Problem{field, show(value), show(low) + " to " + show(high), why};
}

}  // namespace coldwright::fluids

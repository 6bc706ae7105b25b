// The fluids room's Problems: each names the quantity, the value given, what is allowed and why.
#pragma once

#include <optional>
#include <string>

#include "base/result.hpp"

namespace coldwright::fluids {

std::string in_kelvin(double T);
std::string in_pascal(double p);
std::string in_density(double rho);
std::string in_energy(double h);
std::string in_entropy(double s);
std::string as_fraction(double x);

/// A Problem if the value is not finite; `field` is the quantity's human name.
std::optional<Problem> not_finite(const char* field, double value);

/// A Problem if the value is not finite or outside [low, high]; `show` gives it its unit.
std::optional<Problem> outside(const char* field, double value, double low, double high,
                               std::string (*show)(double), const std::string& why);

}  // namespace coldwright::fluids

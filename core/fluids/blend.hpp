// A blend as one refrigerant, from its components, their pairs and its composition.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "fluids/fluid_data.hpp"

namespace coldwright::fluids {

/// More components than any designation has.
inline constexpr std::size_t most_blend_components = 8;

/// The whole blend: its equation at this composition, its limits, its mixture model, and its bubble and dew
/// lines fitted to that model (5-40 ms). Every pair of components must be there once; the mass fractions sum
/// to one.
Result<FluidData> make_blend(const std::string& designation, std::vector<FluidData> components,
                             std::vector<PairData> pairs, const std::vector<double>& mass_fractions);

/// Of a blend, in its order.
std::vector<std::string> component_designations(const FluidData& blend);

/// "R125/R600 (how it was estimated)": the pairs without published parameters. None of a pure one.
std::vector<std::string> estimated_pairs(const FluidData& fluid);

/// Of those that have no published equation: "R1132a (how it was estimated)".
std::vector<std::string> estimated_components(const FluidData& fluid);

/// Keys of the works that the blend's components and pairs come from.
std::vector<std::string> blend_sources(const FluidData& blend);

}  // namespace coldwright::fluids

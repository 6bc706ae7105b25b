// From a refrigerant's name to its properties: reads data/refrigerants/<R>.json and
// <R>.saturation.json as carried inside the program. The fluids room itself never sees JSON.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "fluids/fluid.hpp"
#include "fluids/fluid_data.hpp"

namespace coldwright::service {

/// The designations that load_fluid accepts, in alphabetical order.
std::vector<std::string> known_refrigerants();

/// "R290", "r-290", "propane", ... and whatever else the catalogue knows it by. A name not known, known but
/// not carried, or that fits several gives a Problem that lists those it may be. Reads about 60 kB of JSON:
/// load once and keep the Fluid.
Result<fluids::Fluid> load_fluid(std::string_view designation);

/// The coefficients alone, for tools and tests that solve the equation themselves.
Result<fluids::FluidData> load_fluid_data(std::string_view designation);

class JsonReader;
/// Terms as they stand in data/refrigerants and data/blends.
fluids::ResidualPart read_residual(const JsonReader& in);
/// A surface tension as it stands in data/refrigerants and data/transport.json.
fluids::SurfaceTensionData read_surface_tension(const JsonReader& in);

/// One refrigerant from its texts; `saturation_json` may be empty before the curves are fitted.
/// `name` is only for messages.
Result<fluids::FluidData> read_refrigerant(std::string_view name, std::string_view refrigerant_json,
                                           std::string_view saturation_json);

}  // namespace coldwright::service

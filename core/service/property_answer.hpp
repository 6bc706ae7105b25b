// What the answers about a refrigerant alone share: its limits as a person would type them, and the heading.
// Kept to service/.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/field_units.hpp"
#include "fluids/fluid.hpp"
#include "service/request.hpp"
#include "service/use_cases.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

/// The refrigerant named in the request, or nothing with the Problem remembered there.
std::optional<fluids::Fluid> requested_fluid(Request& request);

/// "-117.7 °F to 206.1 °F (-83.2 °C to 96.7 °C)".
std::string both_systems(base::Dimension dimension, double low, double high, base::SitePressure site);

/// Request first, then what the given value speaks, then the door's preference, then US.
base::UnitSystem choose_units(std::optional<base::UnitSystem> asked, std::optional<base::UnitSystem> spoken,
                              const Context& context);

/// {"about", "refrigerant", "safety_class", "site_pressure", "cautions"}
nlohmann::json property_heading(const fluids::Fluid& fluid, const base::Display& display,
                                const std::vector<std::string>& more_sources, const Wording& wording);

}  // namespace coldwright::service

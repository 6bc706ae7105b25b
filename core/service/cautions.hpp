// The lines that stand where a hand is about to act. They warn and defer; none says that anything is safe.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "diagnosis/answer.hpp"
#include "fluids/fluid_data.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

/// "A3" by the catalogue; none when it gives no class.
std::optional<std::string> safety_class(std::string_view designation);

/// Every refrigerant that has one.
std::vector<std::string> classed_refrigerants();

/// True unless the class is known to be 1 (no flame propagation): what isn't known burns.
bool treat_as_flammable(std::string_view designation);

/// For property answers: what belongs to the refrigerant's name alone. It burns, it harms, its class isn't
/// known or is recalled: a class from memory never stands without that mark.
std::vector<diagnosis::Statement> property_cautions(std::string_view designation);

/// What of its properties is estimated rather than published.
std::vector<diagnosis::Statement> estimate_cautions(const fluids::FluidData& fluid, const Wording& wording);

/// For a call: what comes before any work on the machine, then what the diagnosis itself warns of, each once.
/// `assumed`: the plate didn't name the refrigerant.
std::vector<diagnosis::Statement> call_cautions(std::string_view designation, bool assumed,
                                                const std::vector<diagnosis::Statement>& from_diagnosis);

}  // namespace coldwright::service

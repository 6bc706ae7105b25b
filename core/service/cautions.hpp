// The lines that stand where a hand is about to act. They warn and defer; none says that anything is safe.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "diagnosis/answer.hpp"

namespace coldwright::service {

/// "A3" by data/safety_classes.json; none when the refrigerant isn't listed there.
std::optional<std::string> safety_class(std::string_view designation);

/// Every refrigerant listed there.
std::vector<std::string> classed_refrigerants();

/// True unless the class is known to be 1 (no flame propagation): what isn't known burns.
bool treat_as_flammable(std::string_view designation);

/// For property answers: the one line that belongs to the name of a flammable refrigerant.
std::vector<diagnosis::Statement> property_cautions(std::string_view designation);

/// For a call: what comes before any work on the machine, then what the diagnosis itself warns of, each once.
/// `assumed`: the plate didn't name the refrigerant.
std::vector<diagnosis::Statement> call_cautions(std::string_view designation, bool assumed,
                                                const std::vector<diagnosis::Statement>& from_diagnosis);

}  // namespace coldwright::service

// The words a call may use, with their labels: shared by "vocabulary" and "example". Kept to service/.
#pragma once

#include <nlohmann/json.hpp>
#include <string_view>

#include "circuit/readings.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

/// {"word": "condenser_fan", "label": "condenser fan"}
nlohmann::json word_row(const Wording& wording, std::string_view section, std::string_view id);

/// How such a quantity is typed: "31.5 psig, -3 inHg, 2.2 barg".
std::string_view written_as(circuit::QuantityKind kind);

}  // namespace coldwright::service

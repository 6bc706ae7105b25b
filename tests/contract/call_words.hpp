// A small fixed vocabulary, so that tests of calls don't depend on the program's data.
#pragma once

#include "calls/fold.hpp"

namespace coldwright::tests {

inline calls::Vocabulary words() {
  calls::Vocabulary v;
  v.cabinets = {{"reach_in_cooler", "R290"}, {"bottle_cooler", "R600a"}};
  v.subjects = {{"condenser_fan", {"running", "slow", "stopped"}},
                {"compressor", {"running", "off"}},
                {"evaporator_fan", {"running", "slow", "stopped"}},
                {"condenser_face", {"clean", "dusty", "blocked"}},
                {"evaporator_coil", {"clear", "iced_over", "frost_at_inlet_only"}}};
  v.refrigerant_named = [](std::string_view name) -> Result<std::string> {
    if (name == "R290" || name == "propane") return std::string("R290");
    if (name == "R600a") return std::string("R600a");
    return Problem{"refrigerant", std::string(name), "R290, R600a",
                   "no refrigerant is known by that name, and none is spelled nearly so"};
  };
  return v;
}

/// 2025-11-20T12:00:00Z.
inline constexpr calls::Instant noon{1763640000, 0};

inline std::string call_of(const std::string& entries) {
  return R"({"call": "Skarrvik fish hall, bait cooler", "entries": [)" + entries + "]}";
}

inline const std::string plate = R"({"kind": "nameplate", "id": "plate", "cabinet": "reach_in_cooler",
  "refrigerant": "R290", "charge": "3.2 oz", "rated_current": "2.5 A", "rated_voltage": "115 V"})";

}  // namespace coldwright::tests

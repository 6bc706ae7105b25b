// Numbers, intervals and statements as every JSON answer carries them: the SI value for machines, the spoken
// value and its text for people. Kept to service/.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/field_units.hpp"
#include "diagnosis/answer.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

/// {"si": 319000, "value": 31.5, "unit": "psig", "text": "31.5 psig"}
nlohmann::json quantity(const base::Shown& shown, double si);
nlohmann::json quantity(base::Dimension dimension, double si, const base::Display& display, int extra = 0);
nlohmann::json quantity(diagnosis::Unit unit, double si, const base::Display& display);

/// {"low": quantity, "mid": quantity, "high": quantity, "text": "28.1 to 36.4 psig"}
nlohmann::json interval(diagnosis::Unit unit, const diagnosis::Interval& interval, const Wording& wording,
                        const base::Display& display);
/// The same or null.
nlohmann::json interval(diagnosis::Unit unit, const std::optional<diagnosis::Interval>& interval,
                        const Wording& wording, const base::Display& display);

/// {"key": ..., "text": ..., "values": {...}, "words": {...}}
nlohmann::json statement(std::string_view section, const diagnosis::Statement& statement,
                         const Wording& wording, const base::Display& display);
nlohmann::json statements(std::string_view section, const std::vector<diagnosis::Statement>& list,
                          const Wording& wording, const base::Display& display);

/// {"program", "version", "data", "seed"?, "references": [{"key", "citation"}]}
nlohmann::json about(std::optional<std::uint64_t> seed, const std::vector<std::string>& sources);

diagnosis::Unit unit_of(circuit::ReadingKind kind);

}  // namespace coldwright::service

// What the procedures of opening, search, parts and worth ask besides spoken quantities: yes or no, bare
// numbers, speeds and energies. Kept to service/.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "service/call_case.hpp"
#include "service/procedure_answer.hpp"
#include "service/request.hpp"

namespace coldwright::service {

/// "yes" or "no", or nothing; anything else is remembered as a Problem.
std::optional<bool> yes_or_no(Request& request, std::string_view key);
/// One of these words, or nothing.
std::optional<std::string> choice(Request& request, std::string_view key,
                                  const std::vector<std::string>& words);

/// A unit that stands behind a number and what it counts in SI; an empty name takes a bare number.
struct NamedScale {
  std::string_view name;
  double scale;
};
/// A number of one of these units between two ends (SI, both allowed); `allowed` says what may be written.
std::optional<double> in_units(Request& request, std::string_view key, const std::vector<NamedScale>& units,
                               double low, double high, std::string_view allowed);

/// m/s from "2 m/s", "5 mph", "7 km/h", "25 mm/s", "1 in/s".
std::optional<double> speed(Request& request, std::string_view key, double high);
std::string speed_text(double speed, const base::Display& display);  // of wind: "2.0 m/s", "4.5 mph"
std::string probe_text(double speed, const base::Display& display);  // of a probe: "25 mm/s", "1.0 in/s"

/// An input of a figure, shown as answers show it.
FigureInput input(std::string_view key, base::Dimension dimension, double si, const base::Display& display,
                  int extra = 0);

/// The request's call as a case, where it has one; "population" and "seed" go with it. A Problem inside when
/// the call can't be taken.
std::optional<Result<CallCase>> call_case_of(const Request& request, const Context& context);

/// Cites every key of a source such as "from-memory, iso817" or "iec60079-20-1; astm-e2079".
void cite_each(ProcedureAnswer& answer, std::string_view source);

/// A seed out of the request, 1 without one.
std::uint64_t seed_of(Request& request);

}  // namespace coldwright::service

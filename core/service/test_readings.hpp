// The readings of a running test out of a request: [{"after": "12 min", "pressure": "148.2 psig"}, ...]. What
// stands out of order, twice or not at all is asked about; nothing is sorted, joined or dropped. Kept to
// service/.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/field_units.hpp"
#include "service/request.hpp"

namespace coldwright::service {

struct TestReading {
  double seconds = 0;                         // since the first, or since the start where "after" says so
  std::optional<double> pressure;             // Pa absolute
  std::optional<double> temperature, box;     // K
  std::optional<double> current, mass, flow;  // A, kg, kg/s
  std::string said;                           // the time as typed
};

/// `needed` are the values that every reading must have ("pressure"); others may be there. Nothing when the
/// request has no readings; its problem is remembered when they can't be taken.
std::vector<TestReading> test_readings(Request& request, base::SitePressure site,
                                       const std::vector<std::string>& needed,
                                       std::optional<base::UnitSystem>& spoken_in);

}  // namespace coldwright::service

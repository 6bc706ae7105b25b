// From a call to what it teaches: see memory_store.hpp. Kept to service/.
#pragma once

#include <optional>

#include "service/memory_store.hpp"
#include "service/use_cases.hpp"

namespace coldwright::service {

/// What one call taught, or why it didn't.
struct Taught {
  RememberedCall call;
  bool finished = false;               // a cause was named or a sound machine seen: the call counts
  std::string why;                     // key of the wording section "memory" when the machine taught nothing
  double sound = 0;                    // probability that it was left sound
  std::vector<std::string> set_aside;  // ids of readings
};

/// `request`: {"call": ...} or {"call_text": ...}.
Result<Taught> taught_by(std::string_view request, const Context& context);

}  // namespace coldwright::service

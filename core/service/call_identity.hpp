// Which unit and model a call is about, and how the call itself is told from others. Kept to service/.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "calls/call.hpp"

namespace coldwright::service {

struct CallIdentity {
  std::string id;     // name and day of its first entry: "Skarrvik bakery, dough cooler @ 2025-11-20"
  std::string unit;   // "Nordhylla / NK 40 / 1234", or the call's name where the plate has no serial number
  std::string model;  // "Nordhylla / NK 40", or empty
  std::string print;  // of the entries' contents, whatever their order
  std::optional<std::int64_t> first, last;  // UTC seconds
};

CallIdentity identity_of(const calls::Call& call);

}  // namespace coldwright::service

// A procedure asked about a call: what the call says of the machine, the site and the procedure's settings
// and readings becomes the request's plain keys. Kept to service/.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "service/request.hpp"

namespace coldwright::service {

/// The request with "call" or "call_text" and "run" opened: refrigerant, charge, set_point and the like from
/// the plate, "t" and "box" from the site, altitude or barometer, the settings of the procedure's entries and
/// its test readings as "readings". Only keys in `keys`, and only where the request itself says nothing.
/// Where `keys` has "call" the call stays in as well, as "call". Without a call the request comes back as it
/// is. Problem when the call can't be read.
Result<std::string> opened(std::string_view request_json, std::string_view procedure,
                           const std::vector<std::string>& keys);

/// The same, read as a request of these keys.
Result<Request> opened_request(std::string_view request_json, std::string_view procedure,
                               const std::vector<std::string>& keys);

}  // namespace coldwright::service

// What every failed request gets: a problem document after RFC 9457.
#pragma once

#include <string>
#include <string_view>

namespace coldwright::server {

/// The phrase that goes with a status this server uses: "Not Found" for 404.
std::string_view reason(unsigned status);

/// JSON with type, title, status, detail and, when it was understood, instance: the target that was asked
/// for.
std::string problem_document(unsigned status, std::string_view detail, std::string_view instance);

}  // namespace coldwright::server

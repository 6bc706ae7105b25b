// Which media type a file of the web app is delivered with, by the ending of its name.
#pragma once

#include <string_view>

namespace coldwright::server {

/// "text/html; charset=utf-8" for "index.html"; "application/octet-stream" for an ending nobody listed, which
/// a browser told `nosniff` neither runs nor shows.
std::string_view media_type(std::string_view file_name);

}  // namespace coldwright::server

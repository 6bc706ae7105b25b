#include "media_types.hpp"

#include <array>
#include <utility>

namespace coldwright::server {
namespace {

using Row = std::pair<std::string_view, std::string_view>;
// Names as registered with IANA; text/javascript is the one that RFC 9239 settles on.
constexpr std::array<Row, 17> rows{{
    {".html", "text/html; charset=utf-8"},
    {".css", "text/css; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".mjs", "text/javascript; charset=utf-8"},
    {".json", "application/json"},
    {".map", "application/json"},
    {".webmanifest", "application/manifest+json"},
    {".wasm", "application/wasm"},
    {".svg", "image/svg+xml; charset=utf-8"},
    {".png", "image/png"},
    {".jpg", "image/jpeg"},
    {".webp", "image/webp"},
    {".ico", "image/vnd.microsoft.icon"},
    {".woff2", "font/woff2"},
    {".ttf", "font/ttf"},
    {".txt", "text/plain; charset=utf-8"},
    {".pdf", "application/pdf"},
}};

}  // namespace

std::string_view media_type(std::string_view file_name) {
  for (const auto& [ending, type] : rows) {
    if (file_name.ends_with(ending)) return type;
  }
  return "application/octet-stream";
}

}  // namespace coldwright::server

#include "service/embedded.hpp"

namespace coldwright::service {

std::optional<std::string_view> embedded(std::string_view path) {
  for (const EmbeddedFile& file : embedded_files())
    if (file.path == path) return file.text;
  return std::nullopt;
}

}  // namespace coldwright::service

// The files of data/ carried inside the program.
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace coldwright::service {

struct EmbeddedFile {
  std::string_view path;  // relative to data/, e.g. "refrigerants/R290.json"
  std::string_view text;
};

std::span<const EmbeddedFile> embedded_files();
std::optional<std::string_view> embedded(std::string_view path);

}  // namespace coldwright::service

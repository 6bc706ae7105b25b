#include "files.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

#include "service/use_cases.hpp"

namespace coldwright::cli {
namespace {

Result<std::string> read_stream(std::FILE* stream) {
  const std::size_t limit = service::call_file_limit();
  std::string text(limit + 1, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), stream));
  if (std::ferror(stream) != 0)
    return Problem{"call file", "what stopped in the middle", "a file that can be read",
                   std::strerror(errno)};
  if (text.size() <= limit) return text;
  Problem problem = service::call_file_too_large(text.size());
  problem.given = "more than " + std::to_string(limit) + " bytes";  // how much more isn't read
  return problem;
}

}  // namespace

Result<std::string> read_call_file(const std::string& path) {
  if (path == "-") return read_stream(stdin);
  std::error_code error;
  if (std::filesystem::is_directory(path, error))
    return Problem{"call file", path, "a file, or - for standard input", "that is a folder"};
  const auto size = std::filesystem::file_size(path, error);  // an error here also means: not a plain file
  if (!error && size > service::call_file_limit()) return service::call_file_too_large(size);
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"), std::fclose);
  if (!file)
    return Problem{"call file", path, "a file that can be read, or - for standard input",
                   std::strerror(errno)};
  return read_stream(file.get());
}

std::optional<Problem> write_file(const std::string& path, const std::string& bytes) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "wb"), std::fclose);
  if (file && std::fwrite(bytes.data(), 1, bytes.size(), file.get()) == bytes.size() &&
      std::fflush(file.get()) == 0)
    return std::nullopt;
  return Problem{"output", path, "a file that can be written", std::strerror(errno)};
}

bool shown_on_a_terminal() { return isatty(STDOUT_FILENO) == 1; }

}  // namespace coldwright::cli

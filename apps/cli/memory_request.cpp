#include "memory_request.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <memory>
#include <nlohmann/json.hpp>

#include "files.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;

constexpr std::size_t kMost = std::size_t{8} << 20;  // bytes: as much as the core takes in a request

std::string trimmed(const std::string& text) {
  const std::size_t from = text.find_first_not_of(' ');
  return from == std::string::npos ? "" : text.substr(from, text.find_last_not_of(' ') - from + 1);
}

/// "unit=Nordhylla / NK 40 / 7; quantity=superheat": names and values. What has no "=" is a unit's name.
json named(const std::string& words) {
  json out = json::object();
  for (std::size_t from = 0; from <= words.size();) {
    const std::size_t end = std::min(words.find(';', from), words.size());
    const std::string part = words.substr(from, end - from);
    const std::size_t equals = part.find('=');
    if (equals == std::string::npos)
      out["unit"] = trimmed(part);
    else
      out[trimmed(part.substr(0, equals))] = trimmed(part.substr(equals + 1));
    from = end + 1;
  }
  return out;
}

}  // namespace

Result<json> read_memory_file(const std::string& path) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"), std::fclose);
  if (!file) return Problem{"memory", path, "a file that can be read", std::strerror(errno)};
  std::string text(kMost + 1, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), file.get()));
  if (std::ferror(file.get()) != 0)
    return Problem{"memory", path, "a file that can be read", std::strerror(errno)};
  json parsed = json::parse(text, nullptr, false);
  if (text.size() > kMost || parsed.is_discarded())
    return Problem{"memory", path, "a memory as the use case \"memory\" gives it", "the file is damaged"};
  // What "memory --json" printed holds the memory beside what it says.
  if (parsed.is_object() && parsed.contains("procedure") && parsed.contains("memory"))
    return json(parsed["memory"]);
  return parsed;
}

Result<std::string> memory_request(const Arguments& arguments) {
  json request = json::object();
  for (const auto& [key, value] : arguments.fields) request[key] = value;
  if (!arguments.memory.empty()) {
    auto memory = read_memory_file(arguments.memory);
    if (!memory) return memory.problem();
    request["memory"] = std::move(*memory);
  }
  for (const std::string& path : arguments.files) {
    auto file = read_call_file(path);
    if (!file) return file.problem();
    request["calls"].push_back(std::move(*file));
  }
  for (const auto& [key, list] : {std::pair{"forget", &arguments.forget},
                                  {"correct", &arguments.correct},
                                  {"ask_back", &arguments.ask_back}})
    for (const std::string& words : *list) request[key].push_back(named(words));
  return request.dump(-1, ' ', false, json::error_handler_t::replace);
}

}  // namespace coldwright::cli

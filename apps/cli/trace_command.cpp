#include "trace_command.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>
#include <vector>

#include "files.hpp"
#include "layout.hpp"
#include "service/trace_work.hpp"

namespace coldwright::cli {
namespace {

using nlohmann::json;
using File = std::unique_ptr<std::FILE, int (*)(std::FILE*)>;

constexpr std::size_t kPiece = std::size_t{1} << 20, kHead = std::size_t{1} << 18;

int leave_open(std::FILE*) { return 0; }

Result<File> opened(const std::string& path) {
  if (path == "-") return File(stdin, leave_open);
  std::error_code error;
  if (std::filesystem::is_directory(path, error))
    return Problem{"trace", path, "a file, or - for standard input", "that is a folder"};
  File file(std::fopen(path.c_str(), "rb"), std::fclose);
  if (!file)
    return Problem{"trace", path, "a file that can be read, or - for standard input", std::strerror(errno)};
  return file;
}

Result<std::string> whole(const std::string& path) {
  auto file = opened(path);
  if (!file) return file.problem();
  std::string text(kPiece, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), file->get()));
  return text;
}

/// The place that an entry tells of when the call tells of it too and no time says which came later: the two
/// would contradict each other. Empty when it can be added.
std::string said_already(const json& entries, const json& fresh) {
  const std::string kind = text_at(fresh, {"kind"});
  for (const json& entry : entries) {
    if (text_at(entry, {"kind"}) != kind || (entry.contains("at") && fresh.contains("at"))) continue;
    for (const char* key : {"what", "subject"})
      if (fresh.contains(key) && text_at(entry, {key}) == text_at(fresh, {key})) return text_at(fresh, {key});
    for (const char* key : {"box", "ambient"})
      if (kind == "site" && fresh.contains(key) && entry.contains(key)) return key;
  }
  return "";
}

double size_of(const std::string& path) {
  std::error_code error;
  const auto size = std::filesystem::file_size(path, error);
  return error ? 0 : static_cast<double>(size);
}

std::string file_name(const std::string& path) {
  return path == "-" ? "-" : std::filesystem::path(path).filename().string();
}

}  // namespace

Result<std::string> answer_trace(const Arguments& arguments, const service::Context& context) {
  json request = json::object();
  for (const auto& [key, value] : arguments.fields)
    if (key == "units" || key == "altitude" || key == "barometer") request[key] = value;
  auto work = service::TraceWork::start(request.dump(), context);
  if (!work) return work.problem();
  // How much of all the files is read; a pipe has no size.
  double size_of_all = 0, done_of_all = 0;
  for (const std::string& path : arguments.files) size_of_all += size_of(path);
  for (std::size_t i = 0; i < arguments.files.size(); ++i) {
    std::string layout;
    if (i < arguments.layouts.size()) {
      auto text = whole(arguments.layouts[i]);
      if (!text) return text.problem();
      layout = std::move(*text);
      // What "trace_layout --json" printed holds the layout beside its questions.
      const json parsed = json::parse(layout, nullptr, false);
      if (parsed.is_object() && parsed.contains("layout")) layout = parsed["layout"].dump();
    }
    auto file = opened(arguments.files[i]);
    if (!file) return file.problem();
    if (auto done = (*work)->open(file_name(arguments.files[i]), layout, size_of(arguments.files[i])); !done)
      return done.problem();
    std::string piece(kPiece, '\0');
    for (std::size_t size = 0; (size = std::fread(piece.data(), 1, piece.size(), file->get())) > 0;) {
      if (auto done = (*work)->feed(std::string_view(piece).substr(0, size)); !done) return done.problem();
      done_of_all += static_cast<double>(size);
      if (size_of_all > 0 && context.progress) context.progress(0.9 * done_of_all / size_of_all);
    }
    if (std::ferror(file->get()) != 0)
      return Problem{"trace", arguments.files[i], "a file that can be read", std::strerror(errno)};
  }
  return (*work)->answer();
}

Result<std::string> trace_layout_request(const Arguments& arguments) {
  auto file = opened(arguments.file);
  if (!file) return file.problem();
  std::string head(kHead, '\0');
  head.resize(std::fread(head.data(), 1, head.size(), file->get()));
  if (std::ferror(file->get()) != 0)
    return Problem{"trace", arguments.file, "a file that can be read", std::strerror(errno)};
  // A request is UTF-8: what isn't is only shown here, and guessed from the bytes by "trace" itself.
  return service::request_with_head(head, file_name(arguments.file));
}

std::optional<Problem> add_to_call(const std::string& path, const std::string& answer_json) {
  auto text = read_call_file(path);
  if (!text) return text.problem();
  json call = json::parse(*text, nullptr, false);
  const json answer = json::parse(answer_json, nullptr, false);
  if (!call.is_object() || !call.contains("entries") || !call["entries"].is_array() || !answer.is_object())
    return Problem{"call file", path, "a call file with its entries", "evidence is added to what is there"};
  std::string left;
  for (const json& entry : answer["evidence"]["entries"])
    if (const std::string place = said_already(call["entries"], entry); place.empty())
      call["entries"].push_back(entry);
    else
      left += (left.empty() ? "" : ", ") + place;
  if (!left.empty())
    std::fprintf(stderr, "coldwright: %s has no time to tell which came later and says already: %s\n",
                 path.c_str(), left.c_str());
  return write_file(path, call.dump(1, ' ', false, json::error_handler_t::replace) + "\n");
}

}  // namespace coldwright::cli

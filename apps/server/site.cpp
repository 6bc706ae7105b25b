#include "site.hpp"

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <optional>
#include <system_error>

#include "media_types.hpp"

namespace coldwright::server {
namespace fs = std::filesystem;
namespace {

// The app is a few MB; far more means that --root names some other folder, which had better stay private.
constexpr std::uintmax_t most_bytes = 64u << 20;

/// FNV-1a, 64 bits: not against forgery, only to tell one build's file from another's.
std::string tag_of(std::string_view bytes) {
  std::uint64_t hash = 0xcbf29ce484222325u;
  for (const char c : bytes) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
  char digits[17];
  std::snprintf(digits, sizeof digits, "%016llx", static_cast<unsigned long long>(hash));
  return digits;
}

/// A name as it stands in a URL: all but RFC 3986's unreserved characters and "/" as %XX.
std::string url_path(const fs::path& below_root) {
  std::string path = "/";
  for (const char c : below_root.generic_string()) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       std::string_view("-._~/").find(c) != std::string_view::npos;
    if (plain) {
      path += c;
    } else {
      char code[4];
      std::snprintf(code, sizeof code, "%%%02X", static_cast<unsigned char>(c));
      path += code;
    }
  }
  return path;
}

bool hidden(const fs::path& below_root) {
  return std::any_of(below_root.begin(), below_root.end(),
                     [](const fs::path& part) { return part.native().starts_with('.'); });
}

std::optional<std::string> content(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(in), {}};
  if (!in.good() && !in.eof()) return std::nullopt;
  return bytes;
}

/// Takes the file named path + ending out of the table and gives back its bytes.
std::string take_sibling(std::map<std::string, Asset, std::less<>>& assets, const std::string& path,
                         const char* ending) {
  const auto found = assets.find(path + ending);
  if (found == assets.end()) return "";
  std::string bytes = std::move(found->second.plain);
  assets.erase(found);
  return bytes;
}

}  // namespace

std::variant<Site, std::string> Site::load(const fs::path& root) {
  std::error_code error;
  if (!fs::is_regular_file(root / "index.html", error)) {
    return "root: given " + root.string() + "; a folder with the built app, and index.html in it, is needed.";
  }
  Site site;
  std::uintmax_t total = 0;
  fs::recursive_directory_iterator entry(root, error);
  for (; !error && entry != fs::recursive_directory_iterator(); entry.increment(error)) {
    const fs::path below = entry->path().lexically_relative(root);
    if (entry->is_symlink(error) || !entry->is_regular_file(error) || hidden(below)) continue;
    auto bytes = content(entry->path());
    if (!bytes) return "root: " + entry->path().string() + " can't be read.";
    total += bytes->size();
    if (total > most_bytes)
      return "root: given " + root.string() + "; it holds more than 64 MB, which no build of the app does.";
    Asset asset;
    asset.media_type = media_type(below.native());
    asset.tag = tag_of(*bytes);
    asset.plain = std::move(*bytes);
    asset.immutable = below.begin()->native() == "assets";
    site.assets_.emplace(url_path(below), std::move(asset));
  }
  if (error) return "root: " + root.string() + " can't be read: " + error.message() + ".";
  for (auto& [path, asset] : site.assets_) {
    asset.brotli = take_sibling(site.assets_, path, ".br");
    asset.gzip = take_sibling(site.assets_, path, ".gz");
  }
  return site;
}

const Asset* Site::find(std::string_view path) const {
  const auto found = assets_.find(path == "/" ? std::string_view("/index.html") : path);
  return found == assets_.end() ? nullptr : &found->second;
}

}  // namespace coldwright::server

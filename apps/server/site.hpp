// The web app in memory: every file read once at the start, found by the path a browser asks for. No request
// ever reaches the file system, so no path in a request can lead out of the folder.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <variant>

namespace coldwright::server {

/// One file, as it is and, where the build left them beside it, compressed.
struct Asset {
  std::string media_type;
  std::string plain;
  std::string brotli;      ///< empty: none
  std::string gzip;        ///< empty: none
  std::string tag;         ///< hexadecimal digits that change with `plain`
  bool immutable = false;  ///< its name changes with its content
};

class Site {
 public:
  /// Reads the folder: regular files alone, neither links nor hidden names. NAME.br and NAME.gz belong to
  /// NAME. Otherwise one line that says what is wrong. Takes some 10 ms for an app of some MB.
  static std::variant<Site, std::string> load(const std::filesystem::path& root);

  /// `path` as it stands in the request, without the query; null when there is nothing there. "/" is
  /// index.html.
  const Asset* find(std::string_view path) const;

  std::size_t files() const { return assets_.size(); }

 private:
  std::map<std::string, Asset, std::less<>> assets_;
};

}  // namespace coldwright::server

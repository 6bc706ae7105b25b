// The file that readings are appended to as they come. Each row is handed to the system at once and brought
// to the disk every second; what can't be written stays in memory, in order, until it can.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"

namespace coldwright::cli {

class LiveFile {
 public:
  /// Opens to append, with a header where it is new. Refuses a file that doesn't begin with that header,
  /// since two kinds of table in one file couldn't be read again, and one that another listener has open.
  static Result<LiveFile> open(const std::string& path);
  LiveFile(LiveFile&& from) noexcept;
  LiveFile& operator=(LiveFile&&) = delete;
  ~LiveFile();

  /// One line without its end.
  void add(std::string_view line);
  /// Tries to write what is held; false when something stays held.
  bool write();
  /// Brings it to the disk; false when the disk says no.
  bool sync();
  std::size_t held() const { return held_.size(); }
  const std::string& trouble() const { return trouble_; }  // the system's words for the last refusal

 private:
  explicit LiveFile(int file) : file_(file) {}
  int file_ = -1;
  bool unsynced_ = false;
  std::string held_, trouble_;
};

}  // namespace coldwright::cli

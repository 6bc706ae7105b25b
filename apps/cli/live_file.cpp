#include "live_file.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <utility>

namespace coldwright::cli {
namespace {

constexpr std::string_view kHeader = "time,sensor,value\n";

}  // namespace

Result<LiveFile> LiveFile::open(const std::string& path) {
  const auto refused = [&](std::string why) {
    return Problem{"to", path, "a new file, or one that coldwright listen began", std::move(why)};
  };
  LiveFile out(::open(path.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0644));
  if (out.file_ < 0) return refused(std::strerror(errno));
  if (::flock(out.file_, LOCK_EX | LOCK_NB) != 0) return refused("another listener writes into it");
  char begin[kHeader.size()];
  const auto size = ::lseek(out.file_, 0, SEEK_END);
  if (size < 0) return refused(std::strerror(errno));
  if (size == 0) {
    out.held_ = kHeader;
  } else {
    const auto read = ::pread(out.file_, begin, sizeof begin, 0);
    if (read < 0) return refused(std::strerror(errno));
    if (std::string_view(begin, static_cast<std::size_t>(read)) != kHeader)
      return refused("it is another kind of file, and nothing is overwritten");
    // A row that was cut off stands alone, so that it spoils no other.
    char last = '\n';
    if (::pread(out.file_, &last, 1, size - 1) == 1 && last != '\n') out.held_ = "\n";
  }
  if (!out.write()) return refused(out.trouble_);
  return out;
}

LiveFile::LiveFile(LiveFile&& from) noexcept
    : file_(std::exchange(from.file_, -1)),
      unsynced_(from.unsynced_),
      held_(std::move(from.held_)),
      trouble_(std::move(from.trouble_)) {}

LiveFile::~LiveFile() {
  if (file_ >= 0) ::close(file_);
}

void LiveFile::add(std::string_view line) {
  held_ += line;
  held_ += '\n';
}

bool LiveFile::write() {
  std::size_t done = 0;
  while (done < held_.size()) {
    const auto n = ::write(file_, held_.data() + done, held_.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) {
      trouble_ = std::strerror(n < 0 ? errno : ENOSPC);
      break;
    }
    done += static_cast<std::size_t>(n);
    unsynced_ = true;
  }
  held_.erase(0, done);
  return held_.empty();
}

bool LiveFile::sync() {
  if (!unsynced_) return true;
  unsynced_ = ::fsync(file_) != 0 && errno != EINVAL;  // a pipe has no disk
  if (unsynced_) trouble_ = std::strerror(errno);
  return !unsynced_;
}

}  // namespace coldwright::cli

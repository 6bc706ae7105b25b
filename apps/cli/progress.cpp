#include "progress.hpp"

#include <unistd.h>

#include <algorithm>
#include <cstdio>

namespace coldwright::cli {

using std::chrono::milliseconds;
using std::chrono::steady_clock;

Progress::Progress() : start_(steady_clock::now()), last_(start_), terminal_(isatty(STDERR_FILENO) == 1) {}

Progress::~Progress() {
  if (shown_ && terminal_) std::fputs("\r                              \r", stderr);
}

bool Progress::operator()(double share) {
  const auto now = steady_clock::now();
  const auto pause = terminal_ ? milliseconds(200) : milliseconds(5000);
  if (now - start_ < milliseconds(1000) || (shown_ && now - last_ < pause)) return true;
  last_ = now;
  shown_ = true;
  const int percent = static_cast<int>(100 * std::clamp(share, 0.0, 1.0));
  std::fprintf(stderr, terminal_ ? "\rworking: %3d %%" : "working: %3d %%\n", percent);
  std::fflush(stderr);
  return true;
}

}  // namespace coldwright::cli

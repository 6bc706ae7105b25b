// Progress on standard error, only once an answer has taken longer than a second.
#pragma once

#include <chrono>

namespace coldwright::cli {

class Progress {
 public:
  Progress();
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  /// Always true: the command line is cancelled with Ctrl-C.
  bool operator()(double share);

 private:
  std::chrono::steady_clock::time_point start_, last_;
  bool terminal_;  // one line rewritten; a log gets a line every five seconds instead
  bool shown_ = false;
};

}  // namespace coldwright::cli

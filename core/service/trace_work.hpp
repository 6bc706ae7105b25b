// Traces in pieces: open a file with its layout or without, feed its bytes as they come, and ask for the
// answer of the use case "trace" at the end. For doors whose files are too large for a request.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "service/use_cases.hpp"

namespace coldwright::service {

/// A logged file's first bytes put into a request for "trace_layout", in UTF-8 whatever they were.
std::string request_with_head(std::string_view head, std::string_view name);

class TraceWork {
 public:
  /// `request_json`: the request of "trace" without its files: units, altitude or barometer.
  static Result<std::unique_ptr<TraceWork>> start(std::string_view request_json, const Context& context);
  ~TraceWork();

  /// The next file. `layout_json` is a layout as "trace_layout" answers it, or empty: then it is guessed from
  /// the file's first bytes. `bytes`: how many there are, where that is known.
  Result<bool> open(std::string_view name, std::string_view layout_json, double bytes = 0);
  /// More of the file that is open. A Problem when its layout can't be guessed.
  Result<bool> feed(std::string_view bytes);
  /// The answer; nothing can be fed afterwards.
  Result<std::string> answer();

 private:
  struct Held;
  explicit TraceWork(std::unique_ptr<Held> held);
  std::unique_ptr<Held> held_;
};

}  // namespace coldwright::service

// Bytes of a file, in pieces as they come, to lines in UTF-8.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "traces/layout.hpp"

namespace coldwright::traces {

/// UTF-16 by its mark or by the zeros between letters, else UTF-8, else one byte a letter.
Encoding guess_encoding(std::string_view head);

/// A line is at most this long; what is longer is no row of a table.
inline constexpr std::size_t longest_line = 1 << 16;

class Decoder {
 public:
  explicit Decoder(Encoding encoding) : encoding_(encoding) {}
  /// Takes any number of bytes; a character may be cut in two.
  void feed(std::string_view bytes);
  /// The next whole line without its end, or nothing until more is fed. Valid until the next call.
  std::optional<std::string_view> line();
  /// What is left after the last end of line; call when nothing more comes.
  std::optional<std::string_view> rest();
  /// Whether the line just given was cut at longest_line.
  bool cut() const { return cut_; }

 private:
  void append(std::string_view bytes);

  Encoding encoding_;
  std::string buffer_;
  std::size_t at_ = 0;
  std::string half_;  // of a UTF-16 unit
  unsigned high_ = 0;
  bool first_ = true, skip_newline_ = false, cut_ = false, skipping_ = false;
};

}  // namespace coldwright::traces

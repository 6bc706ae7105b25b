#include "traces/decode.hpp"

#include <algorithm>
#include <cstring>

#include "base/text.hpp"

namespace coldwright::traces {
namespace {

void put(std::string& out, unsigned code) {
  if (code < 0x80) {
    out += static_cast<char>(code);
  } else if (code < 0x800) {
    out += static_cast<char>(0xC0 | (code >> 6));
    out += static_cast<char>(0x80 | (code & 0x3F));
  } else if (code < 0x10000) {
    out += static_cast<char>(0xE0 | (code >> 12));
    out += static_cast<char>(0x80 | ((code >> 6) & 0x3F));
    out += static_cast<char>(0x80 | (code & 0x3F));
  } else {
    out += static_cast<char>(0xF0 | (code >> 18));
    out += static_cast<char>(0x80 | ((code >> 12) & 0x3F));
    out += static_cast<char>(0x80 | ((code >> 6) & 0x3F));
    out += static_cast<char>(0x80 | (code & 0x3F));
  }
}

}  // namespace

Encoding guess_encoding(std::string_view head) {
  if (head.starts_with("\xFF\xFE")) return Encoding::utf16_le;
  if (head.starts_with("\xFE\xFF")) return Encoding::utf16_be;
  const std::string_view start = head.substr(0, 2000);
  std::size_t even = 0, odd = 0;
  for (std::size_t i = 0; i < start.size(); ++i)
    if (start[i] == '\0') ++(i % 2 == 0 ? even : odd);
  if (odd > start.size() / 3) return Encoding::utf16_le;
  if (even > start.size() / 3) return Encoding::utf16_be;
  const auto broken = base::first_invalid_utf8(head);
  // A character cut at the end of the head isn't broken.
  return broken && *broken + 4 < head.size() ? Encoding::latin1 : Encoding::utf8;
}

void Decoder::append(std::string_view bytes) {
  if (encoding_ == Encoding::utf8) {
    buffer_.append(bytes);
    return;
  }
  if (encoding_ == Encoding::latin1) {
    for (const char c : bytes) put(buffer_, static_cast<unsigned char>(c));
    return;
  }
  for (const char c : bytes) {
    half_ += c;
    if (half_.size() < 2) continue;
    const unsigned a = static_cast<unsigned char>(half_[0]), b = static_cast<unsigned char>(half_[1]);
    half_.clear();
    const unsigned unit = encoding_ == Encoding::utf16_le ? a | (b << 8) : (a << 8) | b;
    if (unit >= 0xD800 && unit < 0xDC00) {
      high_ = unit;
    } else if (unit >= 0xDC00 && unit < 0xE000) {
      if (high_ != 0) put(buffer_, 0x10000 + ((high_ - 0xD800) << 10) + (unit - 0xDC00));
      high_ = 0;
    } else {
      put(buffer_, unit);
    }
  }
}

void Decoder::feed(std::string_view bytes) {
  if (at_ > 0) {
    buffer_.erase(0, at_);
    at_ = 0;
  }
  append(bytes);
  if (first_ && buffer_.size() >= 3) {
    if (buffer_.starts_with("\xEF\xBB\xBF")) at_ = 3;
    first_ = false;
  }
}

std::optional<std::string_view> Decoder::line() {
  if (skip_newline_ && at_ < buffer_.size()) {
    if (buffer_[at_] == '\n') ++at_;
    skip_newline_ = false;
  }
  const char* const from = buffer_.data() + at_;
  const std::size_t left = buffer_.size() - at_;
  const auto* newline = static_cast<const char*>(std::memchr(from, '\n', left));
  std::size_t length = newline != nullptr ? static_cast<std::size_t>(newline - from) : left;
  const auto* back = static_cast<const char*>(std::memchr(from, '\r', length));
  const bool returned = back != nullptr;
  if (returned) length = static_cast<std::size_t>(back - from);
  if (!returned && newline == nullptr) {
    // No end in sight: a line may not grow for ever.
    if (left > longest_line) {
      at_ += left;
      skipping_ = true;
    }
    return std::nullopt;
  }
  const std::string_view text = std::string_view(buffer_).substr(at_, length);
  at_ += length + 1;
  if (returned) skip_newline_ = true;
  cut_ = skipping_ || length > longest_line;
  skipping_ = false;
  return text;
}

std::optional<std::string_view> Decoder::rest() {
  if (at_ >= buffer_.size() && !skipping_) return std::nullopt;
  const std::string_view text = std::string_view(buffer_).substr(at_);
  at_ = buffer_.size();
  cut_ = skipping_ || text.size() > longest_line;
  skipping_ = false;
  return text;
}

}  // namespace coldwright::traces

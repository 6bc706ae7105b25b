// Small text tools that every door's messages need: UTF-8 as data, quoting what a person typed, and the
// nearest allowed word.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace coldwright::base {

/// Byte offset of the first byte that isn't well-formed UTF-8 (RFC 3629), or none.
std::optional<std::size_t> first_invalid_utf8(std::string_view text);

/// What was typed, fit to be printed inside a message: in quotes, control and broken bytes shown as '?',
/// cut at `most` characters.
std::string quoted(std::string_view text, std::size_t most = 60);

/// The allowed word nearest to what was typed (edit distance at most a third of its length, at least 1, at
/// most 3), or none. Words are compared in lower case.
std::optional<std::string> nearest(std::string_view typed, std::span<const std::string> allowed);

/// "a, b or c".
std::string listed(std::span<const std::string> words, std::string_view last = "or");

/// Characters a terminal shows for it (code points; combining marks are not expected in our texts).
std::size_t shown_width(std::string_view utf8);

std::string lower(std::string_view ascii);

/// Every `from` in the text becomes `to`; what was put in is not looked at again.
void replace_all(std::string& text, std::string_view from, std::string_view to);

/// Phones and word processors put signs, spaces and fractions of their own; brings them to one form, without
/// blanks at either end: "\u22123\u00BD" is "-3 1/2".
std::string plain_signs(std::string_view text);

}  // namespace coldwright::base

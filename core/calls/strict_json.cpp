#include "calls/strict_json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "calls/call.hpp"

namespace coldwright::calls {
namespace {

using nlohmann::json;

/// Line and column, both from 1, of a byte.
std::string place(std::string_view text, std::size_t byte) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const std::size_t newline = before.rfind('\n');
  const std::size_t start = newline == std::string_view::npos ? 0 : newline + 1;
  return "line " + std::to_string(line) + ", column " + std::to_string(before.size() - start + 1);
}

/// Builds the value while refusing what the library would take in silence: duplicate keys and great depth.
class Builder : public nlohmann::json_sax<json> {
 public:
  Builder(std::string_view text, std::string_view what, int depth)
      : text_(text), what_(what), depth_(depth) {}

  json root;
  std::optional<Problem> problem;

  bool null() override { return put(nullptr); }
  bool boolean(bool value) override { return put(value); }
  bool number_integer(number_integer_t value) override { return put(value); }
  bool number_unsigned(number_unsigned_t value) override { return put(value); }
  bool number_float(number_float_t value, const string_t&) override { return put(value); }
  bool string(string_t& value) override { return put(std::move(value)); }
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(json::object()); }
  bool start_array(std::size_t) override { return open(json::array()); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }

  bool key(string_t& name) override {
    if (stack_.back()->contains(name)) {
      problem = Problem{what_, "the key " + base::quoted(name) + " twice in one object", "each key once",
                        "it would not be clear which of the two counts"};
      return false;
    }
    key_ = name;
    return true;
  }

  bool parse_error(std::size_t position, const std::string& last_token,
                   const nlohmann::detail::exception& error) override {
    if (!problem) problem = syntax(position, last_token, error.id);
    return false;
  }

 private:
  bool put(json value) {
    add(std::move(value));
    return true;
  }

  json* add(json value) {
    if (stack_.empty()) {
      root = std::move(value);
      return &root;
    }
    json& parent = *stack_.back();
    if (parent.is_array()) {
      parent.push_back(std::move(value));
      return &parent.back();
    }
    json& slot = parent[key_];
    slot = std::move(value);
    return &slot;
  }

  bool open(json empty) {
    if (static_cast<int>(stack_.size()) >= depth_) {
      problem = Problem{what_, "brackets nested more than " + std::to_string(depth_) + " deep",
                        "at most " + std::to_string(depth_) + " levels", "nothing in a call needs more"};
      return false;
    }
    stack_.push_back(add(std::move(empty)));
    return true;
  }

  bool close() {
    stack_.pop_back();
    return true;
  }

  Problem syntax(std::size_t position, const std::string& token, int id) const {
    const std::size_t byte = position == 0 ? 0 : position - 1;
    const std::string where = place(text_, byte);
    if (id == 406)
      return {what_, "a number too large to hold at " + where, "numbers an instrument can show",
              "no reading is that large"};
    if (text_.find_first_not_of(" \t\r\n") == std::string_view::npos)
      return {what_, "an empty text", "a JSON object", "there is nothing in it"};
    if (position > text_.size())
      return {what_, "a text that ends in the middle, at " + where, "a whole JSON object",
              "it seems to have been cut off"};
    for (std::size_t start :
         {byte, byte == 0 ? 0 : byte - 1})  // "nan" is taken for the start of "null" first
      for (std::string_view word : {"NaN", "nan", "Infinity", "inf"})
        if (text_.substr(start, word.size()) == word)
          return {what_, std::string(word) + " at " + where, "a quantity in quotes such as \"41 psig\"",
                  "that is not a number anyone can read off an instrument"};
    return {what_, "something unexpected at " + where + ", at the end of " + base::quoted(token, 40),
            "JSON as RFC 8259 defines it", "a comma, quote or bracket is missing or one too many"};
  }

  std::string_view text_;
  std::string what_;
  int depth_;
  std::vector<json*> stack_;  // objects and arrays still open; stable, since only the innermost one grows
  std::string key_;
};

std::string megabytes(std::size_t bytes) {
  return std::to_string(bytes / (std::size_t{1} << 20)) + "." +
         std::to_string(bytes % (std::size_t{1} << 20) * 10 / (std::size_t{1} << 20)) + " MB";
}

}  // namespace

std::optional<Problem> check_size(std::size_t bytes, std::string_view what, std::size_t limit) {
  if (bytes <= limit) return std::nullopt;
  return Problem{std::string(what), megabytes(bytes) + " (" + std::to_string(bytes) + " bytes)",
                 "at most " + megabytes(limit) + " (" + std::to_string(limit) + " bytes)",
                 "a call is some pages of text; a larger file is something else or damaged"};
}

Result<json> parse_strict(std::string_view text, std::string_view what, const JsonLimits& limits) {
  if (auto problem = check_size(text.size(), what, limits.bytes)) return *problem;
  if (text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF")
    return Problem{std::string(what), "text in UTF-16", "text in UTF-8",
                   "this program reads UTF-8 only; save the file as UTF-8"};
  if (const auto bad = base::first_invalid_utf8(text))
    return Problem{std::string(what), "a byte that is not UTF-8 at " + place(text, *bad), "text in UTF-8",
                   "in another encoding names and degree signs would be read wrong; save the file as UTF-8"};
  Builder builder(text, what, limits.depth);
  const bool whole = json::sax_parse(text.begin(), text.end(), &builder);
  if (builder.problem) return *builder.problem;
  if (!whole)
    return Problem{std::string(what), "a text that is not JSON", "a JSON object", "it could not be read"};
  return std::move(builder.root);
}

std::string dump(const json& value, int indent) {
  return value.dump(indent, ' ', false, json::error_handler_t::replace);
}

}  // namespace coldwright::calls

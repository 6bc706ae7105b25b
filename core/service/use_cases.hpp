// The table of use cases: everything a door can ask the core, as JSON text in and out. Command line, server
// and browser are transports of this table; this is the one header of the core that they include.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace coldwright::service {

/// What the world gives: the core has no clock of its own and never decides how long to work.
struct Context {
  std::int64_t now_seconds = 0;  // UTC, since 1970-01-01
  /// Called now and then with 0..1; false cancels, and the answer is then a Problem.
  std::function<bool(double)> progress;
  /// The door's preference, "us" or "metric", where neither the request nor the call has one.
  std::string units;
  /// Of the answer's texts and of a Problem's: "en", "es" or "fr"; another is a Problem.
  std::string language = "en";
};

/// Whether there are words in it: "en", "es", "fr".
bool is_language(std::string_view language);

struct UseCase {
  std::string_view name;            // "saturation"
  std::string_view summary;         // one line for a help text
  std::string_view request_schema;  // names for bundled_schema()
  std::string_view answer_schema;
  Result<std::string> (*run)(std::string_view request_json, const Context& context);
};

std::span<const UseCase> use_cases();
const UseCase* find_use_case(std::string_view name);
/// What to say about a name that isn't in the table.
Problem no_such_use_case(std::string_view name);

/// A Problem's texts in a language; its field stays the key that it is. What `run` gives is in the context's
/// language already: this is for the Problems that a door gets elsewhere.
Problem in_language(const Problem& problem, std::string_view language);
/// One line for a person, the field named too: "carga: se indica \"5 lb\"; se admite: ...; motivo: ...". Of
/// a Problem that is in that language.
std::string told(const Problem& problem, std::string_view language);

/// A JSON Schema (2020-12) that stands alone: "diagnose.answer", "call". Also known to the use case "schema".
Result<std::string> bundled_schema(std::string_view name);

/// Bytes of a call file, as they came, put into a request for "expect" or "diagnose". Refuses a file too
/// large or not UTF-8 before anything else looks at it. `more` is further request members as JSON, such as
/// {"seed": 3}.
Result<std::string> request_with_call(std::string_view call_file, std::string_view more_json);

/// The most bytes of a call file a door needs to read to know that it is too large.
std::size_t call_file_limit();

/// Problem for a file larger than that, by its size alone.
Problem call_file_too_large(std::uint64_t bytes);

}  // namespace coldwright::service

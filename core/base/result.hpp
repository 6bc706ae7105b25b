// Failure is a value with a story: what was given, what is allowed, and why.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>

namespace coldwright {

/// What went wrong, in the words a technician reads: `field` is the name of the value at fault
/// ("suction pressure"), `given` what was typed or computed, `allowed` what would have been
/// accepted, `why` the reason.
struct Problem {
  std::string field;
  std::string given;
  std::string allowed;
  std::string why;
};

/// One line for a person: "suction pressure: given -40 psig; allowed ...; because ...".
std::string to_text(const Problem& problem);

/// A value or the problem that kept it from being computed. Never both, never neither.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}  // NOLINT: implicit by design
  Result(Problem problem) : held_(std::in_place_index<1>, std::move(problem)) {}  // NOLINT

  explicit operator bool() const { return held_.index() == 0; }
  bool has_value() const { return held_.index() == 0; }

  /// Precondition: has_value().
  const T& value() const& { return *std::get_if<0>(&held_); }
  T& value() & { return *std::get_if<0>(&held_); }
  T&& value() && { return std::move(*std::get_if<0>(&held_)); }
  const T& operator*() const& { return value(); }
  T& operator*() & { return value(); }
  const T* operator->() const { return std::get_if<0>(&held_); }
  T* operator->() { return std::get_if<0>(&held_); }

  /// Precondition: !has_value().
  const Problem& problem() const { return *std::get_if<1>(&held_); }

 private:
  std::variant<T, Problem> held_;
};

}  // namespace coldwright

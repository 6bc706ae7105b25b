// Which of several entries about one thing stands. Kept to calls/.
#pragma once

#include <cmath>
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

#include "base/text.hpp"
#include "calls/call.hpp"

namespace coldwright::calls {

/// One entry's word on one thing.
template <class T>
struct Claim {
  T value;
  std::string text;  // as typed
  const Entry* entry;
};

template <class T>
bool same(const T& a, const T& b) {
  if constexpr (std::is_floating_point_v<T>)
    return std::abs(a - b) <= 1e-9 * (std::abs(a) + std::abs(b));
  else
    return a == b;
}

template <class T>
struct Settled {
  Claim<T> claim;
  int older = 0;  // different values that a later one stands for
};

/// The latest by time stands. Where values differ and time doesn't decide, that is a contradiction.
template <class T>
Result<Settled<T>> settle(const std::vector<Claim<T>>& claims, const std::string& field) {
  const Claim<T>* last = &claims.front();
  for (const Claim<T>& claim : claims)
    if (std::pair(claim.entry->at, claim.entry->id) > std::pair(last->entry->at, last->entry->id))
      last = &claim;
  Settled<T> settled{*last, 0};
  for (const Claim<T>& claim : claims) {
    if (same(claim.value, last->value)) continue;
    if (!claim.entry->at || !last->entry->at || *claim.entry->at == *last->entry->at)
      return Problem{
          field,
          base::quoted(claim.text) + " (" + claim.entry->id + ") and " + base::quoted(last->text) + " (" +
              last->entry->id + ")",
          "one of them, or an \"at\" time on both, or \"replaces\" in the one that corrects the other",
          "they contradict each other and nothing says which came later"};
    ++settled.older;
  }
  return settled;
}

}  // namespace coldwright::calls

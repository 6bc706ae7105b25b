// What the fuzzer and the mutation test do with one text: everything that a call file from outside goes
// through. Aborts when a property that must hold for every input doesn't.
#pragma once

#include <cstdlib>
#include <string>
#include <string_view>

#include "base/text.hpp"
#include "calls/call.hpp"
#include "calls/fold.hpp"
#include "contract/call_words.hpp"

namespace coldwright::tests {

inline void must(bool holds) {
  if (!holds) std::abort();
}

inline void check_problem(const Problem& problem) {
  const std::string text = to_text(problem);
  must(!problem.field.empty() && !problem.why.empty() && !problem.allowed.empty());
  must(text.size() < 20000 && text.find('\n') == std::string::npos);
  must(!base::first_invalid_utf8(text));
}

/// True when the text was a call that folds.
inline bool try_call(std::string_view text) {
  const auto call = calls::read_call(text);
  if (!call) {
    check_problem(call.problem());
    return false;
  }
  const auto again = calls::read_call(calls::write_call(*call));
  must(again.has_value() || again.problem().given.find("MB") != std::string::npos);  // ids make a file longer
  const auto merged = calls::merge(*call, *call);
  must(merged.has_value() && merged->entries.size() == call->entries.size());
  if (again) {
    const auto with_itself = calls::merge(*call, *again);
    must(with_itself.has_value() && with_itself->entries.size() == call->entries.size());
  }
  const auto folded = calls::fold(*call, words(), noon);
  if (!folded) {
    check_problem(folded.problem());
    return false;
  }
  for (const auto& reading : folded->the_case.readings)
    must(reading.value == reading.value && reading.value < 1e9);
  must(folded->the_case.site_pressure > 4e4 && folded->the_case.site_pressure < 1.2e5);
  const auto from_merged = calls::fold(*merged, words(), noon);
  must(from_merged.has_value() && from_merged->the_case.readings.size() == folded->the_case.readings.size());
  return true;
}

}  // namespace coldwright::tests

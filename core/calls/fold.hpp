// From the entries of a call to the plain case that the diagnosis works on: corrections applied, repeated
// readings settled, gauge pressures put on the site's air. Depends on the set of entries alone, not on
// their order in the file.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "base/field_units.hpp"
#include "calls/call.hpp"
#include "calls/instant.hpp"
#include "diagnosis/answer.hpp"
#include "diagnosis/case.hpp"

namespace coldwright::calls {

/// The words a call may use that are not the program's own but stand in its data.
struct Vocabulary {
  struct Cabinet {
    std::string id;
    std::string refrigerant;  // the usual one, when the plate doesn't say
  };
  struct Subject {
    std::string id;
    std::vector<std::string> values;
  };
  std::vector<Cabinet> cabinets;
  std::vector<Subject> subjects;
  /// The designation of a refrigerant by any of its names, or a Problem that lists those known.
  std::function<Result<std::string>(std::string_view)> refrigerant_named;
};

struct Folded {
  diagnosis::Case the_case;
  std::string name;
  std::string refrigerant;  // designation, from the plate or else the cabinet's usual one
  base::UnitSystem units = base::UnitSystem::us;
  /// What was assumed, settled or left aside on the way, for the reader.
  std::vector<diagnosis::Statement> remarks;
};

/// Clocks of two phones differ; an entry this far ahead of `now` is still taken.
inline constexpr std::int64_t clock_slack_seconds = 300;

Result<Folded> fold(const Call& call, const Vocabulary& vocabulary, Instant now);

}  // namespace coldwright::calls

// The visits of the full virtual cabinet that data/practice keeps (docs/formats/practice.md). Kept to
// service/.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "practice/recorded.hpp"

namespace coldwright::service {

/// Their ids, in alphabetical order: the file names.
std::vector<std::string> practice_record_ids();
/// Problem when there is no such one, or its file can't be read.
Result<practice::Recorded> practice_record(std::string_view id);
/// The same out of a text; `id` is named in the Problem.
Result<practice::Recorded> parse_practice_record(std::string_view json_text, std::string_view id);

}  // namespace coldwright::service

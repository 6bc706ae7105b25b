// Loads the learned correction of the diagnosis from data/correction.json.
#pragma once

#include <string_view>

#include "base/result.hpp"
#include "diagnosis/diagnose.hpp"

namespace coldwright::service {

/// Problem, by file and place, for a trait, look or cause that the program doesn't know, for weights that are
/// too many or too few, and for trust outside 0..1.
Result<diagnosis::Correction> parse_correction(std::string_view text, const diagnosis::Knowledge& knowledge);

}  // namespace coldwright::service

// What thumbs type and phones write down from speech, brought to the strict forms of the table of field
// units:
// "-3in" of a pressure, "41.5" beside a key that says psig, "forty one point five pounds", "1 h 30 min". What
// could mean two things is refused with both.
#pragma once

#include <string>
#include <string_view>

#include "base/field_units.hpp"
#include "base/result.hpp"

namespace coldwright::base {

struct Heard {
  Spoken spoken;
  std::string text;              // strict: parse_spoken() reads it back as the same
  bool unit_assumed = false;     // none was said, so the default's was taken
  bool against_assumed = false;  // the unit was said, but not gauge or absolute
};

/// What a bare number of this kind is taken for: "psig" or "bar(g)", "°F" or "°C", "min", ...
std::string_view default_unit(Dimension kind, UnitSystem system);

/// `unit` stands for a bare number and says what "psi" or "bar" alone is read against. `chosen`: a person
/// picked it, so that "-3" isn't asked about; otherwise it is only the kind's default.
Result<Heard> hear(std::string_view typed, std::string_view field, Dimension kind, std::string_view unit,
                   bool chosen);

/// Number words into digits, the rest untouched: "minus three inches" is "-3 inches".
std::string digits_for_words(std::string_view text);

}  // namespace coldwright::base

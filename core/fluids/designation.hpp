// What people call a refrigerant, turned into its designation: "r-448a", "448A", "HFO-1234yf", "propane",
// "CO2". A name that isn't known or fits several is a Problem that lists the nearest ones or those it fits.
// Also a free composition, as the designation standard writes one: "R32/R125/R134a 23/25/52".
#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace coldwright::fluids {

/// One refrigerant's names.
struct RefrigerantNames {
  std::string designation;  // "R448A"
  bool blend = false;
  std::vector<std::string> also_called;  // "propane", "C3H8"
};

/// The letters and digits that tell names apart, in lower case: hyphens, blanks, brackets, commas and the
/// letters of the family before a number (R, HFC, HFO, HC, ...) are dropped. "HFC-1234ze(E)" and "r1234zeE"
/// are both "1234zee". Characters of other scripts stay, so that they fit no name.
std::string plain_designation(std::string_view typed);

class Designations {
 public:
  explicit Designations(std::span<const RefrigerantNames> known);

  /// The designation meant. An isomer or a blend may be typed without its last letter where only one has it:
  /// "1233zd", "404". Otherwise a Problem about `refrigerant`.
  Result<std::string> find(std::string_view typed) const;

  /// Of a designation that find() gave.
  bool is_blend(std::string_view designation) const;

  /// At most three designations, nearest spelling first.
  std::vector<std::string> nearest(std::string_view typed) const;

 private:
  struct Known {
    std::string designation;
    bool blend = false;
    bool isomer = false;  // "R1233zd(E)"
    std::string byname;   // what was known by that name, when not the designation
  };
  std::vector<const Known*> begun_by(const std::string& plain) const;
  std::vector<const Known*> near(std::string_view typed) const;
  std::map<std::string, Known, std::less<>> by_plain_name_;
};

/// A share of a free composition.
struct Share {
  std::string designation;
  double mass_fraction = 0;
};

/// True for a text that can only be meant as a composition: it has a '/'.
bool is_composition(std::string_view typed);

/// "R32/R125/R134a 23/25/52" or "R-32/125/134a (23/25/52)", percent by mass. They must sum to 100 within 0.1
/// and are then scaled to sum to exactly one. Each component must be known, pure and named once.
Result<std::vector<Share>> parse_composition(std::string_view typed, const Designations& known);

}  // namespace coldwright::fluids

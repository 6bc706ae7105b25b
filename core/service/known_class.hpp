// What the catalogue knows of a refrigerant's safety class, for the answers that put several side by side.
// Kept to service/.
#pragma once

#include <string>
#include <vector>

#include "service/catalogue.hpp"
#include "service/wording.hpp"

namespace coldwright::service {

struct KnownClass {
  std::string designation;
  std::string value;  // "A3"; empty when not known
  bool recalled = false;
  Source source;
  /// True when the class is known and isn't 1; what isn't known is told apart.
  bool burns() const { return value.size() >= 2 && value[1] != '1'; }
};

KnownClass known_class(const Catalogue& catalogue, const std::string& designation);

/// The lines about those that burn, those of no known class and classes recalled from memory, where there are
/// any.
std::vector<diagnosis::Statement> class_statements(const std::vector<KnownClass>& classes);

}  // namespace coldwright::service

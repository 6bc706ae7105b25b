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
};

KnownClass known_class(const Catalogue& catalogue, const std::string& designation);

/// The cautions that belong to these refrigerants' names, each once with all whom it concerns: section "card"
/// of the wording.
std::vector<diagnosis::Statement> class_statements(const std::vector<KnownClass>& classes);

}  // namespace coldwright::service

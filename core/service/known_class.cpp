#include "service/known_class.hpp"

#include "service/cautions.hpp"

namespace coldwright::service {

KnownClass known_class(const Catalogue& catalogue, const std::string& designation) {
  const CatalogueEntry* entry = catalogue.entry(designation);
  if (entry == nullptr || !entry->safety_class) return {designation, "", false, ""};
  const SafetyClass& known = *entry->safety_class;
  return {designation, known.value, is_recalled(known.source), known.source};
}

std::vector<diagnosis::Statement> class_statements(const std::vector<KnownClass>& classes) {
  std::vector<diagnosis::Statement> out;
  for (const char* key : {"caution_flammable", "caution_flammable_rises", "caution_toxic",
                          "caution_class_unknown", "caution_class_recalled"}) {
    std::string names;
    for (const KnownClass& one : classes)
      for (const diagnosis::Statement& line : property_cautions(one.designation))
        if (line.key == key) names += (names.empty() ? "" : ", ") + one.designation;
    if (!names.empty()) out.push_back({key, {}, {{"refrigerants", names}}});
  }
  return out;
}

}  // namespace coldwright::service

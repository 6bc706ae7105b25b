#include "service/known_class.hpp"

namespace coldwright::service {

KnownClass known_class(const Catalogue& catalogue, const std::string& designation) {
  const CatalogueEntry* entry = catalogue.entry(designation);
  if (entry == nullptr || !entry->safety_class) return {designation, "", false, ""};
  const SafetyClass& known = *entry->safety_class;
  return {designation, known.value, is_recalled(known.source), known.source};
}

std::vector<diagnosis::Statement> class_statements(const std::vector<KnownClass>& classes) {
  std::string burning, unknown, recalled;
  const auto add = [](std::string& list, const std::string& name) {
    list += (list.empty() ? "" : ", ") + name;
  };
  for (const KnownClass& one : classes) {
    if (one.value.size() < 2) add(unknown, one.designation);
    if (one.burns()) add(burning, one.designation);
    if (one.recalled) add(recalled, one.designation + " " + one.value);
  }
  std::vector<diagnosis::Statement> out;
  if (!burning.empty()) out.push_back({"flammable", {}, {{"refrigerants", burning}}});
  if (!unknown.empty()) out.push_back({"class_unknown", {}, {{"refrigerants", unknown}}});
  if (!recalled.empty()) out.push_back({"recalled", {}, {{"classes", recalled}}});
  return out;
}

}  // namespace coldwright::service

#include "service/lower_limit.hpp"

#include "base/text.hpp"
#include "service/catalogue.hpp"

namespace coldwright::service {

Result<LowerLimit> lower_limit_of(const std::string& designation) {
  const auto catalogue = Catalogue::load();
  if (!catalogue) return catalogue.problem();
  const CatalogueEntry* entry = catalogue->entry(designation);
  if (entry != nullptr && !entry->flammability.empty()) {
    const FlammabilityLimit& first = entry->flammability.front();
    return LowerLimit{first.density, first.source, first.edition};
  }
  return Problem{"refrigerant", base::quoted(designation),
                 "a refrigerant with a lower flammability limit in the catalogue, such as R290",
                 "what else may limit a charge, such as oxygen or toxicity, isn't covered here"};
}

}  // namespace coldwright::service

#include "service/cautions.hpp"

#include <algorithm>
#include <map>

#include "base/text.hpp"
#include "fluids/blend.hpp"
#include "service/catalogue.hpp"

namespace coldwright::service {

using diagnosis::Statement;

namespace {

struct KnownSafety {
  SafetyClass safety;
  bool lighter_than_air = false;
};
using Classes = std::map<std::string, KnownSafety, std::less<>>;

/// The catalogue's classes. Read once: they never change while the program runs.
const Classes& classes() {
  static const Classes known = [] {
    Classes out;
    const auto catalogue = Catalogue::load();
    if (!catalogue) return out;  // no class is known then, and what isn't known burns
    for (const CatalogueEntry& entry : catalogue->entries())
      if (entry.safety_class) out.insert({entry.designation, {*entry.safety_class, entry.lighter_than_air}});
    return out;
  }();
  return known;
}

}  // namespace

std::optional<std::string> safety_class(std::string_view designation) {
  const auto found = classes().find(designation);
  if (found == classes().end()) return std::nullopt;
  return found->second.safety.value;
}

std::vector<std::string> classed_refrigerants() {
  std::vector<std::string> names;
  for (const auto& [designation, known] : classes()) names.push_back(designation);
  return names;
}

bool treat_as_flammable(std::string_view designation) {
  const auto known = safety_class(designation);
  return !known || known->size() < 2 || (*known)[1] != '1';
}

std::vector<Statement> property_cautions(std::string_view designation) {
  const auto line = [&](const char* key) {
    return Statement{key, {}, {{"refrigerant", std::string(designation)}}};
  };
  const auto found = classes().find(designation);
  if (found == classes().end()) return {line("caution_class_unknown")};
  const SafetyClass& known = found->second.safety;
  std::vector<Statement> lines;
  if (treat_as_flammable(designation))
    lines.push_back(line(found->second.lighter_than_air ? "caution_flammable_rises" : "caution_flammable"));
  if (known.value.front() != 'A') lines.push_back(line("caution_toxic"));
  if (is_recalled(known.source)) lines.push_back(line("caution_class_recalled"));
  return lines;
}

std::vector<Statement> estimate_cautions(const fluids::FluidData& fluid, const Wording& wording) {
  std::vector<Statement> lines;
  if (const auto components = fluids::estimated_components(fluid); !components.empty())
    lines.push_back({"caution_estimated_component", {}, {{"component", wording.listed(components, "or")}}});
  if (const auto pairs = fluids::estimated_pairs(fluid); !pairs.empty())
    lines.push_back({"caution_estimated_pair", {}, {{"pair", wording.listed(pairs, "or")}}});
  return lines;
}

std::vector<Statement> call_cautions(std::string_view designation, bool assumed,
                                     const std::vector<Statement>& from_diagnosis) {
  std::vector<Statement> lines;
  if (assumed) lines.push_back({"caution_refrigerant_unknown", {}, {}});
  for (Statement& line : property_cautions(designation)) lines.push_back(std::move(line));
  for (const char* key : {"caution_electrical", "caution_capacitor", "caution_stay_closed",
                          "caution_no_torch", "caution_pressure"})
    lines.push_back({key, {}, {}});
  for (const Statement& line : from_diagnosis)
    if (line.key != "caution_defer" && std::none_of(lines.begin(), lines.end(), [&](const Statement& other) {
          return other.key == line.key;
        }))
      lines.push_back(line);
  lines.push_back({"caution_defer", {}, {}});
  return lines;
}

}  // namespace coldwright::service

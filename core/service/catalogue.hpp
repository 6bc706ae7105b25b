// Every refrigerant of data/catalogue.json as plain values, each with its source. What is recalled is marked
// so, and what isn't known is absent. Equations and what follows from them stand elsewhere (core/fluids).
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "fluids/designation.hpp"

namespace coldwright::service {

/// A key of data/references.bib, maybe with its place: "ashrae2021, Chapter 29, Table 2".
using Source = std::string;

/// True for what must not become a limit unmarked.
bool is_recalled(std::string_view source);

struct CatalogueComponent {
  std::string designation;
  double mass_fraction = 0;
  std::optional<double> tolerance_plus, tolerance_minus;  // of the mass fraction
};

struct SafetyClass {
  std::string value;  // "A2L"
  Source source;
  std::string edition;
};

/// Lower flammability limit in air.
struct FlammabilityLimit {
  double density = 0;                     // kg/m3
  std::optional<double> volume_fraction;  // where the source gives it so
  Source source;
  std::string edition;
};

/// A figure relative to a reference gas: warming or ozone depletion potential.
struct RelativeFigure {
  double value = 0;
  Source source;
  bool recalled = false;                     // the value, or one it was computed from
  std::vector<std::string> counted_as_zero;  // components without a figure: the value is a lower bound
};

enum class Assessment { ar4, ar5, ar6 };
inline constexpr std::array kAssessments{Assessment::ar4, Assessment::ar5, Assessment::ar6};
std::string_view name(Assessment report);  // "AR4"

struct CatalogueEntry {
  std::string designation;
  bool blend = false;
  std::string chemical_name;  // of a pure one
  std::string cas;
  std::vector<std::string> also_called;
  std::vector<CatalogueComponent> components;
  std::optional<Source> composition_source, tolerance_source;
  std::optional<SafetyClass> safety_class;
  std::vector<FlammabilityLimit> flammability;           // the designation standard's first, where known
  std::array<std::optional<RelativeFigure>, 3> warming;  // over 100 years, by Assessment
  std::optional<RelativeFigure> warming_20_years;        // of the sixth assessment
  std::optional<RelativeFigure> ozone_depletion;
  std::vector<std::string> oils;  // families, "POE"; empty when not known
  std::optional<Source> oils_source;
  bool lighter_than_air = false;  // of those that burn: where their vapour gathers
  std::string note;
};

class Catalogue {
 public:
  /// The one carried inside the program. Reads about 180 kB of JSON (2 ms): load once and keep it.
  static Result<Catalogue> load();
  static Result<Catalogue> parse(std::string_view json_text);

  const std::vector<CatalogueEntry>& entries() const { return entries_; }
  const fluids::Designations& designations() const { return designations_; }
  /// By designation as it stands there; none when it doesn't.
  const CatalogueEntry* entry(std::string_view designation) const;
  /// By anything people call it.
  Result<CatalogueEntry> find(std::string_view typed) const;
  /// An entry for a free composition: figures weighted by mass, no safety class, no flammability limit.
  Result<CatalogueEntry> mixed(std::string_view typed) const;

 private:
  Catalogue(std::vector<CatalogueEntry> entries, fluids::Designations designations)
      : entries_(std::move(entries)), designations_(std::move(designations)) {}
  std::vector<CatalogueEntry> entries_;
  fluids::Designations designations_;
};

/// "R32/R125/R134a (23/25/52)", percent by mass; empty for a pure one.
std::string composition_text(const CatalogueEntry& entry);

}  // namespace coldwright::service

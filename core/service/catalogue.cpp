#include "service/catalogue.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/field_units.hpp"
#include "base/text.hpp"
#include "service/embedded.hpp"
#include "service/json_reader.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

constexpr std::string_view kWeighted = "computed, weighted by mass";

std::vector<std::string> texts(const JsonReader& in) {
  std::vector<std::string> out;
  for (const JsonReader& item : in.items()) out.push_back(item.text());
  return out;
}

std::optional<double> maybe_number(const JsonReader& in, const char* key) {
  if (!in.has_value(key)) return std::nullopt;
  return in.number(key);
}

/// "a, x; b, y" into its pieces.
std::vector<Source> pieces(std::string_view sources) {
  std::vector<Source> out;
  while (!sources.empty()) {
    const std::size_t end = std::min(sources.find(';'), sources.size());
    std::string_view one = sources.substr(0, end);
    one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
    out.emplace_back(one);
    sources.remove_prefix(std::min(end + 1, sources.size()));
  }
  return out;
}

std::vector<CatalogueComponent> read_components(const JsonReader& in) {
  std::vector<CatalogueComponent> out;
  for (const JsonReader& row : in.items())
    out.push_back({row.text("designation"), row.number("mass_fraction"), maybe_number(row, "tolerance_plus"),
                   maybe_number(row, "tolerance_minus")});
  return out;
}

FlammabilityLimit read_limit(const JsonReader& in) {
  return {in.number("value"), maybe_number(in, "volume_fraction"), in.text("source"), in.text("edition")};
}

std::vector<FlammabilityLimit> read_limits(const JsonReader& in) {
  std::vector<FlammabilityLimit> out = {read_limit(in)};
  if (in.has("other"))
    for (const JsonReader& other : in.at("other").items()) out.push_back(read_limit(other));
  return out;
}

RelativeFigure read_figure(const JsonReader& in) {
  RelativeFigure out{in.number("value"), in.text("source"), false, {}};
  out.recalled = is_recalled(out.source);
  if (in.has("counted_as_zero")) out.counted_as_zero = texts(in.at("counted_as_zero"));
  return out;
}

/// "source" has one piece for each value, or one for all of them.
void read_warming(const JsonReader& in, CatalogueEntry& out) {
  const std::vector<Source> sources = pieces(in.text("source"));
  const std::vector<std::string> recalled =
      in.has("from_memory") ? texts(in.at("from_memory")) : std::vector<std::string>();
  std::size_t next = 0;
  for (const Assessment report : kAssessments) {
    const std::string key(name(report));
    const auto value = maybe_number(in, key.c_str());
    if (!value) continue;
    RelativeFigure figure{*value, sources[std::min(next++, sources.size() - 1)], false, {}};
    figure.recalled = std::find(recalled.begin(), recalled.end(), key) != recalled.end();
    if (in.has("counted_as_zero") && in.at("counted_as_zero").has(key.c_str()))
      figure.counted_as_zero = texts(in.at("counted_as_zero").at(key.c_str()));
    out.warming[static_cast<std::size_t>(report)] = std::move(figure);
  }
}

CatalogueEntry read_entry(const JsonReader& in) {
  CatalogueEntry out;
  out.designation = in.text("designation");
  out.blend = in.text("kind") == "blend";
  if (in.has("name")) out.chemical_name = in.text("name");
  if (in.has("cas")) out.cas = in.text("cas");
  out.also_called = texts(in.at("also_called"));
  out.components = read_components(in.at("components"));
  if (in.has("composition_source")) out.composition_source = in.text("composition_source");
  if (in.has("tolerance_source")) out.tolerance_source = in.text("tolerance_source");
  if (in.has_value("safety_class")) {
    const JsonReader row = in.at("safety_class");
    out.safety_class = SafetyClass{row.text("value"), row.text("source"), row.text("edition")};
  }
  if (in.has_value("LFL_kg_per_m3")) out.flammability = read_limits(in.at("LFL_kg_per_m3"));
  if (in.has_value("GWP100")) read_warming(in.at("GWP100"), out);
  if (in.has_value("GWP20_AR6")) out.warming_20_years = read_figure(in.at("GWP20_AR6"));
  if (in.has_value("ODP")) out.ozone_depletion = read_figure(in.at("ODP"));
  if (in.has_value("oils")) out.oils = texts(in.at("oils"));
  if (in.has("oils_source")) out.oils_source = in.text("oils_source");
  out.lighter_than_air = in.has("lighter_than_air");
  if (in.has("note")) out.note = in.text("note");
  return out;
}

fluids::Designations named(const std::vector<CatalogueEntry>& entries) {
  std::vector<fluids::RefrigerantNames> names;
  for (const CatalogueEntry& entry : entries) {
    names.push_back({entry.designation, entry.blend, entry.also_called});
    if (!entry.chemical_name.empty()) names.back().also_called.push_back(entry.chemical_name);
  }
  return fluids::Designations(names);
}

/// One figure of a mixture; none when no component has it.
template <class Get>
std::optional<RelativeFigure> weighted(const Catalogue& all, const std::vector<CatalogueComponent>& parts,
                                       Get get) {
  RelativeFigure out{0, std::string(kWeighted), false, {}};
  for (const CatalogueComponent& part : parts) {
    const CatalogueEntry* entry = all.entry(part.designation);
    const std::optional<RelativeFigure> figure = entry == nullptr ? std::nullopt : get(*entry);
    if (!figure) {
      out.counted_as_zero.push_back(part.designation);
      continue;
    }
    out.value += part.mass_fraction * figure->value;
    out.recalled = out.recalled || figure->recalled;
  }
  if (out.counted_as_zero.size() == parts.size()) return std::nullopt;
  return out;
}

/// With as many decimals as it needs, at most two.
std::string part_text(double fraction) {
  const double percent = 100 * fraction;
  const auto fits = [&](double scale) {
    return std::abs(percent * scale - std::round(percent * scale)) < 1e-6;
  };
  return base::number_text(percent, fits(1) ? 0 : fits(10) ? 1 : 2);
}

}  // namespace

bool is_recalled(std::string_view source) { return source.starts_with("from-memory"); }

std::string_view name(Assessment report) {
  switch (report) {
    case Assessment::ar4:
      return "AR4";
    case Assessment::ar5:
      return "AR5";
    case Assessment::ar6:
      break;
  }
  return "AR6";
}

Result<Catalogue> Catalogue::load() { return parse(embedded("catalogue.json").value_or(std::string_view{})); }

Result<Catalogue> Catalogue::parse(std::string_view json_text) {
  std::optional<Problem> first_problem;
  const json document = json::parse(json_text, nullptr, false);
  if (document.is_discarded())
    return Problem{"catalogue", "text that is not JSON", "a JSON document", "the file is damaged"};
  std::vector<CatalogueEntry> entries;
  const JsonReader in(&document, "catalogue", &first_problem);
  for (const JsonReader& row : in.at("refrigerants").items()) entries.push_back(read_entry(row));
  if (first_problem) return *first_problem;
  fluids::Designations designations = named(entries);
  return Catalogue(std::move(entries), std::move(designations));
}

const CatalogueEntry* Catalogue::entry(std::string_view designation) const {
  const auto found = std::find_if(entries_.begin(), entries_.end(),
                                  [&](const CatalogueEntry& e) { return e.designation == designation; });
  return found == entries_.end() ? nullptr : &*found;
}

Result<CatalogueEntry> Catalogue::find(std::string_view typed) const {
  const auto designation = designations_.find(typed);
  if (!designation) return designation.problem();
  return *entry(*designation);
}

Result<CatalogueEntry> Catalogue::mixed(std::string_view typed) const {
  const auto shares = fluids::parse_composition(typed, designations_);
  if (!shares) return shares.problem();
  CatalogueEntry out;
  out.blend = true;
  for (const fluids::Share& share : *shares)
    out.components.push_back({share.designation, share.mass_fraction, std::nullopt, std::nullopt});
  out.designation = composition_text(out);
  for (const Assessment report : kAssessments) {
    const auto at = static_cast<std::size_t>(report);
    out.warming[at] =
        weighted(*this, out.components, [at](const CatalogueEntry& e) { return e.warming[at]; });
  }
  out.warming_20_years =
      weighted(*this, out.components, [](const CatalogueEntry& e) { return e.warming_20_years; });
  out.ozone_depletion =
      weighted(*this, out.components, [](const CatalogueEntry& e) { return e.ozone_depletion; });
  return out;
}

std::string composition_text(const CatalogueEntry& entry) {
  if (entry.components.size() < 2) return "";
  std::string names, shares;
  for (const CatalogueComponent& part : entry.components) {
    names.append(names.empty() ? "" : "/").append(part.designation);
    shares.append(shares.empty() ? "" : "/").append(part_text(part.mass_fraction));
  }
  return names + " (" + shares + ")";
}

}  // namespace coldwright::service

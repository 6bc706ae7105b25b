// Use cases "refrigerant" and "refrigerants": one refrigerant's sheet, each value with its source, and the
// list of all of them. A value that is recalled says so beside itself, in `recalled` and in `text`.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "service/catalogue.hpp"
#include "service/cautions.hpp"
#include "service/property_answer.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/sentences.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

constexpr double kNormalPressure = 101325;                     // Pa
constexpr double kPerCubicFoot = 0.028316846592 / 0.45359237;  // lb/ft3 in one kg/m3

/// Keys of the works cited, gathered while an answer is put together.
class Cited {
 public:
  /// Every key in "key, place; key, place"; gives the text back.
  const std::string& operator()(const std::string& source) {
    std::string_view rest = source;
    while (!rest.empty()) {
      std::string_view key = rest.substr(0, std::min(rest.find_first_of(",;"), rest.size()));
      key.remove_prefix(std::min(key.find_first_not_of(' '), key.size()));
      keys_.emplace(key);
      const std::size_t next = rest.find(';');
      rest.remove_prefix(next == std::string_view::npos ? rest.size() : next + 1);
    }
    // "from-memory, eu517-2014": what is recalled, and where it stands.
    const std::size_t comma = source.find(", ");
    if (is_recalled(source) && comma != std::string::npos) keys_.insert(source.substr(comma + 2));
    return source;
  }
  std::vector<std::string> keys() const { return {keys_.begin(), keys_.end()}; }

 private:
  std::set<std::string> keys_;
};

/// As many digits as such a figure can carry: 1387, 16.5, 3.88, 0.501, 0.00034.
base::Shown figure_shown(double value, const Wording& wording) {
  const auto shown = [&](int decimals) { return base::Shown{value, "", decimals, wording.numerals()}; };
  if (value == std::round(value) || value >= 100) return shown(0);
  if (value >= 1) return shown(value >= 10 ? 1 : 2);
  return shown(value < 0.001 ? 5 : 3);
}

json figure(const std::optional<RelativeFigure>& given, const Wording& wording, Cited& cited) {
  if (!given) return nullptr;
  const base::Shown shown = figure_shown(given->value, wording);
  std::string text = shown.text();
  if (!given->counted_as_zero.empty())
    text = wording.phrase("phrases", "at_least",
                          {{"text", text}, {"names", wording.listed(given->counted_as_zero, "and")}});
  const bool wholly = given->counted_as_zero.empty() && is_recalled(given->source);
  if (given->recalled)
    text = wording.phrase("phrases", wholly ? "recalled" : "partly_recalled", {{"text", text}});
  return {{"value", quantity(shown, given->value)},
          {"text", text},
          {"cited", cited(given->source)},
          {"recalled", given->recalled},
          {"counted_as_zero", given->counted_as_zero}};
}

json warming(const CatalogueEntry& entry, const Wording& wording, Cited& cited) {
  json out = json::array();
  const auto add = [&](std::string_view report, int years, const std::optional<RelativeFigure>& given) {
    out.push_back({{"report", report}, {"years", years}, {"figure", figure(given, wording, cited)}});
  };
  for (const Assessment report : kAssessments)
    add(name(report), 100, entry.warming[static_cast<std::size_t>(report)]);
  add(name(Assessment::ar6), 20, entry.warming_20_years);
  return out;
}

json share_of(const std::optional<double>& fraction, int decimals, const Wording& wording) {
  if (!fraction) return nullptr;
  return quantity(base::Shown{100 * *fraction, "%", decimals, wording.numerals()}, *fraction);
}

int decimals_of(double percent) { return std::abs(percent * 10 - std::round(percent * 10)) < 1e-6 ? 1 : 2; }

json composition(const CatalogueEntry& entry, const Catalogue& all, const Wording& wording) {
  json out = json::array();
  for (const CatalogueComponent& part : entry.components) {
    const CatalogueEntry* pure = all.entry(part.designation);
    out.push_back(
        {{"designation", part.designation},
         {"name", pure == nullptr ? "" : pure->chemical_name},
         {"mass_fraction", share_of(part.mass_fraction, decimals_of(100 * part.mass_fraction), wording)},
         {"tolerance_plus", share_of(part.tolerance_plus, 1, wording)},
         {"tolerance_minus", share_of(part.tolerance_minus, 1, wording)}});
  }
  return out;
}

json safety(const CatalogueEntry& entry, const Wording& wording, Cited& cited) {
  if (!entry.safety_class) return nullptr;
  const SafetyClass& known = *entry.safety_class;
  std::string text =
      wording.phrase("phrases", "class",
                     {{"class", known.value}, {"text", wording.word("refrigerant_classes", known.value)}});
  const bool recalled = is_recalled(known.source);
  if (recalled) text = wording.phrase("phrases", "recalled", {{"text", text}});
  return {{"value", known.value},
          {"text", text},
          {"cited", cited(known.source)},
          {"edition", known.edition},
          {"recalled", recalled}};
}

/// The designation standard prints g/m3 and lb per 1000 cubic feet.
json flammability(const CatalogueEntry& entry, const base::Display& display, const Wording& wording,
                  Cited& cited) {
  json out = json::array();
  const bool us = display.system == base::UnitSystem::us;
  for (const FlammabilityLimit& limit : entry.flammability) {
    const base::Shown shown =
        us ? base::Shown{1000 * limit.density * kPerCubicFoot, "lb/1000 ft3", 1, display.numerals}
           : base::Shown{1000 * limit.density, "g/m3", 0, display.numerals};
    const bool recalled = is_recalled(limit.source);
    out.push_back(
        {{"density", quantity(shown, limit.density)},
         {"volume_fraction", share_of(limit.volume_fraction, 1, wording)},
         {"text", recalled ? wording.phrase("phrases", "recalled", {{"text", shown.text()}}) : shown.text()},
         {"cited", cited(limit.source)},
         {"edition", limit.edition},
         {"recalled", recalled}});
  }
  return out;
}

json oils(const CatalogueEntry& entry, const Wording& wording) {
  json out = json::array();
  for (const std::string& family : entry.oils)
    out.push_back({{"family", family}, {"name", wording.word("oils", family)}});
  return out;
}

/// Critical point and normal boiling point are never stored: they follow from the equations, and a
/// refrigerant whose equation isn't carried has none here.
json physical_points(const Result<fluids::Fluid>& fluid, const base::Display& display, Cited& cited) {
  json out = {{"critical_point", nullptr}, {"normal_boiling_point", nullptr}, {"equation", nullptr}};
  if (!fluid) return out;
  const fluids::Limits& limits = fluid->limits();
  out["equation"] = cited(fluid->data().equation_reference);
  out["critical_point"] = {
      {"temperature", quantity(base::Dimension::temperature, limits.T_crit, display)},
      {"pressure", quantity(base::show_absolute(base::Pressure{limits.p_crit}, display), limits.p_crit)}};
  const auto bubble = fluid->bubble_temperature(kNormalPressure),
             dew = fluid->dew_temperature(kNormalPressure);
  if (!bubble || !dew) return out;  // R744 has none: its triple point lies above
  out["normal_boiling_point"] = {{"bubble", quantity(base::Dimension::temperature, *bubble, display)},
                                 {"dew", quantity(base::Dimension::temperature, *dew, display)}};
  return out;
}

/// A catalogued blend of the same components and shares, however they are ordered.
json same_as(const CatalogueEntry& mixed, const Catalogue& all) {
  for (const CatalogueEntry& entry : all.entries()) {
    if (entry.components.size() != mixed.components.size()) continue;
    const bool same =
        std::all_of(mixed.components.begin(), mixed.components.end(), [&](const CatalogueComponent& part) {
          return std::any_of(entry.components.begin(), entry.components.end(), [&](const auto& other) {
            return other.designation == part.designation &&
                   std::abs(other.mass_fraction - part.mass_fraction) < 1e-6;
          });
        });
    if (same) return entry.designation;
  }
  return nullptr;
}

json or_null(const std::optional<Source>& source, Cited& cited) {
  return source ? json(cited(*source)) : json(nullptr);
}

json sheet(const CatalogueEntry& entry, bool free, const Catalogue& all, const Wording& wording,
           const Sentences& sentences, const base::Display& display) {
  Cited cited;
  const auto fluid = load_fluid(entry.designation);
  std::vector<diagnosis::Statement> cautions = property_cautions(entry.designation);
  if (fluid)
    for (diagnosis::Statement& line : estimate_cautions(fluid->data(), wording))
      cautions.push_back(std::move(line));
  json out = {{"designation", entry.designation},
              {"kind", free          ? "composition"
                       : entry.blend ? "blend"
                                     : "pure"},
              {"name", entry.chemical_name.empty() ? json(nullptr) : json(entry.chemical_name)},
              {"cas", entry.cas.empty() ? json(nullptr) : json(entry.cas)},
              {"also_called", entry.also_called},
              {"same_as", free ? same_as(entry, all) : json(nullptr)},
              {"composition_text", composition_text(entry)},
              {"composition", composition(entry, all, wording)},
              {"composition_source", or_null(entry.composition_source, cited)},
              {"tolerance_source", or_null(entry.tolerance_source, cited)},
              {"safety_class", safety(entry, wording, cited)},
              {"lower_flammability_limits", flammability(entry, display, wording, cited)},
              {"warming", warming(entry, wording, cited)},
              {"ozone_depletion", figure(entry.ozone_depletion, wording, cited)},
              {"oils", oils(entry, wording)},
              {"oils_source", or_null(entry.oils_source, cited)},
              {"note", entry.note.empty() ? json(nullptr) : json(sentences.say(entry.note))},
              {"cautions", statements("cautions", cautions, wording, display)}};
  out.update(physical_points(fluid, display, cited));
  out["about"] = about(std::nullopt, cited.keys());
  return out;
}

json row(const CatalogueEntry& entry, const std::vector<std::string>& carried, const Wording& wording,
         Cited& cited) {
  json out = {
      {"designation", entry.designation},
      {"kind", entry.blend ? "blend" : "pure"},
      {"name", entry.blend ? composition_text(entry) : entry.chemical_name},
      {"safety_class", nullptr},
      {"safety_class_recalled", false},
      {"warming", json::object()},
      {"equation_carried", std::find(carried.begin(), carried.end(), entry.designation) != carried.end()}};
  if (entry.safety_class) {
    out["safety_class"] = entry.safety_class->value;
    out["safety_class_recalled"] = is_recalled(entry.safety_class->source);
    cited(entry.safety_class->source);
  }
  for (const Assessment report : kAssessments)
    out["warming"][std::string(name(report))] =
        figure(entry.warming[static_cast<std::size_t>(report)], wording, cited);
  return out;
}

}  // namespace

Result<std::string> run_refrigerant(std::string_view text, const Context& context) {
  auto request = Request::read(text, {"refrigerant", "units"});
  if (!request) return request.problem();
  const std::string typed =
      request->required_text("refrigerant", "a designation such as R404A, a name, or a composition");
  const auto units = request->units();
  if (request->problem()) return *request->problem();
  const auto all = Catalogue::load();
  if (!all) return all.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const auto sentences = Sentences::load(context.language);
  if (!sentences) return sentences.problem();
  const bool free = fluids::is_composition(typed);
  const auto entry = free ? all->mixed(typed) : all->find(typed);
  if (!entry) return entry.problem();
  const base::Display display{choose_units(units, std::nullopt, context), base::sea_level,
                              wording->numerals()};
  return calls::dump(sheet(*entry, free, *all, *wording, *sentences, display));
}

Result<std::string> run_refrigerants(std::string_view text, const Context& context) {
  auto request = Request::read(text, {});
  if (!request) return request.problem();
  const auto all = Catalogue::load();
  if (!all) return all.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const std::vector<std::string> carried = known_refrigerants();
  Cited cited;
  json rows = json::array();
  for (const CatalogueEntry& entry : all->entries()) rows.push_back(row(entry, carried, *wording, cited));
  return calls::dump(json{{"about", about(std::nullopt, cited.keys())}, {"refrigerants", std::move(rows)}});
}

}  // namespace coldwright::service

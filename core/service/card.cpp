// Use case "card": pressures at saturation over a range of temperatures, several refrigerants side by side;
// the table that the command line prints as a page.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "base/text.hpp"
#include "calls/strict_json.hpp"
#include "fluids/blend.hpp"
#include "fluids/fluid_data.hpp"
#include "service/cautions.hpp"
#include "service/known_class.hpp"
#include "service/property_answer.hpp"
#include "service/refrigerant_loader.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using base::UnitSystem;
using nlohmann::json;

constexpr std::size_t kMostRefrigerants = 40, kMostRows = 400;

Result<std::vector<fluids::Fluid>> fluids_of(const Request& request) {
  const json* list = request.find("refrigerants");
  const Problem wrong{"refrigerants", list == nullptr ? "nothing" : base::quoted(calls::dump(*list), 40),
                      "1 to 40 refrigerants such as R290 or R448A", "each becomes a column"};
  if (list == nullptr || !list->is_array() || list->empty() || list->size() > kMostRefrigerants) return wrong;
  std::vector<fluids::Fluid> out;
  std::set<std::string> seen;
  for (const json& one : *list) {
    const std::string* name = one.get_ptr<const std::string*>();
    if (name == nullptr) return wrong;
    auto fluid = load_fluid(*name);
    if (!fluid) {
      Problem problem = fluid.problem();
      problem.field = "refrigerant";
      problem.given = base::quoted(*name);
      return problem;
    }
    if (!seen.insert(fluid->designation()).second)
      return Problem{"refrigerants", base::quoted(*name) + ", which is there already",
                     "each refrigerant once", "a second column would say the same"};
    out.push_back(std::move(*fluid));
  }
  return out;
}

struct Range {
  double from = 0, step = 0;  // K
  std::size_t rows = 0;
  UnitSystem system = UnitSystem::us;
};

/// What stands for a bound or a step that nobody gave.
struct Usual {
  const char *from, *to, *step;
};
Usual usual(UnitSystem system) {
  return system == UnitSystem::us ? Usual{"-40F", "140F", "2F"} : Usual{"-40C", "60C", "1C"};
}

Result<Range> range_of(Request& request, std::optional<UnitSystem> units, const Context& context) {
  const auto from_text = request.text("from"), to_text = request.text("to"), step_text = request.text("step");
  if (request.problem()) return *request.problem();
  std::optional<UnitSystem> spoken;
  for (const auto& [text, key] : {std::pair{from_text, "from"}, {to_text, "to"}})
    if (text && !spoken) {
      const auto read = base::parse_spoken(*text, key, Dimension::temperature);
      if (!read) return read.problem();
      spoken = read->system;
    }
  Range range;
  range.system = choose_units(units, spoken, context);
  const Usual stand_in = usual(range.system);
  const std::string from = from_text.value_or(stand_in.from), to = to_text.value_or(stand_in.to),
                    by = step_text.value_or(stand_in.step);
  const auto low = base::parse_temperature(from, "from"), high = base::parse_temperature(to, "to");
  const auto step = base::parse_temperature_difference(by, "step");
  if (!low) return low.problem();
  if (!high) return high.problem();
  if (!step) return step.problem();
  if (step->si <= 0)
    return Problem{"step", base::quoted(by), "more than 0, such as 2F or 1C", "rows run from cold to warm"};
  if (low->si > high->si)
    return Problem{"from", base::quoted(from), "at most \"to\", " + base::quoted(to),
                   "rows run from cold to warm"};
  const double count = std::floor((high->si - low->si) / step->si + 1e-6) + 1;
  if (count > static_cast<double>(kMostRows))
    return Problem{"step", base::quoted(by) + ", which makes " + base::number_text(count, 0) + " rows",
                   "at most " + std::to_string(kMostRows) + " rows", "nobody reads a longer card"};
  range.from = low->si;
  range.step = step->si;
  range.rows = static_cast<std::size_t>(count);
  return range;
}

json pressure(double p, const base::Display& display) { return quantity(Dimension::pressure, p, display); }

/// What one refrigerant says at one temperature; null where it has no saturation.
json cell(const fluids::Fluid& fluid, double T, const base::Display& display) {
  const bool blend = fluid.is_blend();
  json none =
      blend ? json{{"bubble", nullptr}, {"dew", nullptr}, {"glide", nullptr}} : json{{"pressure", nullptr}};
  const double T_high = blend ? fluid.T_two_phase_max() : fluid.limits().T_crit;
  if (T < fluid.limits().T_min || T > T_high) return none;
  const auto line = fluid.saturation_at_T(T);
  if (!line) return none;
  if (!blend) return {{"pressure", pressure(line->vapour.p, display)}};
  none["bubble"] = pressure(line->liquid.p, display);
  none["dew"] = pressure(line->vapour.p, display);
  if (const auto bubble = fluid.bubble_temperature(line->vapour.p))
    none["glide"] = quantity(Dimension::temperature_difference, T - *bubble, display);
  return none;
}

json rows_json(const std::vector<fluids::Fluid>& fluids, const Range& range, const base::Display& display) {
  const auto shown = [&](std::size_t i) {
    return base::show(Dimension::temperature, range.from + static_cast<double>(i) * range.step, display);
  };
  bool whole = true;
  for (std::size_t i = 0; i < range.rows; ++i)
    whole = whole && std::abs(shown(i).value - std::round(shown(i).value)) < 1e-6;
  json rows = json::array();
  for (std::size_t i = 0; i < range.rows; ++i) {
    const double T = range.from + static_cast<double>(i) * range.step;
    base::Shown temperature = shown(i);
    if (whole) temperature.decimals = 0;
    json cells = json::array();
    for (const fluids::Fluid& fluid : fluids) cells.push_back(cell(fluid, T, display));
    rows.push_back({{"temperature", quantity(temperature, T)}, {"cells", std::move(cells)}});
  }
  return rows;
}

/// "Gauges read against 12.23 psia, the standard air at 5000 ft."
diagnosis::Statement against_what(Request& request, const base::Display& display) {
  const std::string pressure = base::show_absolute(base::Pressure{display.site.si}, display, 1).text();
  if (request.has("barometer")) return {"gauges_by_barometer", {}, {{"pressure", pressure}}};
  const auto altitude = request.text("altitude");
  if (!altitude) return {"gauges_at_sea_level", {}, {{"pressure", pressure}}};
  const auto length = base::parse_spoken(*altitude, "altitude", Dimension::length);
  const std::string high = length ? base::show(Dimension::length, length->si, display).text() : *altitude;
  return {"gauges_at_altitude", {}, {{"pressure", pressure}, {"altitude", high}}};
}

struct Notes {
  json notes, cautions;
  std::vector<std::string> sources = {"iso2533"};
};

Notes notes_of(Request& request, const std::vector<fluids::Fluid>& fluids,
               const std::vector<KnownClass>& classes, const base::Display& display, const Wording& wording) {
  Notes out;
  const bool us = display.system == UnitSystem::us;
  std::vector<diagnosis::Statement> notes = {
      against_what(request, display), {us ? "pressures_us" : "pressures_metric", {}, {}}, {"none", {}, {}}};
  for (const fluids::Fluid& fluid : fluids) {
    if (fluid.is_blend() && notes.size() == 3) notes.push_back({"blends", {}, {}});
    if (fluid.is_blend())
      for (const std::string& key : fluids::blend_sources(fluid.data())) out.sources.push_back(key);
    else
      out.sources.push_back(fluid.data().equation_reference);
  }
  for (const KnownClass& one : classes)
    if (!one.source.empty() && !one.recalled) out.sources.push_back(one.source);
  out.cautions = statements("card", class_statements(classes), wording, display);
  for (const fluids::Fluid& fluid : fluids)
    for (json& line : statements("cautions", estimate_cautions(fluid.data(), wording), wording, display))
      if (std::find(out.cautions.begin(), out.cautions.end(), line) == out.cautions.end())
        out.cautions.push_back(std::move(line));
  out.cautions.push_back(statement("card", {"defer", {}, {}}, wording, display));
  out.notes = statements("card", notes, wording, display);
  return out;
}

json words_of(const Wording& wording) {
  json words = json::object();
  for (const char* key : {"title", "works", "works_on_page", "bubble", "dew", "glide", "page"})
    words[key] = wording.word("card", key);
  return words;
}

}  // namespace

Result<std::string> run_card(std::string_view text, const Context& context) {
  auto request =
      Request::read(text, {"refrigerants", "from", "to", "step", "altitude", "barometer", "units"});
  if (!request) return request.problem();
  const auto units = request->units();
  const base::SitePressure site = request->site();
  if (request->problem()) return *request->problem();
  const auto fluids = fluids_of(*request);
  if (!fluids) return fluids.problem();
  const auto range = range_of(*request, units, context);
  if (!range) return range.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  const auto catalogue = Catalogue::load();
  if (!catalogue) return catalogue.problem();

  const base::Display display{range->system, site, wording->numerals()};
  std::vector<KnownClass> classes;
  json columns = json::array();
  for (const fluids::Fluid& fluid : *fluids) {
    classes.push_back(known_class(*catalogue, fluid.designation()));
    const KnownClass& known = classes.back();
    columns.push_back({{"refrigerant", fluid.designation()},
                       {"blend", fluid.is_blend()},
                       {"safety_class", known.value.empty() ? json(nullptr) : json(known.value)},
                       {"safety_class_recalled", known.recalled}});
  }
  const Notes notes = notes_of(*request, *fluids, classes, display, *wording);
  json answer = {
      {"about", about(std::nullopt, notes.sources)},
      {"units", display.system == UnitSystem::us ? "us" : "metric"},
      {"site_pressure", quantity(base::show_absolute(base::Pressure{site.si}, display, 1), site.si)},
      {"words", words_of(*wording)},
      {"notes", notes.notes},
      {"cautions", notes.cautions},
      {"columns", std::move(columns)},
      {"rows", rows_json(*fluids, *range, display)}};
  return calls::dump(answer);
}

}  // namespace coldwright::service

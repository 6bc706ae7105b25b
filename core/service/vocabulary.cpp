// Use case "vocabulary": all that a screen offers to choose from, with labels in the asked language:
// cabinets, refrigerants, what can be seen and read, where on the machine, and the units of each kind of
// quantity.
#include "service/vocabulary.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "calls/strict_json.hpp"
#include "diagnosis/instruments.hpp"
#include "service/catalogue.hpp"
#include "service/cautions.hpp"
#include "service/embedded.hpp"
#include "service/knowledge_loader.hpp"
#include "service/request.hpp"
#include "service/shown_json.hpp"
#include "service/use_case_runs.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using base::UnitSystem;
using circuit::QuantityKind;
using circuit::ReadingKind;
using nlohmann::json;

constexpr double kPsi = 6894.757;  // Pa, for the typical readings below

/// Where on the machine a thing is read, in the order the refrigerant goes round; what is no part of the
/// circuit stands behind.
constexpr const char* kParts[] = {"compressor", "discharge_line", "condenser",    "drier_liquid_line",
                                  "capillary",  "evaporator",     "suction_line", "circuit",
                                  "box",        "control",        "supply"};

/// `typical` is a reading at which the instrument's accuracy is told: gauge Pa, A, V, ohm; our estimate.
struct ReadAt {
  ReadingKind kind;
  const char* part;
  double typical;
};
constexpr ReadAt kReadAt[] = {
    {ReadingKind::suction_pressure, "suction_line", 30 * kPsi},
    {ReadingKind::discharge_pressure, "discharge_line", 180 * kPsi},
    {ReadingKind::standing_pressure, "compressor", 90 * kPsi},
    {ReadingKind::evaporator_inlet_temp, "evaporator", 0},
    {ReadingKind::evaporator_outlet_temp, "evaporator", 0},
    {ReadingKind::suction_line_temp, "suction_line", 0},
    {ReadingKind::discharge_line_temp, "discharge_line", 0},
    {ReadingKind::condenser_middle_temp, "condenser", 0},
    {ReadingKind::liquid_line_temp, "drier_liquid_line", 0},
    {ReadingKind::shell_temp, "compressor", 0},
    {ReadingKind::evaporator_air_out_temp, "evaporator", 0},
    {ReadingKind::condenser_air_out_temp, "condenser", 0},
    {ReadingKind::compressor_current, "compressor", 3},
    {ReadingKind::supply_voltage, "supply", 115},
    {ReadingKind::terminal_voltage, "compressor", 115},
    {ReadingKind::run_winding_ohms, "compressor", 5},
    {ReadingKind::start_winding_ohms, "compressor", 15},
};
static_assert(std::size(kReadAt) == circuit::kReadingKinds);

/// What a thing seen takes of the person: eyes, ears, hands or a question to those who use the machine.
struct SeenAt {
  std::string_view subject;
  const char *part, *group;
};
constexpr const char* kGroups[] = {"looked_at", "listened_to", "touched", "asked"};
constexpr SeenAt kSeenAt[] = {
    {"compressor", "compressor", "listened_to"},
    {"condenser_fan", "condenser", "looked_at"},
    {"condenser_face", "condenser", "looked_at"},
    {"evaporator_fan", "evaporator", "looked_at"},
    {"evaporator_coil", "evaporator", "looked_at"},
    {"door_gasket", "box", "looked_at"},
    {"box_load", "box", "looked_at"},
    {"control_call", "control", "looked_at"},
    {"oil_trace", "circuit", "looked_at"},
    {"drier", "drier_liquid_line", "touched"},
    {"circuit_opened", "circuit", "asked"},
    {"cooling", "box", "asked"},
    {"complaint", "box", "asked"},
};

/// Units in order of usefulness, separated by '|': each can stand behind a number as it is.
struct KindOfQuantity {
  const char* word;
  Dimension dimension;
  std::string_view us, metric;
};
constexpr KindOfQuantity kQuantities[] = {
    {"pressure", Dimension::pressure, "psig|inHg vac|psia|barg|kPa(g)",
     "barg|kPa(g)|MPa(g)|bara|psig|mbar(a)"},
    {"pressure_difference", Dimension::pressure_difference, "psi|inHg|kPa", "bar|kPa|mbar|psi"},
    {"temperature", Dimension::temperature, "°F|°C", "°C|°F|K"},
    {"temperature_difference", Dimension::temperature_difference, "°F|K", "K|°F"},
    {"mass", Dimension::mass, "oz|lb|g", "g|kg|oz"},
    {"length", Dimension::length, "in|ft|mm|m", "mm|m|in|ft"},
    {"volume", Dimension::volume, "in3|ft3|cm3|m3", "cm3|m3|in3|ft3"},
    {"area", Dimension::area, "ft2|m2", "m2|ft2"},
    {"volume_flow", Dimension::volume_flow, "cfm|m3/h|L/min", "m3/h|L/min|cfm"},
    {"mass_flow", Dimension::mass_flow, "g/min|oz/min|lb/h|g/yr|oz/yr", "g/min|kg/h|g/yr"},
    {"power", Dimension::power, "Btu/h|W|hp", "W|kW|Btu/h"},
    {"current", Dimension::current, "A|mA", "A|mA"},
    {"voltage", Dimension::voltage, "V", "V"},
    {"resistance", Dimension::resistance, "ohm|kohm|Mohm", "ohm|kohm|Mohm"},
    {"frequency", Dimension::frequency, "Hz", "Hz"},
    {"time", Dimension::duration, "min|h|s", "min|h|s"},
    {"share", Dimension::quality, "%", "%"},
    {"specific_energy", Dimension::specific_energy, "Btu/lb|kJ/kg", "kJ/kg|Btu/lb"},
    {"specific_entropy", Dimension::specific_entropy, "Btu/(lb °F)|kJ/(kg K)", "kJ/(kg K)|Btu/(lb °F)"},
    {"density", Dimension::density, "lb/ft3|kg/m3", "kg/m3|lb/ft3"},
};

json units_of(std::string_view list) {
  json out = json::array();
  while (!list.empty()) {
    const std::size_t end = std::min(list.find('|'), list.size());
    out.push_back(list.substr(0, end));
    list.remove_prefix(std::min(end + 1, list.size()));
  }
  return out;
}

const char* kind_word(QuantityKind kind) {
  switch (kind) {
    case QuantityKind::pressure:
      return "pressure";
    case QuantityKind::temperature:
      return "temperature";
    case QuantityKind::current:
      return "current";
    case QuantityKind::voltage:
      return "voltage";
    case QuantityKind::resistance:
      return "resistance";
  }
  return "";
}

const KindOfQuantity& quantity_row(std::string_view word) {
  return *std::find_if(std::begin(kQuantities), std::end(kQuantities),
                       [&](const auto& row) { return row.word == word; });
}

template <class Ids>
json rows(const Wording& wording, std::string_view section, const Ids& ids) {
  json out = json::array();
  for (const std::string_view id : ids) out.push_back(word_row(wording, section, id));
  return out;
}

/// A value in both systems.
json both(diagnosis::Unit unit, double si, const Wording& wording) {
  json out = json::object();
  for (const auto& [word, system] : {std::pair{"us", UnitSystem::us}, {"metric", UnitSystem::metric}})
    out[word] = quantity(unit, si, {system, base::sea_level, wording.numerals()});
  return out;
}

constexpr std::pair<circuit::CondenserKind, std::string_view> kCondensers[] = {
    {circuit::CondenserKind::finned_fan, "finned_fan"},
    {circuit::CondenserKind::wire_tube_natural, "wire_tube_natural"},
    {circuit::CondenserKind::wire_tube_fan, "wire_tube_fan"}};

json cabinets(const diagnosis::Knowledge& knowledge, const Wording& wording) {
  using diagnosis::Unit;
  json out = json::array();
  for (const circuit::Archetype& cabinet : knowledge.archetypes) {
    json row = word_row(wording, "cabinets", cabinet.id);
    row["refrigerant"] = cabinet.refrigerant;
    row["set_point"] = both(Unit::temperature, cabinet.set_point_K, wording);
    row["charge"] = both(Unit::mass, cabinet.charge.median, wording);
    row["rated_current"] = both(Unit::current, cabinet.rated_current.median, wording);
    row["rated_voltage"] = both(Unit::voltage, cabinet.rated_voltage, wording);
    for (const auto& [kind, word] : kCondensers)
      if (kind == cabinet.condenser) row["condenser"] = word;
    out.push_back(std::move(row));
  }
  return out;
}

/// Those a machine can be reckoned with, of data/call_refrigerants.json: trying each takes seconds. The usual
/// ones of the cabinets come first.
json refrigerants(const diagnosis::Knowledge& knowledge, const Catalogue& catalogue) {
  std::set<std::string> usual;
  for (const circuit::Archetype& cabinet : knowledge.archetypes) usual.insert(cabinet.refrigerant);
  const json known = json::parse(embedded("call_refrigerants.json").value_or("null"), nullptr, false);
  json first = json::array(), rest = json::array();
  if (!known.is_object()) return first;
  for (const json& designation : *known.find("refrigerants")) {
    const CatalogueEntry* entry = catalogue.entry(designation.get<std::string>());
    if (entry == nullptr) continue;
    const auto safety = safety_class(entry->designation);
    const bool is_usual = usual.count(entry->designation) > 0;
    json row = {{"word", entry->designation},
                {"label", entry->designation},
                {"name", entry->blend ? composition_text(*entry) : entry->chemical_name},
                {"safety_class", safety ? json(*safety) : json(nullptr)},
                {"flammable", treat_as_flammable(entry->designation)},
                {"usual", is_usual}};
    (is_usual ? first : rest).push_back(std::move(row));
  }
  for (json& row : rest) first.push_back(std::move(row));
  return first;
}

json hazard_text(const Wording& wording, std::string_view hazard) {
  return hazard.empty() ? json("") : json(wording.word("hazards", hazard));
}

json observations(const diagnosis::Knowledge& knowledge, const Wording& wording) {
  json out = json::array();
  for (const diagnosis::ObservationModel& seen : knowledge.observations) {
    json row = word_row(wording, "subjects", seen.subject);
    row["question"] = wording.word("questions", seen.subject);
    row["part"] = row["group"] = "";
    for (const SeenAt& at : kSeenAt)
      if (at.subject == seen.subject) {
        row["part"] = at.part;
        row["group"] = at.group;
      }
    row["minutes"] = seen.minutes;
    row["hazard"] = seen.hazard;
    row["hazard_text"] = hazard_text(wording, seen.hazard);
    row["values"] = rows(wording, "values", seen.values);
    out.push_back(std::move(row));
  }
  return out;
}

/// The limits +-a that stand for the instrument where nobody says what it is: the diagnosis takes them for a
/// rectangular distribution, a = sqrt(3) standard deviations (JCGM 100:2008, 4.3.7) [jcgm100].
json accuracy(const ReadAt& at, UnitSystem system, const Wording& wording) {
  const bool pressure = circuit::info(at.kind).quantity == QuantityKind::pressure;
  const bool temperature = circuit::info(at.kind).quantity == QuantityKind::temperature;
  diagnosis::Reading reading{};
  reading.kind = at.kind;
  reading.value = at.typical + (pressure ? base::sea_level.si : temperature ? 273.15 : 0);
  double limit = std::sqrt(3.0) * diagnosis::uncertainty(reading, base::sea_level.si).instrument;
  if (circuit::info(at.kind).quantity == QuantityKind::resistance) limit *= at.typical;  // told as ln ratio
  const Dimension dimension = pressure ? Dimension::pressure_difference
                              : temperature
                                  ? Dimension::temperature_difference
                                  : quantity_row(kind_word(circuit::info(at.kind).quantity)).dimension;
  const base::Display display{system, base::sea_level, wording.numerals()};
  json out = quantity(dimension, limit, display, dimension == Dimension::voltage ? 1 : 0);
  out["text"] = "\u00B1" + out["text"].get<std::string>();
  return out;
}

json readings(const Wording& wording) {
  json out = json::array();
  for (const circuit::ReadingInfo& reading : circuit::reading_table()) {
    const ReadAt& at = *std::find_if(std::begin(kReadAt), std::end(kReadAt),
                                     [&](const ReadAt& row) { return row.kind == reading.kind; });
    const KindOfQuantity& kind = quantity_row(kind_word(reading.quantity));
    json row = word_row(wording, "readings", reading.id);
    row["place"] = wording.word("places", reading.id);
    row["part"] = at.part;
    row["quantity"] = kind.word;
    row["written_as"] = written_as(reading.quantity);
    row["unit"] = {{"us", units_of(kind.us).front()}, {"metric", units_of(kind.metric).front()}};
    row["accuracy"] = {{"us", accuracy(at, UnitSystem::us, wording)},
                       {"metric", accuracy(at, UnitSystem::metric, wording)}};
    row["minutes"] = reading.minutes;
    row["grams_lost"] = reading.grams_lost;
    row["opens_circuit"] = reading.opens_circuit;
    row["hazard"] = reading.hazard;
    row["hazard_text"] = hazard_text(wording, reading.hazard);
    out.push_back(std::move(row));
  }
  return out;
}

json quantities(const Wording& wording) {
  json out = json::array();
  for (const KindOfQuantity& kind : kQuantities) {
    json row = word_row(wording, "quantity_kinds", kind.word);
    row["units"] = {{"us", units_of(kind.us)}, {"metric", units_of(kind.metric)}};
    out.push_back(std::move(row));
  }
  return out;
}

}  // namespace

json word_row(const Wording& wording, std::string_view section, std::string_view id) {
  return {{"word", id}, {"label", wording.word(section, id)}};
}

std::string_view written_as(QuantityKind kind) {
  switch (kind) {
    case QuantityKind::pressure:
      return "31.5 psig, -3 inHg, 2.2 barg";
    case QuantityKind::temperature:
      return "22F, -5C";
    case QuantityKind::current:
      return "1.84 A";
    case QuantityKind::voltage:
      return "115 V";
    case QuantityKind::resistance:
      return "4.6 ohm, OL";
  }
  return "";
}

Result<std::string> run_vocabulary(std::string_view text, const Context& context) {
  auto request = Request::read(text, {});
  if (!request) return request.problem();
  const auto knowledge = load_knowledge();
  if (!knowledge) return knowledge.problem();
  const auto catalogue = Catalogue::load();
  if (!catalogue) return catalogue.problem();
  const auto wording = Wording::load(context.language);
  if (!wording) return wording.problem();
  std::vector<std::string_view> condensers;
  for (const auto& [kind, word] : kCondensers) condensers.push_back(word);
  const json answer = {{"language", context.language},
                       {"languages", rows(*wording, "languages", languages())},
                       {"units", rows(*wording, "unit_systems", std::array{"us", "metric"})},
                       {"parts", rows(*wording, "parts", kParts)},
                       {"cabinets", cabinets(*knowledge, *wording)},
                       {"condensers", rows(*wording, "condensers", condensers)},
                       {"refrigerants", refrigerants(*knowledge, *catalogue)},
                       {"groups", rows(*wording, "groups", kGroups)},
                       {"observations", observations(*knowledge, *wording)},
                       {"readings", readings(*wording)},
                       {"quantities", quantities(*wording)}};
  return calls::dump(answer);
}

}  // namespace coldwright::service

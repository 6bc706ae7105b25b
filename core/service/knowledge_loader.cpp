#include "service/knowledge_loader.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "service/cautions.hpp"
#include "service/correction_loader.hpp"
#include "service/embedded.hpp"
#include "service/json_reader.hpp"

namespace coldwright::service {
namespace {

using diagnosis::CauseInfo;
using diagnosis::Knowledge;
using diagnosis::ObservationModel;
using nlohmann::json;
using Noted = std::optional<Problem>;

constexpr double kZeroCelsius = 273.15;

circuit::Spread spread(const JsonReader& in, double unit) {
  return {in.number("median") * unit, in.number("ratio")};
}

circuit::CondenserKind condenser_kind(const std::string& word) {
  if (word == "wire_tube_natural") return circuit::CondenserKind::wire_tube_natural;
  if (word == "wire_tube_fan") return circuit::CondenserKind::wire_tube_fan;
  return circuit::CondenserKind::finned_fan;
}

circuit::Archetype read_cabinet(const JsonReader& in) {
  circuit::Archetype a;
  a.id = in.text("id");
  a.label = in.text("label");
  a.refrigerant = in.text("refrigerant");
  a.set_point_K = in.number("set_point_C") + kZeroCelsius;
  const auto pair = [&](const char* key, double offset, double& low, double& high) {
    const auto ends = in.at(key).numbers();
    if (ends.size() == 2) {
      low = ends[0] + offset;
      high = ends[1] + offset;
    }
  };
  pair("design_ambient_C", kZeroCelsius, a.design_ambient_low_K, a.design_ambient_high_K);
  pair("evaporator_td_K", 0, a.evaporator_td_low, a.evaporator_td_high);
  pair("condenser_split_K", 0, a.condenser_split_low, a.condenser_split_high);
  pair("running_share", 0, a.running_share_low, a.running_share_high);
  a.charge = spread(in.at("charge_g"), 1e-3);
  a.rated_current = spread(in.at("rated_current_A"), 1);
  a.rated_voltage = in.number("rated_voltage_V");
  a.condenser = condenser_kind(in.text("condenser"));
  return a;
}

ObservationModel read_observation(const JsonReader& in) {
  ObservationModel m;
  m.subject = in.text("subject");
  for (const auto& value : in.at("values").items()) m.values.push_back(value.text());
  m.minutes = in.number("minutes");
  m.hazard = in.text("hazard");
  for (const auto& row : in.at("probabilities").items())
    m.given.push_back({row.text("given"), row.at("mild").numbers(), row.at("severe").numbers()});
  return m;
}

// What the loader can't see from types alone: known causes only, probabilities that add up.
Noted inconsistency(const Knowledge& k) {
  const auto& known = diagnosis::known_causes();
  for (const CauseInfo& c : k.causes)
    if (std::find(known.begin(), known.end(), c.id) == known.end())
      return Problem{"causes.json", c.id, "a cause the program can compute",
                     "no model stands behind this name"};
  if (k.causes.size() != known.size())
    return Problem{"causes.json", std::to_string(k.causes.size()) + " causes", std::to_string(known.size()),
                   "every computed cause needs a prior"};
  for (const ObservationModel& m : k.observations) {
    for (const auto& g : m.given) {
      static const std::vector<std::string> others{"*", "@running", "@tripped", "@off", "@called", "@locked"};
      if (std::find(known.begin(), known.end(), g.cause) == known.end() &&
          std::find(others.begin(), others.end(), g.cause) == others.end())
        return Problem{"observations.json " + m.subject, g.cause, "a cause, * or what the motor does",
                       "such a row would never be looked at"};
      for (const auto* p : {&g.at_mild, &g.at_severe}) {
        double sum = 0;
        for (double x : *p) sum += x;
        if (p->size() != m.values.size() || std::abs(sum - 1) > 1e-6)
          return Problem{"observations.json " + m.subject + " given " + g.cause, std::to_string(sum),
                         "one probability a value, adding up to 1", "they share out what is seen"};
      }
    }
  }
  return std::nullopt;
}

}  // namespace

Result<Knowledge> parse_knowledge(std::string_view causes, std::string_view observations,
                                  std::string_view cabinets) {
  const json c = json::parse(causes, nullptr, false), o = json::parse(observations, nullptr, false),
             b = json::parse(cabinets, nullptr, false);
  Noted noted;
  for (const auto& [doc, name] :
       {std::pair{&c, "causes.json"}, {&o, "observations.json"}, {&b, "cabinets.json"}})
    if (doc->is_discarded())
      return Problem{name, "text that is not JSON", "a JSON document", "the data file is damaged"};
  Knowledge k;
  const JsonReader in_c(&c, "causes.json", &noted), in_o(&o, "observations.json", &noted),
      in_b(&b, "cabinets.json", &noted);
  k.pair_weight = in_c.number("pair_weight");
  for (const auto& row : in_c.at("causes").items()) {
    const auto ends = row.at("severity").numbers();
    k.causes.push_back({row.text("id"), row.number("weight"), ends.empty() ? 0 : ends.front(),
                        ends.empty() ? 0 : ends.back(), row.text("measure")});
  }
  for (const auto& row : in_o.at("observations").items()) k.observations.push_back(read_observation(row));
  for (const auto& row : in_b.at("cabinets").items()) k.archetypes.push_back(read_cabinet(row));
  if (!noted) noted = inconsistency(k);
  if (noted) return *noted;
  return k;
}

Result<Knowledge> load_knowledge() {
  auto k = parse_knowledge(embedded("causes.json").value_or(""), embedded("observations.json").value_or(""),
                           embedded("cabinets.json").value_or(""));
  if (!k) return k;
  for (const std::string& listed : classed_refrigerants())
    if (!treat_as_flammable(listed)) k->no_flame.push_back(listed);
  auto correction = parse_correction(embedded("correction.json").value_or(""), *k);
  if (!correction) return correction.problem();
  k->correction = std::move(*correction);
  return k;
}

}  // namespace coldwright::service

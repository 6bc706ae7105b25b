#include "service/shown_json.hpp"

#include <cmath>
#include <set>

#include "service/about.hpp"

namespace coldwright::service {

using nlohmann::json;

json quantity(const base::Shown& shown, double si) {
  // JSON has no infinity or NaN; a quantity that isn't finite is a null that the text explains.
  // Both texts are no words of a language: "OL" is what an ohmmeter shows for an open winding.
  if (!std::isfinite(si)) {
    const bool open = std::isinf(si) && shown.unit.ends_with("ohm");
    return {{"si", nullptr}, {"value", nullptr}, {"unit", shown.unit}, {"text", open ? "OL" : "\u2013"}};
  }
  return {{"si", si}, {"value", shown.value}, {"unit", shown.unit}, {"text", shown.text()}};
}

json quantity(base::Dimension dimension, double si, const base::Display& display, int extra) {
  return quantity(base::show(dimension, si, display, extra), si);
}

json quantity(diagnosis::Unit unit, double si, const base::Display& display) {
  return quantity(shown(unit, si, display), si);
}

json interval(diagnosis::Unit unit, const diagnosis::Interval& range, const Wording& wording,
              const base::Display& display) {
  return {{"low", quantity(unit, range.low, display)},
          {"mid", quantity(unit, range.mid, display)},
          {"high", quantity(unit, range.high, display)},
          {"text", wording.interval(unit, range, display)}};
}

json interval(diagnosis::Unit unit, const std::optional<diagnosis::Interval>& range, const Wording& wording,
              const base::Display& display) {
  return range ? interval(unit, *range, wording, display) : json(nullptr);
}

json statement(std::string_view section, const diagnosis::Statement& said, const Wording& wording,
               const base::Display& display) {
  json out = {{"key", said.key}, {"text", wording.sentence(section, said, display)}};
  out["values"] = json::object();
  for (const diagnosis::Value& value : said.values)
    out["values"][value.name] = quantity(value.unit, value.value, display);
  out["words"] = json::object();
  for (const auto& [name, id] : said.words) out["words"][name] = id;
  return out;
}

json statements(std::string_view section, const std::vector<diagnosis::Statement>& list,
                const Wording& wording, const base::Display& display) {
  json out = json::array();
  for (const diagnosis::Statement& said : list) out.push_back(statement(section, said, wording, display));
  return out;
}

json about(std::optional<std::uint64_t> seed, const std::vector<std::string>& sources) {
  json out = {{"program", "coldwright"},
              {"version", program_version},
              {"data", data_version()},
              {"references", json::array()}};
  if (seed) out["seed"] = *seed;
  for (const std::string& source : std::set<std::string>(sources.begin(), sources.end()))
    out["references"].push_back({{"key", source}, {"citation", citation(source)}});
  return out;
}

diagnosis::Unit unit_of(circuit::ReadingKind kind) {
  using diagnosis::Unit;
  switch (circuit::info(kind).quantity) {
    case circuit::QuantityKind::pressure:
      return Unit::pressure;
    case circuit::QuantityKind::temperature:
      return Unit::temperature;
    case circuit::QuantityKind::current:
      return Unit::current;
    case circuit::QuantityKind::voltage:
      return Unit::voltage;
    case circuit::QuantityKind::resistance:
      return Unit::resistance;
  }
  return Unit::count;
}

}  // namespace coldwright::service

// The memory as JSON and back. Nothing in it is believed unread: a memory of another format, a latent of
// another version, a number that is none are each one Problem.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "calls/instant.hpp"
#include "calls/strict_json.hpp"
#include "service/json_reader.hpp"
#include "service/memory_store.hpp"

namespace coldwright::service {
namespace {

using nlohmann::json;

constexpr int kFormat = 1;
constexpr double kSmallSlope = 0.005;  // standard deviations per latent: below it nothing is lost
constexpr std::size_t kMostCalls = 5000, kMostLessonRows = 40;

// Six digits: more than any lesson holds, and the same when written again.
double rounded(double x) {
  if (x == 0 || !std::isfinite(x)) return 0;
  const double unit = std::pow(10, 5 - std::floor(std::log10(std::abs(x))));
  return std::round(x * unit) / unit;
}

struct Optional {
  const char* key;
  std::optional<double> circuit::Nameplate::*field;
};
constexpr Optional kPlate[] = {{"charge", &circuit::Nameplate::charge},
                               {"rated_current", &circuit::Nameplate::rated_current},
                               {"rated_voltage", &circuit::Nameplate::rated_voltage},
                               {"frequency", &circuit::Nameplate::frequency},
                               {"displacement", &circuit::Nameplate::displacement},
                               {"set_point", &circuit::Nameplate::set_point}};

json plate_json(const circuit::Nameplate& plate) {
  json out = {{"cabinet", plate.archetype}};
  for (const Optional& row : kPlate)
    if (plate.*row.field) out[row.key] = *(plate.*row.field);
  if (plate.condenser) out["condenser"] = static_cast<int>(*plate.condenser);
  return out;
}

circuit::Nameplate read_plate(const JsonReader& r) {
  circuit::Nameplate plate;
  plate.archetype = r.text("cabinet");
  for (const Optional& row : kPlate)
    if (r.has_value(row.key)) plate.*row.field = r.number(row.key);
  if (r.has_value("condenser"))
    plate.condenser = static_cast<circuit::CondenserKind>(std::clamp(r.whole("condenser"), 0, 2));
  return plate;
}

json rows_json(const diagnosis::Lesson& lesson) {
  json rows = json::array();
  for (std::size_t i = 0; i < lesson.value.size(); ++i) {
    json slopes = json::object();
    for (std::size_t j = 0; j < diagnosis::kLatents; ++j) {
      const double slope = lesson.slope[i * diagnosis::kLatents + j];
      if (std::abs(slope) > kSmallSlope) slopes[std::string(diagnosis::latent_names()[j])] = rounded(slope);
    }
    rows.push_back({{"value", rounded(lesson.value[i])}, {"slopes", std::move(slopes)}});
  }
  return rows;
}

Result<diagnosis::Lesson> read_rows(const json& rows, const std::string& path) {
  diagnosis::Lesson lesson;
  if (!rows.is_array() || rows.size() > kMostLessonRows)
    return Problem{path, "something else", "a list of rows", "the memory's format asks for it"};
  const auto& names = diagnosis::latent_names();
  for (const json& row : rows) {
    const bool whole = row.is_object() && row.contains("value") && row["value"].is_number() &&
                       row.contains("slopes") && row["slopes"].is_object();
    if (!whole || std::abs(row["value"].get<double>()) > 100)
      return Problem{path, base::quoted(calls::dump(row), 40), "rows with a value and slopes",
                     "the memory's format asks for it"};
    lesson.value.push_back(row["value"].get<double>());
    lesson.slope.resize(lesson.value.size() * diagnosis::kLatents, 0);
    for (const auto& [name, slope] : row["slopes"].items()) {
      const auto at = std::find(names.begin(), names.end(), name);
      if (at == names.end() ||
          !diagnosis::stays_with_the_machine(static_cast<std::size_t>(at - names.begin())))
        return Problem{path, base::quoted(name), "names of what a machine is drawn from",
                       "the memory comes from another version of the program; make it anew from its calls"};
      if (!slope.is_number() || std::abs(slope.get<double>()) > 100)
        return Problem{path, base::quoted(calls::dump(slope), 40), "a number up to 100",
                       "the memory's format asks for it"};
      lesson.slope[(lesson.value.size() - 1) * diagnosis::kLatents +
                   static_cast<std::size_t>(at - names.begin())] = slope.get<double>();
    }
  }
  return lesson;
}

json call_json(const RememberedCall& c) {
  json out = {{"call", c.id},
              {"print", c.print},
              {"entries", c.entries},
              {"unit", c.unit},
              {"model", c.model},
              {"plate", plate_json(c.plate)},
              {"refrigerant", c.refrigerant},
              {"cause", c.cause},
              {"parts", c.parts},
              {"renewed", c.renewed},
              {"sound", rounded(c.sound)},
              {"readings", c.readings},
              {"rows", rows_json(c.lesson)}};
  out["at"] = c.at ? json(calls::to_text(calls::Instant{*c.at, 0})) : json(nullptr);
  return out;
}

Result<RememberedCall> read_one(const json& node, const std::string& path) {
  std::optional<Problem> problem;
  const JsonReader r(&node, path, &problem);
  RememberedCall c;
  c.id = r.text("call");
  c.print = r.text("print");
  c.entries = r.whole("entries");
  c.unit = r.text("unit");
  c.model = r.text("model");
  if (r.has_value("at")) {
    const auto at = calls::parse_instant(r.text("at"), path + ".at");
    if (!at) return at.problem();
    c.at = at->seconds;
  }
  c.plate = read_plate(r.at("plate"));
  c.refrigerant = r.text("refrigerant");
  c.cause = r.text("cause");
  for (const JsonReader& part : r.at("parts").items()) c.parts.push_back(part.text());
  if (!node.is_object() || !node.contains("renewed") || !node["renewed"].is_boolean())
    return Problem{path + ".renewed", "something else", "true or false", "the memory's format asks for it"};
  c.renewed = node["renewed"].get<bool>();
  c.sound = r.number("sound");
  c.readings = r.whole("readings");
  if (problem) return *problem;
  auto lesson = read_rows(node.contains("rows") ? node["rows"] : json(), path + ".rows");
  if (!lesson) return lesson.problem();
  c.lesson = std::move(*lesson);
  return c;
}

}  // namespace

Result<Memory> read_memory(const json& node) {
  const std::string field = "memory";
  const bool ours = node.is_object() && node.contains("schema") && node["schema"] == "memory";
  if (!ours)
    return Problem{field, base::quoted(calls::dump(node), 40), "a memory as the use case \"memory\" gives it",
                   "it doesn't say that it is one"};
  if (!node.contains("format") || node["format"] != kFormat)
    return Problem{
        field,
        node.contains("format") ? "format " + base::quoted(calls::dump(node["format"]), 20) : "no format",
        "format 1", "another format can't be read; make the memory anew from its calls"};
  for (const auto& [key, value] : node.items())
    if (key != "schema" && key != "format" && key != "calls" && key != "corrections" && key != "forgotten")
      return Problem{field, "the key " + base::quoted(key),
                     "schema, format, calls, corrections and forgotten",
                     "no such key is known, and none is skipped in silence"};
  std::optional<Problem> problem;
  const JsonReader r(&node, field, &problem);
  Memory memory;
  const auto items = r.at("calls").items();
  if (items.size() > kMostCalls)
    return Problem{field, std::to_string(items.size()) + " calls", "up to 5000 calls",
                   "more is no memory of one shop"};
  for (std::size_t i = 0; i < items.size(); ++i) {
    auto call = read_one(node["calls"][i], "memory.calls[" + std::to_string(i) + "]");
    if (!call) return call.problem();
    take_in(memory, std::move(*call));
  }
  for (const JsonReader& c : r.at("corrections").items())
    memory.corrections.push_back({c.text("unit"), c.text("quantity"), c.number("value")});
  for (const JsonReader& f : r.at("forgotten").items())
    memory.forgotten.push_back({f.text("call"), f.text("unit"), f.text("model"), f.text("quantity")});
  if (problem) return *problem;
  std::sort(memory.forgotten.begin(), memory.forgotten.end());
  std::erase_if(memory.calls, [&](const RememberedCall& c) { return is_forgotten(memory, c); });
  return memory;
}

json write_memory(const Memory& memory) {
  json out = {{"schema", "memory"},
              {"format", kFormat},
              {"calls", json::array()},
              {"corrections", json::array()},
              {"forgotten", json::array()}};
  for (const RememberedCall& c : memory.calls) out["calls"].push_back(call_json(c));
  for (const Correction& c : memory.corrections)
    out["corrections"].push_back({{"unit", c.unit}, {"quantity", c.quantity}, {"value", rounded(c.value)}});
  for (const Forgotten& f : memory.forgotten)
    out["forgotten"].push_back(
        {{"call", f.call}, {"unit", f.unit}, {"model", f.model}, {"quantity", f.quantity}});
  return out;
}

}  // namespace coldwright::service

// Makes the recorded practice calls of data/practice out of visits that the virtual cabinet lived through:
// make_practice_recordings VISITS FOLDER, run by tools/make_practice_recordings.sh. The format is that of
// docs/formats/practice.md. A file is named after the kind of cabinet and a number: its name tells nothing of
// the cause.
#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <string>

#include <nlohmann/json.hpp>

#include "judge/visit_lines.hpp"

namespace {

using namespace coldwright;
using lab::Readable;
using nlohmann::ordered_json;

constexpr double kEvery = 240;  // s between rows

struct Column {
  const char* name;
  double (*of)(const Readable&);
};
const Column kColumns[] = {
    {"time", [](const Readable& r) { return r.time; }},
    {"suction_pressure", [](const Readable& r) { return r.suction_pressure; }},
    {"discharge_pressure", [](const Readable& r) { return r.discharge_pressure; }},
    {"evaporator_inlet", [](const Readable& r) { return r.evaporator_inlet; }},
    {"evaporator_outlet", [](const Readable& r) { return r.evaporator_outlet; }},
    {"suction_line", [](const Readable& r) { return r.suction_line; }},
    {"discharge_line", [](const Readable& r) { return r.discharge_line; }},
    {"condenser_middle", [](const Readable& r) { return r.condenser_middle; }},
    {"liquid_line", [](const Readable& r) { return r.liquid_line; }},
    {"shell", [](const Readable& r) { return r.shell; }},
    {"box_air", [](const Readable& r) { return r.box_air; }},
    {"evaporator_air_out", [](const Readable& r) { return r.evaporator_air_out; }},
    {"condenser_air_out", [](const Readable& r) { return r.condenser_air_out; }},
    {"ambient", [](const Readable& r) { return r.ambient; }},
    {"current", [](const Readable& r) { return r.current; }},
    {"supply_voltage", [](const Readable& r) { return r.supply_voltage; }},
    {"terminal_voltage", [](const Readable& r) { return r.terminal_voltage; }},
    {"run_winding_ohms", [](const Readable& r) { return r.run_winding_ohms; }},
    {"start_winding_ohms", [](const Readable& r) { return r.start_winding_ohms; }},
    {"motor_turns", [](const Readable& r) { return r.motor_turns ? 1.0 : 0.0; }},
    {"motor_hums", [](const Readable& r) { return r.motor_hums ? 1.0 : 0.0; }},
    {"calls_for_cold", [](const Readable& r) { return r.calls_for_cold ? 1.0 : 0.0; }},
    {"running_for", [](const Readable& r) { return r.running_for; }},
    {"condenser_fan", [](const Readable& r) { return r.condenser_fan; }},
    {"evaporator_fan", [](const Readable& r) { return r.evaporator_fan; }},
    {"dirt", [](const Readable& r) { return r.dirt; }},
    {"frost", [](const Readable& r) { return r.frost; }},
};

// As far as any instrument shows; null where there is no end to a resistance.
ordered_json number(double value) {
  if (!std::isfinite(value)) return {};
  if (std::abs(value) > 1e4) return std::lround(value / 100) * 100;
  const double parts = std::abs(value) > 100 ? 10 : 1000;
  const double rounded = std::round(value * parts) / parts;
  if (rounded == std::round(rounded)) return std::lround(rounded);
  return rounded;
}

std::string text_of(const lab::Visit& visit, std::uint64_t seed) {
  ordered_json truth = ordered_json::array(), columns = ordered_json::array();
  for (const lab::TrueCause& cause : visit.truth)
    truth.push_back({{"cause", cause.id}, {"severity", number(cause.severity)}});
  for (const Column& column : kColumns) columns.push_back(column.name);
  const ordered_json head = {
      {"what", "A practice call, invented: its course was lived through by the virtual cabinet (lab/)."},
      {"source", "our-estimate"},
      {"level", visit.truth.size() > 1 ? "hard" : "working_day"},
      {"seed", seed},
      {"cabinet", visit.archetype},
      {"refrigerant", visit.refrigerant},
      {"plate",
       {{"charge", number(visit.plate_charge)},
        {"current", number(visit.plate_current)},
        {"voltage", number(visit.plate_voltage)},
        {"set_point", visit.set_point}}},
      {"site_pressure", visit.site_pressure},
      {"standing_pressure", number(visit.standing_pressure)},
      {"trips_last_hour", visit.trips_last_hour},
      {"truth", truth},
      {"columns", columns}};
  std::string text = head.dump(1);
  text.resize(text.size() - 2);  // the closing brace on its line
  text += ",\n \"rows\": [";
  double next = -1;
  for (const Readable& r : visit.course) {
    if (r.time < next) continue;
    text += next < 0 ? "\n" : ",\n";
    next = r.time + kEvery - 1;
    ordered_json row = ordered_json::array();
    for (const Column& column : kColumns) row.push_back(number(column.of(r)));
    text += "  " + row.dump();
  }
  return text + "\n ]\n}\n";
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) {
    std::fputs("usage: make_practice_recordings VISITS FOLDER\n", stderr);
    return 2;
  }
  std::ifstream in(words[1]);
  std::string line;
  std::map<std::string, int> of_kind;
  std::uint64_t seed = 0;
  while (std::getline(in, line)) {
    const auto visit = judge::visit_from_line(line);
    if (!visit) return std::fprintf(stderr, "%s\n", to_text(visit.problem()).c_str()), 1;
    std::string name = visit->archetype;
    for (char& c : name)
      if (c == '_') c = '-';
    name += "-" + std::to_string(++of_kind[visit->archetype]);
    std::ofstream out(std::string(words[2]) + "/" + name + ".json", std::ios::binary);
    out << text_of(*visit, ++seed);
    if (!out) return std::fprintf(stderr, "can't write %s\n", name.c_str()), 1;
  }
  return 0;
}

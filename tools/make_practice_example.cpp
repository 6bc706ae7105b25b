// Makes one recorded practice call out of the drawn source: make_practice_example SEED >
// data/practice/ID.json
//
// The format is that of docs/formats/practice.md, which the virtual cabinet under lab/ fills with its own
// courses; this one comes from the steady circuit model (core/practice/visit.hpp) and says so.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "practice/visit.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;
using circuit::ReadingKind;
using nlohmann::ordered_json;

// As far as any instrument shows.
double rounded(double value) {
  const double step = std::abs(value) > 1e4 ? 10 : std::abs(value) > 100 ? 0.01 : 0.001;
  return std::round(value / step) * step;
}

ordered_json number(double value) { return rounded(value); }

/// A null where there is no end to a resistance.
ordered_json ohms(double value) { return value > 1e5 ? ordered_json() : ordered_json(rounded(value)); }

ordered_json row(const practice::Moment& m, double seconds) {
  const auto& r = m.sim.readings;
  const auto at = [&](ReadingKind kind) { return number(r[static_cast<std::size_t>(kind)]); };
  using enum ReadingKind;
  const bool turns = m.sim.mode == diagnosis::Mode::running || m.sim.mode == diagnosis::Mode::tripped;
  return {seconds,
          at(suction_pressure),
          at(discharge_pressure),
          at(evaporator_inlet_temp),
          at(evaporator_outlet_temp),
          at(suction_line_temp),
          at(discharge_line_temp),
          at(condenser_middle_temp),
          at(liquid_line_temp),
          at(shell_temp),
          number(m.sim.true_box),
          at(evaporator_air_out_temp),
          at(condenser_air_out_temp),
          number(m.sim.true_ambient),
          at(compressor_current),
          at(supply_voltage),
          at(terminal_voltage),
          ohms(r[static_cast<std::size_t>(run_winding_ohms)]),
          ohms(r[static_cast<std::size_t>(start_winding_ohms)]),
          turns ? 1 : 0,
          m.sim.mode == diagnosis::Mode::locked ? 1 : 0,
          1,
          number(m.minutes_running.value_or(turns ? 240 : 0) * 60)};
}

}  // namespace

int main(int count, char** words) {
  if (count != 2) {
    std::fputs("usage: make_practice_example SEED\n", stderr);
    return 2;
  }
  const auto seed = static_cast<std::uint64_t>(std::strtoull(words[1], nullptr, 10));
  const auto level = practice::Level::working_day;
  const auto knowledge = service::load_knowledge();
  if (!knowledge) return 1;
  const std::string kind = practice::kind_drawn(seed, level, *knowledge);
  std::string refrigerant;
  for (const auto& a : knowledge->archetypes)
    if (a.id == kind) refrigerant = a.refrigerant;
  const auto fluid = service::load_fluid(refrigerant);
  if (!fluid) return 1;
  auto working = circuit::WorkingFluid::make(*fluid);
  if (!working) return 1;
  const auto visit = practice::draw_visit(
      seed, level, kind, std::make_shared<const circuit::WorkingFluid>(std::move(*working)), *knowledge);
  if (!visit) return 1;
  ordered_json truth = ordered_json::array(), rows = ordered_json::array();
  for (const practice::Fault& fault : visit->faults)
    truth.push_back({{"cause", fault.cause}, {"severity", rounded(fault.severity)}});
  for (int minute = 0; minute <= 120; minute += 4)
    rows.push_back(row(visit->at({static_cast<double>(minute), {}, 0}), minute * 60.0));
  const ordered_json file = {
      {"what", "A practice call, invented: its course was computed by our steady circuit model."},
      {"source", "our-estimate"},
      {"level", practice::to_word(level)},
      {"seed", seed},
      {"cabinet", kind},
      {"refrigerant", refrigerant},
      {"plate",
       {{"charge", *visit->plate.charge},
        {"current", *visit->plate.rated_current},
        {"voltage", *visit->plate.rated_voltage},
        {"set_point", *visit->plate.set_point}}},
      {"site_pressure", visit->site_pressure},
      {"standing_pressure",
       rounded(visit->at({0, {}, 0}).sim.readings[static_cast<std::size_t>(ReadingKind::standing_pressure)])},
      {"trips_last_hour", 0},
      {"truth", truth},
      {"columns",
       {"time",
        "suction_pressure",
        "discharge_pressure",
        "evaporator_inlet",
        "evaporator_outlet",
        "suction_line",
        "discharge_line",
        "condenser_middle",
        "liquid_line",
        "shell",
        "box_air",
        "evaporator_air_out",
        "condenser_air_out",
        "ambient",
        "current",
        "supply_voltage",
        "terminal_voltage",
        "run_winding_ohms",
        "start_winding_ohms",
        "motor_turns",
        "motor_hums",
        "calls_for_cold",
        "running_for"}},
      {"rows", rows}};
  std::string text = file.dump(1);
  std::puts(text.c_str());
  return 0;
}

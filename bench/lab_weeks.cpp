// Weeks of a cabinet in use that leaks, day by day: what is inside, how long it runs, what it draws and
// holds.
//
// lab_weeks [--days 21] [--grams-a-day 1.5] [--kind reach_in_cooler] [--room 27] [--seed 7] [--begins 2]
// Grams a day are those that the hole would let out if the machine ran all day at its design pressures: what
// is lost also hangs on how the suction side stands. Doors are used, frost grows and is thawed. "In to out"
// is the coil's outlet less its inlet, both of the tube's metal.
#include <chrono>
#include <cstdio>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "judge/kinds.hpp"
#include "judge/opinion.hpp"
#include "lab/design.hpp"

namespace {

using namespace coldwright;

constexpr double kDay = 86400;  // s
constexpr double kSample = 60;  // s

int fail(const Problem& p) {
  std::fprintf(stderr, "%s\n", to_text(p).c_str());
  return 1;
}

struct Means {
  double runs = 0, power = 0, box = 0, suction = 0, rise = 0, running = 0;
  long samples = 0;
};

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Weeks of a cabinet that leaks"};
  int days = 21;
  double grams = 1.5, room = 27, begins = 2;
  std::string wanted = "reach_in_cooler";
  std::uint64_t seed = 7;
  app.add_option("--days", days)->check(CLI::Range(1, 100));
  app.add_option("--grams-a-day", grams)->check(CLI::Range(0.0, 100.0));
  app.add_option("--room", room)->check(CLI::Range(10, 45));
  app.add_option("--kind", wanted);
  app.add_option("--seed", seed);
  app.add_option("--begins", begins)->check(CLI::Range(0, 100));
  CLI11_PARSE(app, argc, argv);

  const auto knowledge = judge::knowledge_for(judge::Weights::equal, 0);
  if (!knowledge) return fail(knowledge.problem());
  std::optional<lab::Kind> kind;
  for (const circuit::Archetype& a : knowledge->archetypes)
    if (a.id == wanted) kind = judge::kind_of(a);
  if (!kind) return fail({"kind", wanted, "an id of data/cabinets.json", "there is no such cabinet"});
  const auto refrigerant = judge::lab_refrigerant(kind->refrigerant);
  if (!refrigerant) return fail(refrigerant.problem());
  const auto unit = lab::design(*kind, *refrigerant, {}, 6, RandomStream(seed));
  if (!unit) return fail(unit.problem());
  lab::Life life;
  life.start = life.outside.ambient = room + 273.15;
  life.start_box = unit->set_point;
  life.outside.voltage = unit->plate_voltage;
  life.faults = {{"low_charge", grams / 1000 / kDay, 0.5, begins * kDay, 1}};
  lab::Simulation run(unit->cabinet, *refrigerant, life, RandomStream(seed).fork(1));
  const auto began = std::chrono::steady_clock::now();
  fmt::print("day  grams  runs  W mean  box C  suction bar  in to out K  starts\n");
  for (int day = 1; day <= days; ++day) {
    Means m;
    const std::size_t starts = run.starts().size();
    for (double t = 0; t < kDay; t += kSample) {
      if (const auto done = run.advance(kSample); !done) return fail(done.problem());
      const lab::Readable r = run.read();
      m.samples += 1;
      m.runs += r.motor_turns;
      m.power += r.power;
      m.box += r.box_air - 273.15;
      if (r.running_for < 300) continue;
      m.running += 1;
      m.suction += r.suction_pressure / 1e5;
      m.rise += r.evaporator_outlet - r.evaporator_inlet;
    }
    const double n = static_cast<double>(m.samples), on = std::max(m.running, 1.0);
    fmt::print(
        "{:3} {:6.1f} {:5.2f} {:7.0f} {:6.1f} {:12.2f} {:12.1f} {:7}\n", day,
        1000 * (unit->cabinet.charge - run.state()[static_cast<std::size_t>(run.plant().layout().gone_mass)]),
        m.runs / n, m.power / n, m.box / n, m.suction / on, m.rise / on, run.starts().size() - starts);
    std::fflush(stdout);
  }
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
  std::fprintf(stderr, "%.0f times real time\n", days * kDay / seconds);
}

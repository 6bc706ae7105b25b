// Weeks of a cabinet in use that leaks, day by day: what is inside, how long it runs, what it draws and
// holds.
//
// lab_weeks [--days 21] [--grams-a-day 1.5] [--kind reach_in_cooler] [--room 27] [--seed 7] [--begins 2]
// Grams a day are those at a difference to the air of the design's suction pressure; `--begins` is the day
// after which the hole is there. Doors are used, frost grows and is thawed. "In to out" is the coil's outlet
// less its inlet, both of the tube's metal, and with the suction pressure the mean of samples five minutes
// into a run.
#include <algorithm>
#include <cstdio>
#include <optional>
#include <string>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "judge/kinds.hpp"
#include "judge/opinion.hpp"

namespace {

using namespace coldwright;

constexpr double kDay = 86400;      // s
constexpr double kSample = 60;      // s
constexpr double kRunning = 300;    // s after a start until its readings count
constexpr int kDesigns = 20;        // draws until one gives a plausible cabinet, as in lab_visits
constexpr double kWholeAtOnce = 1;  // s in which the hole opens

struct Asked {
  int days = 21;
  double grams = 1.5, room = 27, begins = 2;
  std::string kind = "reach_in_cooler";
  std::uint64_t seed = 7;
};

int fail(const Problem& p) {
  std::fprintf(stderr, "%s\n", to_text(p).c_str());
  return 1;
}

Result<lab::Kind> kind_named(const std::string& id) {
  const auto knowledge = judge::knowledge_for(judge::Weights::equal, 0);
  if (!knowledge) return knowledge.problem();
  for (const circuit::Archetype& a : knowledge->archetypes)
    if (a.id == id) return judge::kind_of(a);
  return Problem{"kind", id, "an id of data/cabinets.json", "there is no such cabinet"};
}

// Runs a day and prints its line.
Result<bool> day(lab::Simulation& run, int number, double charge) {
  double runs = 0, power = 0, box = 0, suction = 0, rise = 0;
  long samples = 0, settled = 0;
  const std::size_t starts = run.starts().size();
  for (double t = 0; t < kDay; t += kSample) {
    if (auto done = run.advance(kSample); !done) return done.problem();
    const lab::Readable r = run.read();
    samples += 1;
    runs += r.motor_turns;
    power += r.power;
    box += r.box_air - 273.15;
    if (r.running_for < kRunning) continue;
    settled += 1;
    suction += r.suction_pressure / 1e5;
    rise += r.evaporator_outlet - r.evaporator_inlet;
  }
  const double n = static_cast<double>(samples), on = static_cast<double>(settled);
  const double gone = run.state()[static_cast<std::size_t>(run.plant().layout().gone_mass)];
  fmt::print("{:3} {:6.1f} {:5.2f} {:7.0f} {:6.1f} {:>12} {:>12} {:7}\n", number, 1000 * (charge - gone),
             runs / n, power / n, box / n, settled > 0 ? fmt::format("{:.2f}", suction / on) : "-",
             settled > 0 ? fmt::format("{:.1f}", rise / on) : "-", run.starts().size() - starts);
  std::fflush(stdout);
  return true;
}

int weeks(const Asked& asked) {
  const auto kind = kind_named(asked.kind);
  if (!kind) return fail(kind.problem());
  const auto refrigerant = judge::lab_refrigerant(kind->refrigerant);
  if (!refrigerant) return fail(refrigerant.problem());
  const RandomStream random(asked.seed);
  auto unit = lab::design(*kind, *refrigerant, {}, 6, random);
  for (std::uint64_t again = 1; again < kDesigns && !unit; ++again)
    unit = lab::design(*kind, *refrigerant, {}, 6, random.fork(again));
  if (!unit) return fail(unit.problem());
  lab::Life life;
  life.start = life.outside.ambient = asked.room + 273.15;
  life.start_box = unit->set_point;
  life.outside.voltage = unit->plate_voltage;
  life.faults = {{"low_charge", asked.grams / 1000 / kDay, 0.5, asked.begins * kDay, kWholeAtOnce}};
  lab::Simulation run(unit->cabinet, *refrigerant, life, random.fork(1));
  fmt::print("day  grams  runs  W mean  box C  suction bar  in to out K  starts\n");
  for (int number = 1; number <= asked.days; ++number)
    if (const auto done = day(run, number, unit->cabinet.charge); !done) return fail(done.problem());
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Weeks of a cabinet that leaks"};
  Asked asked;
  app.add_option("--days", asked.days)->check(CLI::Range(1, 100));
  app.add_option("--grams-a-day", asked.grams)->check(CLI::Range(0.0, 100.0));
  app.add_option("--room", asked.room)->check(CLI::Range(10, 45));
  app.add_option("--kind", asked.kind);
  app.add_option("--seed", asked.seed);
  app.add_option("--begins", asked.begins)->check(CLI::Range(0, 100));
  CLI11_PARSE(app, argc, argv);
  return weeks(asked);
}

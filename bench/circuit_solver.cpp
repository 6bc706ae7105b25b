// How many operating points a second the circuit solves, and how many of random machines and faults it leaves
// without an answer. Usage: circuit_solver [machines=100000] [seed=1]
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <string_view>

#include "circuit/operating_point.hpp"
#include "circuit/population.hpp"
#include "diagnosis/causes.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;

struct Tally {
  long count = 0, converged = 0, tripped = 0, equalised = 0, failed = 0, evaluations = 0;
  std::map<std::string, long> why;
};

void add(Tally& t, const circuit::OperatingPoint& p) {
  ++t.count;
  t.evaluations += p.summary.evaluations;
  switch (p.summary.status) {
    case circuit::Status::converged:
      ++t.converged;
      break;
    case circuit::Status::tripped:
      ++t.tripped;
      break;
    case circuit::Status::equalised:
      ++t.equalised;
      break;
    default:
      ++t.failed;
      ++t.why[std::string(p.summary.why)];
  }
}

void print(const char* name, const Tally& t) {
  const auto share = [&](long part) {
    return 100 * static_cast<double>(part) / static_cast<double>(t.count);
  };
  std::printf("%-24s %8ld  %7.2f %7.2f %7.2f %8.3f  %6.1f\n", name, t.count, share(t.converged),
              share(t.tripped), share(t.equalised), share(t.failed), share(t.evaluations) / 100);
}

}  // namespace

int main(int argc, char** argv) {
  const long machines = argc > 1 ? std::atol(argv[1]) : 100000;
  RandomStream random(argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1);
  const auto knowledge = service::load_knowledge();
  if (!knowledge) return std::puts(to_text(knowledge.problem()).c_str()), 1;
  std::map<std::string, circuit::WorkingFluid> fluids;
  for (const char* name : {"R290", "R600a", "R134a"}) {
    const auto fluid = service::load_fluid(name);
    if (!fluid) return std::puts(to_text(fluid.problem()).c_str()), 1;
    const auto working = circuit::WorkingFluid::make(*fluid);
    if (!working) return std::puts(to_text(working.problem()).c_str()), 1;
    fluids.emplace(name, *working);
  }
  std::map<std::string, Tally> by_cause, by_cabinet;
  Tally all;
  long undrawn = 0;
  double seconds = 0;
  for (long i = 0; i < machines; ++i) {
    const auto pick = [&](std::size_t n) {
      return static_cast<std::size_t>(random.uniform() * static_cast<double>(n));
    };
    const auto& kind = knowledge->archetypes[pick(knowledge->archetypes.size())];
    const auto& cause = knowledge->causes[pick(knowledge->causes.size())];
    const double severity = diagnosis::severity_of(cause, random.normal()), variant = random.uniform();
    const auto z = circuit::draw_latents(random);
    circuit::Nameplate plate;
    plate.archetype = kind.id;
    const auto& fluid = fluids.at(kind.refrigerant);
    const auto machine = circuit::machine_from(z, plate, kind, fluid);
    const double ambient = 291.15 + 22 * random.uniform();
    const double box = kind.set_point_K + 18 * random.uniform();
    if (!machine) {
      ++undrawn;
      continue;
    }
    diagnosis::Effects effects;
    diagnosis::apply_cause(cause.id, severity, variant, effects);
    const circuit::Conditions c{ambient, std::min(box, ambient), kind.rated_voltage * effects.voltage_factor,
                                1};
    const auto begin = std::chrono::steady_clock::now();
    const auto point = circuit::operate(*machine, fluid, c, effects.departure);
    seconds += std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
    add(by_cause[cause.id], point);
    add(by_cabinet[kind.id], point);
    add(all, point);
  }
  std::printf("%-24s %8s  %7s %7s %7s %8s  %6s\n", "percent of", "machines", "settled", "tripped", "equal",
              "failed", "evals");
  for (const auto& [name, t] : by_cause) print(name.c_str(), t);
  for (const auto& [name, t] : by_cabinet) print(name.c_str(), t);
  print("all", all);
  for (const auto& [why, n] : all.why) std::printf("failed because: %s: %ld\n", why.c_str(), n);
  std::printf("not drawable: %ld; %.0f operating points a second on one core\n", undrawn,
              static_cast<double>(all.count) / seconds);
  return 0;
}

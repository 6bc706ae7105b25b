// How the time of one diagnosis grows with the population, the machines drawn per cause.
//
// diagnosis_scaling [calls=3] [populations=40,80,160,320,640]
// Calls with few and with many readings, each its own call drawn from the population; the processor's time of
// one diagnosis, the smallest of two runs, averaged over the calls. Printed as a ratio to the smallest
// population: linear growth is the ratio of the populations, and less means that a part of the work (modes,
// pairs) doesn't grow.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string>
#include <vector>

#include "diagnosis/evidence.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;
using circuit::ReadingKind;

std::vector<int> numbers(const char* text) {
  std::vector<int> out;
  for (const char* at = text; *at != 0;) {
    char* end = nullptr;
    out.push_back(static_cast<int>(std::strtol(at, &end, 10)));
    if (end == at || out.back() < 1) return {};
    at = *end == ',' ? end + 1 : end;
  }
  return out;
}

diagnosis::Case draw_call(const diagnosis::Knowledge& knowledge, const circuit::Archetype& kind,
                          const circuit::WorkingFluid& fluid, const std::string& cause,
                          const std::vector<ReadingKind>& kinds, std::uint64_t seed) {
  diagnosis::Case c;
  c.nameplate.archetype = kind.id;
  c.nameplate.charge = kind.charge.median;
  c.nameplate.rated_current = kind.rated_current.median;
  c.ambient = 273.15 + 29;
  c.box = kind.set_point_K + 8;
  c.observations = {{"complaint", "not_cooling", "complaint"}, {"compressor", "running", "compressor"}};
  diagnosis::Scene scene{};
  scene.plate = &c.nameplate;
  scene.kind = &kind;
  scene.fluid = &fluid;
  scene.knowledge = &knowledge;
  scene.ambient = *c.ambient;
  scene.box = *c.box;
  scene.site_pressure = c.site_pressure;
  scene.not_cooling = true;
  for (const auto& h : diagnosis::hypotheses(knowledge, kind.condenser)) {
    if (h.id != cause) continue;
    for (std::uint64_t tried = 0; tried < 500; ++tried) {
      RandomStream random = RandomStream(seed).fork(tried);
      diagnosis::Latents z{};
      for (double& x : z) x = random.normal();
      const auto s = diagnosis::simulate(scene, h, z);
      if (!s.ok || s.mode != diagnosis::Mode::running || random.uniform() > s.complaint) continue;
      for (ReadingKind r : kinds)
        c.readings.push_back({r, s.readings[static_cast<std::size_t>(r)], std::nullopt, std::nullopt,
                              std::string(circuit::info(r).id)});
      return c;
    }
  }
  return c;
}

struct Cost {
  double seconds = 0, solves = 0;
};

Cost once(const diagnosis::Case& c, const fluids::Fluid& fluid, const diagnosis::Knowledge& knowledge,
          int population) {
  diagnosis::Options options;
  options.population = population;
  Cost best{1e9, 0};
  for (int run = 0; run < 2; ++run) {
    const std::clock_t start = std::clock();
    const auto answer = diagnosis::diagnose(c, fluid, knowledge, options);
    const double took = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    if (answer && took < best.seconds) best = {took, static_cast<double>(answer->quality.solves)};
  }
  return best;
}

}  // namespace

int main(int argc, char** argv) {
  using enum ReadingKind;
  const int calls = argc > 1 ? std::atoi(argv[1]) : 3;
  const std::vector<int> populations = numbers(argc > 2 ? argv[2] : "40,80,160,320,640");
  if (calls < 1 || populations.empty())
    return std::fprintf(stderr, "diagnosis_scaling [calls] [40,80,160]\n"), 2;
  const auto knowledge = service::load_knowledge();
  const auto fluid = service::load_fluid("R290");
  if (!knowledge || !fluid) return 1;
  const auto working = circuit::WorkingFluid::make(*fluid);
  if (!working) return 1;
  const auto kind = std::find_if(knowledge->archetypes.begin(), knowledge->archetypes.end(),
                                 [](const auto& a) { return a.id == "reach_in_cooler"; });
  if (kind == knowledge->archetypes.end()) return 1;

  const std::vector<ReadingKind> few{compressor_current},
      many{compressor_current, condenser_middle_temp, liquid_line_temp,      discharge_line_temp,
           suction_line_temp,  evaporator_inlet_temp, evaporator_outlet_temp};
  const std::vector<std::string> causes{"low_charge", "dirty_condenser", "restriction", "worn_valves",
                                        "overcharge"};
  std::printf("%-17s %10s %10s %10s %10s %10s\n", "readings", "population", "of it", "CPU s", "of time",
              "solves");
  for (const auto* kinds : {&few, &many}) {
    Cost smallest;
    for (int population : populations) {
      Cost sum;
      for (int i = 0; i < calls; ++i) {
        const auto c =
            draw_call(*knowledge, *kind, *working, causes[static_cast<std::size_t>(i) % causes.size()],
                      *kinds, static_cast<std::uint64_t>(i) + 1);
        const Cost cost = once(c, *fluid, *knowledge, population);
        sum.seconds += cost.seconds / calls;
        sum.solves += cost.solves / calls;
      }
      if (population == populations.front()) smallest = sum;
      std::printf("%-17s %10d %10.2f %10.3f %10.2f %10.0f\n", kinds == &few ? "current" : "current, 6 clamps",
                  population, static_cast<double>(population) / populations.front(), sum.seconds,
                  sum.seconds / smallest.seconds, sum.solves);
      std::fflush(stdout);
    }
  }
  return 0;
}

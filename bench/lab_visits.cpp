// Service calls drawn from the virtual cabinet, one line each, for the judge.
//
// lab_visits COUNT --to FILE [--seed 1] [--first 0] [--two 0.15] [--weights equal|catalogue] [--only CAUSE]
//            [--lab slip=zivi,condensing=0.8,...] [--cells 6] [--minutes 90]
// Appends; four calls share a cabinet. The same seed and number give the same call, so that a run may be
// split by --first and resumed. `--lab` changes the lab's correlations (lab/correlations.hpp); the order of
// kinds of cabinet is that of data/cabinets.json.
#include <cstdio>
#include <fstream>
#include <map>

#include <CLI/CLI.hpp>

#include "diagnosis/causes.hpp"
#include "judge/kinds.hpp"
#include "judge/opinion.hpp"
#include "judge/visit_lines.hpp"
#include "lab/draw_visit.hpp"

namespace {

using namespace coldwright;

constexpr long kCallsPerCabinet = 4;

int fail(const Problem& p) {
  std::fprintf(stderr, "%s\n", to_text(p).c_str());
  return 1;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Service calls drawn from the virtual cabinet"};
  long count = 0, first = 0;
  std::uint64_t seed = 1;
  int cells = 6;
  std::string to, only, changed, weights = "equal";
  double two = 0.15, minutes = 90;
  app.add_option("count", count)->required();
  app.add_option("--to", to)->required();
  app.add_option("--seed", seed);
  app.add_option("--first", first);
  app.add_option("--two", two);
  app.add_option("--weights", weights)->check(CLI::IsMember({"equal", "catalogue"}));
  app.add_option("--only", only);
  app.add_option("--lab", changed);
  app.add_option("--cells", cells)->check(CLI::Range(3, 16));
  app.add_option("--minutes", minutes)->check(CLI::Range(1, 600));
  CLI11_PARSE(app, argc, argv);

  const auto knowledge =
      judge::knowledge_for(weights == "equal" ? judge::Weights::equal : judge::Weights::catalogue, two);
  if (!knowledge) return fail(knowledge.problem());
  const auto correlations = lab::correlations_from(changed);
  if (!correlations) return fail(correlations.problem());
  lab::VisitOptions options;
  options.pairs = only.empty() ? two : 0;
  options.minutes = minutes;
  for (const auto& c : knowledge->causes)
    options.causes.push_back({c.id, only.empty() ? c.weight : (c.id == only ? 1.0 : 0.0), c.severity_low,
                              c.severity_high, diagnosis::is_circuit_cause(c.id)});
  std::ofstream out(to, std::ios::app);
  std::map<std::string, std::shared_ptr<const lab::Refrigerant>> refrigerants;
  const RandomStream random(seed);
  std::optional<lab::Designed> unit;
  lab::Kind kind;
  long cabinet = -1, given_up = 0;
  for (long i = first; i < first + count; ++i) {
    if (i / kCallsPerCabinet != cabinet) {
      cabinet = i / kCallsPerCabinet;
      kind = judge::kind_of(
          knowledge->archetypes[static_cast<std::size_t>(cabinet) % knowledge->archetypes.size()]);
      auto& refrigerant = refrigerants[kind.refrigerant];
      if (!refrigerant) {
        auto made = judge::lab_refrigerant(kind.refrigerant);
        if (!made) return fail(made.problem());
        refrigerant = std::move(*made);
      }
      unit.reset();
      for (std::uint64_t again = 0; again < 20 && !unit; ++again) {
        auto made = lab::design(kind, refrigerant, *correlations, cells,
                                random.fork(static_cast<std::uint64_t>(cabinet)).fork(again));
        if (made) unit = *made;
      }
      if (!unit) return std::fprintf(stderr, "no cabinet %ld\n", cabinet), 1;
    }
    std::optional<lab::Visit> visit;
    for (std::uint64_t again = 0; again < 5 && !visit; ++again) {
      auto drawn = lab::draw_visit(options, kind, *unit, refrigerants[kind.refrigerant],
                                   random.fork(0x51e0u + static_cast<std::uint64_t>(i)).fork(again));
      if (drawn) visit = *drawn;
      given_up += !drawn;
    }
    if (!visit) return std::fprintf(stderr, "no visit %ld\n", i), 1;
    visit->seed = static_cast<std::uint64_t>(i);
    out << judge::to_line(*visit) << "\n" << std::flush;
    if (!out) return std::fprintf(stderr, "cannot write %s\n", to.c_str()), 1;
  }
  std::fprintf(stderr, "%ld calls; %ld draws given up by the solver\n", count, given_up);
  return 0;
}

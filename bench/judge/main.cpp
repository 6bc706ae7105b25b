// The judge: what the tool says about visits whose truth is known. See bench/judge/README.md.
//
// With --two 0 the tool names single causes only, and paths leave visits with two aside.
//
// judge standin COUNT --to VISITS [--seed 1] [--weights equal|catalogue] [--two 0.15]
// judge run VISITS --rows ROWS [--sets 0ABCDEFGHIJ] [--source lab] [WAY]
// judge paths VISITS --rows PATHS [WAY]
//   WAY: [--seed 1] [--first 0] [--calls all] [--fifth 0..4] [--correction FILE|none] [--draws 60] [--weights
//   equal|catalogue] [--two 0.15]
// judge residuals VISITS [--set J] [--each] [WAY]
// judge evidence VISITS [--set G] [WAY]
// judge learn VISITS:ROWS... [--sets GPQ] [--penalty 1] [--trust-penalty 10] [--onward FILE] [WAY]
//   [--note TEXT]
// judge tally ROWS... [--set G] [--as-met] [--two 0.15]
// judge tally-paths PATHS...
// judge picture ROWS... [--paths PATHS...] [--set G] --to docs/pictures
//
// `--fifth` judges every fifth visit alone, and learns from the others; how those are then answered, in every
// set that there are rows of, is printed beside the correction. `--seed` is that of the technicians and of
// the tool's draws; `--two` the share of calls with two causes that the tool is told. Rows are appended as
// soon as they are known; visits already there are not judged again. `--as-met` weighs calls of equally
// likely causes as often as data/causes.json believes they are met.
#include <cstdio>
#include <fstream>
#include <map>
#include <set>
#include <string>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "judge/learn.hpp"
#include "judge/path.hpp"
#include "judge/picture.hpp"
#include "judge/residuals.hpp"
#include "judge/run.hpp"
#include "judge/score.hpp"
#include "judge/standin.hpp"
#include "judge/visit_lines.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;
using namespace coldwright::judge;

// Every fifth visit from `which` on, or all; kept apart, or the only ones.
struct Fifth {
  int which = -1;
  bool holds(long number) const { return which >= 0 && number % 5 == which; }
};

struct Way {
  std::string correction, visits, rows, sets = "0ABCDEFGHIJ", source = "lab", weights = "equal";
  std::uint64_t seed = 1;
  long first = 0, calls = -1;
  int draws = 60;
  double two = 0.15;  // as lab_visits draws them
  Fifth fifth;
};

int fail(const Problem& p) {
  std::fprintf(stderr, "%s\n", to_text(p).c_str());
  return 1;
}

Result<diagnosis::Knowledge> knowledge_of(const Way& way) {
  auto knowledge = knowledge_for(way.weights == "equal" ? Weights::equal : Weights::catalogue, way.two);
  if (!knowledge) return knowledge;
  auto correction = correction_in(way.correction, *knowledge);
  if (!correction) return correction.problem();
  knowledge->correction = std::move(*correction);
  return knowledge;
}

int standin(long count, const Way& way) {
  const auto knowledge = knowledge_of(way);
  if (!knowledge) return fail(knowledge.problem());
  const auto fluid = service::load_fluid("R290");
  if (!fluid) return fail(fluid.problem());
  const auto working = circuit::WorkingFluid::make(*fluid);
  if (!working) return fail(working.problem());
  std::ofstream out(way.visits);
  const RandomStream seeds(way.seed);
  for (long i = 0; i < count && out; ++i)
    out << to_line(draw_standin(*knowledge, *working, seeds.fork(static_cast<std::uint64_t>(i)).bits() >> 1))
        << "\n";
  return out ? 0 : fail({"visits", way.visits, "a file that can be written", "writing failed"});
}

// Which visits stand in a file of rows or paths; both begin a line so that the word at `place` is the number.
std::set<long> done(const std::string& file, int place) {
  std::set<long> numbers;
  std::ifstream in(file);
  for (std::string line; std::getline(in, line);) {
    std::istringstream words(line);
    std::string word;
    for (int i = 0; i <= place; ++i) words >> word;
    numbers.insert(std::strtol(word.c_str(), nullptr, 10));
  }
  return numbers;
}

// Calls `each` for every visit of the file that `way` wants and that isn't done yet.
int for_each_visit(const Way& way, Opinion& opinion, const std::set<long>& already,
                   const std::function<std::optional<Problem>(const lab::Visit&, long)>& each) {
  std::ifstream in(way.visits);
  if (!in) return fail({"visits", way.visits, "a file that can be read", "there is none"});
  long number = 0;
  for (std::string line; std::getline(in, line); ++number) {
    if (number < way.first || already.contains(number)) continue;
    if (way.fifth.which >= 0 && !way.fifth.holds(number)) continue;
    if (way.calls >= 0 && number >= way.first + way.calls) break;
    const auto visit = visit_from_line(line);
    if (!visit) return fail(visit.problem());
    const auto working = opinion.fluid(visit->refrigerant);
    if (!working) return fail(working.problem());
    if (const auto problem = each(with_cold_box(*visit, **working), number)) return fail(*problem);
  }
  return 0;
}

int run(const Way& way) {
  const auto knowledge = knowledge_of(way);
  if (!knowledge) return fail(knowledge.problem());
  Opinion opinion(*knowledge, {way.draws, way.two > 0, way.seed});
  const RandomStream technicians = RandomStream(way.seed).fork(2);
  const std::set<long> already = done(way.rows, 1);
  std::ofstream out(way.rows, std::ios::app);
  return for_each_visit(
      way, opinion, already, [&](const lab::Visit& visit, long number) -> std::optional<Problem> {
        const auto rows = judge_visit(visit, number, way.sets, *knowledge, opinion, technicians);
        if (!rows) return rows.problem();
        std::string lines;
        for (Row row : *rows) {
          row.source = way.source;
          lines += to_line(row) + "\n";
        }
        out << lines << std::flush;
        if (!out) return Problem{"rows", way.rows, "a file that can be written", "writing failed"};
        return std::nullopt;
      });
}

int residuals(const Way& way, char set, bool each) {
  const auto knowledge = knowledge_of(way);
  if (!knowledge) return fail(knowledge.problem());
  Opinion opinion(*knowledge, {way.draws, false, way.seed});
  const RandomStream technicians = RandomStream(way.seed).fork(2);
  std::vector<Residual> all;
  const int status =
      for_each_visit(way, opinion, {}, [&](const lab::Visit& visit, long number) -> std::optional<Problem> {
        opinion.begin(static_cast<std::uint64_t>(number));
        const auto some = residuals(visit, number, set, *knowledge, opinion, technicians);
        if (!some) return some.problem();
        if (each)
          for (const Residual& r : *some)
            fmt::print("{} {} {} {} {} {:g} {:g} {:g} {:g}\n", number, circuit::info(r.kind).id, r.cause,
                       r.cabinet, r.steady ? 1 : 0, r.minutes_running, r.value, r.expected, r.sigma);
        all.insert(all.end(), some->begin(), some->end());
        return std::nullopt;
      });
  if (!each) std::fputs(tally(all).c_str(), stdout);
  return status;
}

int evidence(const Way& way, char wanted) {
  const auto knowledge = knowledge_of(way);
  if (!knowledge) return fail(knowledge.problem());
  Opinion opinion(*knowledge, {way.draws, false, way.seed});
  const RandomStream technicians = RandomStream(way.seed).fork(2);
  return for_each_visit(
      way, opinion, {}, [&](const lab::Visit& visit, long number) -> std::optional<Problem> {
        for (const ReadingSet& set : reading_sets()) {
          if (set.name != wanted) continue;
          const diagnosis::Case c = taken(visit, number, set, *knowledge, technicians);
          fmt::print("{} {} {}", number, visit.archetype, steady(visit) ? 1 : 0);
          for (const lab::TrueCause& t : visit.truth) fmt::print(" truth:{}:{:g}", t.id, t.severity);
          fmt::print(" plate:{:g} ambient:{:g} box:{:g}", c.nameplate.rated_current.value_or(0),
                     c.ambient.value_or(0), c.box.value_or(0));
          for (const auto& o : c.observations) fmt::print(" {}={}", o.subject, o.value);
          for (const auto& r : c.readings)
            fmt::print(" {}:{:g}:{:g}", circuit::info(r.kind).id, r.value, r.minutes_running.value_or(-1));
          fmt::print("\n");
        }
        return std::nullopt;
      });
}

// Visits and the rows judged of them, as "visits:rows".
int learn(const std::vector<std::string>& from, const Penalties& penalties, const Way& way,
          const std::string& note, const std::string& onward) {
  const auto knowledge = knowledge_of(way);
  if (!knowledge) return fail(knowledge.problem());
  const auto earlier = correction_in(onward, *knowledge);
  if (!earlier) return fail(earlier.problem());
  Opinion opinion(*knowledge, {way.draws, false, way.seed});
  const RandomStream technicians = RandomStream(way.seed).fork(2);
  std::vector<Lesson> lessons;
  std::map<char, std::vector<Lesson>> apart;
  for (const std::string& pair : from) {
    const auto colon = pair.find(':');
    if (colon == std::string::npos) return fail({"from", pair, "VISITS:ROWS", "both are needed"});
    const auto rows = read_rows({pair.substr(colon + 1)});
    if (!rows) return fail(rows.problem());
    std::multimap<long, const Row*> by_visit;
    for (const Row& row : *rows)
      if (way.sets.find(row.set) != std::string::npos || way.fifth.holds(row.visit))
        by_visit.emplace(row.visit, &row);
    Way one = way;
    one.visits = pair.substr(0, colon);
    one.fifth = {};
    const int status =
        for_each_visit(one, opinion, {}, [&](const lab::Visit& visit, long number) -> std::optional<Problem> {
          const auto [first, last] = by_visit.equal_range(number);
          for (auto row = first; row != last; ++row)
            for (const ReadingSet& set : reading_sets()) {
              if (set.name != row->second->set) continue;
              auto lesson =
                  lesson_of(*row->second, taken(visit, number, set, *knowledge, technicians), *knowledge);
              if (!lesson) continue;
              (way.fifth.holds(number) ? apart[set.name] : lessons).push_back(std::move(*lesson));
            }
          return std::nullopt;
        });
    if (status != 0) return status;
  }
  std::fprintf(stderr, "%zu answers to learn from\n", lessons.size());
  const auto correction = judge::learn(std::move(lessons), opinion, *knowledge, penalties, *earlier);
  if (!correction) return fail(correction.problem());
  std::fputs(to_json(*correction, note).c_str(), stdout);
  for (auto& [set, kept] : apart) {
    const auto told = foretell(*correction, std::move(kept), opinion, *knowledge);
    if (!told) return fail(told.problem());
    std::fprintf(stderr, "set %c kept apart: %zu answers, -ln p %.4f, first %.4f, first two %.4f\n", set,
                 told->lessons, told->surprise, told->first, told->first_two);
  }
  return 0;
}

int paths(const Way& way) {
  const auto knowledge = knowledge_of(way);
  if (!knowledge) return fail(knowledge.problem());
  Opinion opinion(*knowledge, {way.draws, way.two > 0, way.seed});
  const RandomStream random(way.seed);
  const std::set<long> already = done(way.rows, 0);
  std::ofstream out(way.rows, std::ios::app);
  return for_each_visit(way, opinion, already,
                        [&](const lab::Visit& visit, long number) -> std::optional<Problem> {
                          if (way.two == 0 && visit.truth.size() > 1) return std::nullopt;
                          const auto label = static_cast<std::uint64_t>(number);
                          opinion.begin(label);
                          std::string lines;
                          for (Policy policy : kPolicies) {
                            auto path = follow(policy, visit, *knowledge, opinion, random.fork(2).fork(label),
                                               random.fork(3).fork(label));
                            if (!path) return path.problem();
                            path->visit = number;
                            lines += to_line(*path) + "\n";
                          }
                          out << lines << std::flush;
                          if (!out)
                            return Problem{"paths", way.rows, "a file that can be written", "writing failed"};
                          return std::nullopt;
                        });
}

int write(const std::string& file, const std::string& text) {
  std::ofstream out(file);
  out << text;
  return out ? 0 : fail({"picture", file, "a file that can be written", "writing failed"});
}

int picture(const std::vector<std::string>& rows, const std::vector<std::string>& path_files, char set,
            const std::string& folder) {
  const auto read = read_rows(rows);
  if (!read) return fail(read.problem());
  const Score s = score(*read, Merge::load, [&](const Row& r) { return r.set == set; });
  if (write(folder + "/judge_calibration.svg", calibration_picture(s)) != 0) return 1;
  if (write(folder + "/judge_confusion.svg", confusion_picture(s)) != 0) return 1;
  if (path_files.empty()) return 0;
  const auto followed = read_paths(path_files);
  if (!followed) return fail(followed.problem());
  return write(folder + "/judge_cost.svg", cost_picture(*followed));
}

void add_way(CLI::App& app, Way& way, bool one_file = true) {
  if (one_file) {
    app.add_option("visits", way.visits)->required();
    app.add_option("--rows", way.rows);
  }
  app.add_option("--seed", way.seed);
  app.add_option("--correction", way.correction);
  app.add_option("--fifth", way.fifth.which)->check(CLI::Range(0, 4));
  app.add_option("--first", way.first);
  app.add_option("--calls", way.calls);
  app.add_option("--draws", way.draws);
  app.add_option("--weights", way.weights)->check(CLI::IsMember({"equal", "catalogue"}));
  app.add_option("--two", way.two)->check(CLI::Range(0.0, 0.9));
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("Judges the diagnosis on visits whose truth is known");
  app.require_subcommand(1);
  Way way;
  long count = 0;
  std::vector<std::string> files, path_files;
  bool each = false, as_met = false;
  std::string detail = "G", folder, note = "visits of the virtual cabinet", onward = "none";
  Penalties penalties;
  auto* draw = app.add_subcommand("standin", "Draws visits from our own model in a shifted world");
  draw->add_option("count", count)->required();
  draw->add_option("--to", way.visits)->required();
  draw->add_option("--seed", way.seed);
  draw->add_option("--weights", way.weights)->check(CLI::IsMember({"equal", "catalogue"}));
  draw->add_option("--two", way.two)->check(CLI::Range(0.0, 0.9));
  auto* sets = app.add_subcommand("run", "Judges visits with each set of readings");
  add_way(*sets, way);
  sets->add_option("--sets", way.sets);
  sets->add_option("--source", way.source);
  auto* off = app.add_subcommand("residuals", "Readings against what is expected under the true cause");
  add_way(*off, way);
  off->add_option("--set", detail);
  off->add_flag(
      "--each", each,
      "every reading on a line: visit, reading, cause, cabinet, steady, minutes, value, expected, sigma");
  auto* told = app.add_subcommand("evidence", "What the tool is told of each visit, with its truth");
  add_way(*told, way);
  told->add_option("--set", detail);
  auto* teach = app.add_subcommand("learn", "Fits the learned correction; prints data/correction.json");
  add_way(*teach, way, false);
  teach->add_option("from", files)->required();
  teach->add_option("--sets", way.sets);
  teach->add_option("--penalty", penalties.weight);
  teach->add_option("--trust-penalty", penalties.trust);
  teach->add_option("--onward", onward);
  teach->add_option("--note", note);
  auto* orders = app.add_subcommand("paths", "What a right verdict costs by the order of reading");
  add_way(*orders, way);
  auto* table = app.add_subcommand("tally", "Tables of rows");
  table->add_option("rows", files)->required();
  table->add_option("--set", detail)->check([](const std::string& s) {
    return s.size() == 1 ? "" : "one letter";
  });
  table->add_flag("--as-met", as_met);
  table->add_option("--two", way.two)->check(CLI::Range(0.0, 0.9));
  auto* drawn = app.add_subcommand("picture", "Calibration, confusion and cost as SVG");
  drawn->add_option("rows", files)->required();
  drawn->add_option("--paths", path_files);
  drawn->add_option("--set", detail)->check([](const std::string& s) {
    return s.size() == 1 ? "" : "one letter";
  });
  drawn->add_option("--to", folder)->required();
  auto* path_table = app.add_subcommand("tally-paths", "Table of paths");
  path_table->add_option("paths", files)->required();
  CLI11_PARSE(app, argc, argv);
  if (*draw) return standin(count, way);
  if (*sets) return run(way);
  if (*off) return residuals(way, detail[0], each);
  if (*told) return evidence(way, detail[0]);
  if (*teach) return learn(files, penalties, way, note, onward);
  if (*orders) return paths(way);
  if (*drawn) return picture(files, path_files, detail[0], folder);
  if (*path_table) {
    const auto read = read_paths(files);
    if (!read) return fail(read.problem());
    std::fputs(tally(*read).c_str(), stdout);
    return 0;
  }
  auto rows = read_rows(files);
  if (!rows) return fail(rows.problem());
  if (as_met) {
    const auto equal = knowledge_for(Weights::equal, way.two), met = knowledge_for(Weights::catalogue, -1);
    if (!equal || !met) return fail(equal ? met.problem() : equal.problem());
    *rows = reweighed(std::move(*rows), *equal, *met);
  }
  std::fputs(tally(*rows, detail[0]).c_str(), stdout);
  return 0;
}

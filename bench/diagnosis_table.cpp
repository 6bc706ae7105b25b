// How often the diagnosis is right, and whether its probabilities mean what they say, over simulated calls
// with a known cause: the table of docs/evidence.md. Causes equally likely, severities drawn until the box
// would not hold its set point, readings with instrument noise, eyes imperfect.
//
// diagnosis_table [calls=5000] [matched|shifted] [sets=0ABCDEFGHIJ] [seed=1]
//                 [discrepancy share] [draws=60] [doubt=1] [rows=file] [first=0]
// diagnosis_table tally FILE...
// The shifted world has coils, hold-up, suction exchange, clamps and plates unlike those that the diagnosis
// believes in. Share, draws and doubt change the diagnosis, to see what they are worth. Every call is written
// to `rows` as soon as it is judged, so that a run may be stopped, and may be split by its first call;
// `tally` makes the table of such files.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "diagnosis/findings.hpp"
#include "judge/sets.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"

namespace {

using namespace coldwright;
using circuit::ReadingKind;
using namespace diagnosis;

using judge::ReadingSet, judge::reading_sets;

// Causes as the published table of classes merges them: a sound machine under high load is no refrigeration
// fault.
std::string merged(const std::string& cause) {
  if (cause == "high_load") return "sound";
  if (cause == "not_pumping") return "worn_valves";
  return cause;
}

// One call judged with one set of readings.
struct Row {
  char world;  // 'm' or 's'
  long call;
  char set;
  std::string truth, first, second;
  double p_first, p_truth, effective, solves;
};

Row row_of(const std::map<std::string, double>& probability, const std::string& truth) {
  std::vector<std::pair<double, std::string>> order;
  for (const auto& [name, p] : probability) order.emplace_back(p, name);
  std::sort(order.rbegin(), order.rend());
  Row r{};
  r.truth = truth;
  r.first = order[0].second;
  r.second = order[1].second;
  r.p_first = order[0].first;
  r.p_truth = probability.contains(truth) ? probability.at(truth) : 0;
  return r;
}

void write(std::FILE* f, const Row& r) {
  std::fprintf(f, "%c %ld %c %s %s %s %.6f %.9f %.1f %.0f\n", r.world, r.call, r.set, r.truth.c_str(),
               r.first.c_str(), r.second.c_str(), r.p_first, r.p_truth, r.effective, r.solves);
  std::fflush(f);
}

struct Score {
  long n = 0, top1 = 0, top2 = 0, sure = 0, sure_right = 0;
  double solves = 0, log_loss = 0, over_sure = 0;
  std::vector<double> confidence = std::vector<double>(10), right = std::vector<double>(10),
                      doubt = std::vector<double>(10);
  std::vector<double> effective;
  std::map<std::string, std::pair<long, long>> by_class;  // right, all
  std::map<std::string, std::map<std::string, long>> confusion;
};

void add(Score& s, const Row& r) {
  ++s.n;
  const bool right = r.first == r.truth;
  s.top1 += right;
  s.top2 += right || r.second == r.truth;
  s.log_loss -= std::log(std::max(r.p_truth, 1e-6));
  s.over_sure += r.p_first - right;
  const auto bin = static_cast<std::size_t>(std::min(r.p_first * 10, 9.999));
  s.confidence[bin] += r.p_first;
  s.right[bin] += right;
  s.doubt[bin] += r.p_first * (1 - r.p_first);
  if (r.p_first > 0.9) {
    ++s.sure;
    s.sure_right += right;
  }
  s.effective.push_back(r.effective);
  s.solves += r.solves;
  s.by_class[r.truth].first += right;
  ++s.by_class[r.truth].second;
  if (!right) ++s.confusion[r.truth][r.first];
}

// Mean gap over tenths of stated probability between what was stated and how often it was right. `by_chance`
// is what so few calls would show even if every stated probability were exact.
struct Calibration {
  double error, by_chance;
};
Calibration calibration(const Score& s) {
  Calibration c{};
  for (std::size_t i = 0; i < 10; ++i) {
    c.error += std::abs(s.confidence[i] - s.right[i]);
    c.by_chance += std::sqrt(2 / 3.14159265 * s.doubt[i]);
  }
  c.error /= static_cast<double>(s.n);
  c.by_chance /= static_cast<double>(s.n);
  return c;
}

void print(std::map<char, Score>& scores) {
  std::printf("%-34s %5s %6s %6s %6s %6s %6s %6s %6s %6s %5s %6s\n", "set", "calls", "top-1", "top-2", "cal",
              "chance", "over", "-lnp", ">.9", "right", "draws", "solves");
  for (const ReadingSet& set : reading_sets()) {
    if (!scores.contains(set.name)) continue;
    Score& s = scores.at(set.name);
    const auto share_of = [](auto a, long b) {
      return b > 0 ? static_cast<double>(a) / static_cast<double>(b) : 0.0;
    };
    std::sort(s.effective.begin(), s.effective.end());
    const Calibration c = calibration(s);
    std::printf("%c %-32s %5ld %6.3f %6.3f %6.3f %6.3f %+6.3f %6.3f %6.3f %6.3f %5.0f %6.0f\n", set.name,
                set.what, s.n, share_of(s.top1, s.n), share_of(s.top2, s.n), c.error, c.by_chance,
                share_of(s.over_sure, s.n), share_of(s.log_loss, s.n), share_of(s.sure, s.n),
                share_of(s.sure_right, s.sure), s.effective[s.effective.size() / 2], share_of(s.solves, s.n));
  }
  for (const ReadingSet& set : reading_sets()) {
    if (!scores.contains(set.name)) continue;
    const Score& s = scores.at(set.name);
    std::printf("\n%c, right by class:", set.name);
    for (const auto& [name, rc] : s.by_class)
      std::printf(" %s %.2f", name.c_str(), static_cast<double>(rc.first) / static_cast<double>(rc.second));
    std::printf("\n  mistaken for:");
    for (const auto& [name, others] : s.confusion)
      for (const auto& [other, n] : others)
        if (10 * n > s.by_class.at(name).second)
          std::printf(" %s as %s %.2f;", name.c_str(), other.c_str(),
                      static_cast<double>(n) / static_cast<double>(s.by_class.at(name).second));
    std::printf("\n");
  }
}

int tally(int count, char** files) {
  std::map<char, std::map<char, Score>> worlds;
  for (int i = 0; i < count; ++i) {
    std::ifstream in(files[i]);
    if (!in) return std::fprintf(stderr, "no file %s\n", files[i]), 1;
    Row r{};
    while (in >> r.world >> r.call >> r.set >> r.truth >> r.first >> r.second >> r.p_first >> r.p_truth >>
           r.effective >> r.solves)
      add(worlds[r.world][r.set], r);
  }
  for (auto& [world, scores] : worlds) {
    std::printf("%s world\n", world == 's' ? "shifted" : "matched");
    print(scores);
  }
  return 0;
}

struct World {
  Knowledge knowledge;
  circuit::WorkingFluid fluid;
  circuit::Archetype kind;
  circuit::Nameplate plate;
};

// The true machine of one call and what is seen and read of it.
struct Call {
  std::string truth;
  Case the_case;  // every reading and observation; sets pick from it
};

Call draw_call(const World& w, Scene truth_scene, double clamp_noise, RandomStream random) {
  const auto all = hypotheses(w.knowledge, w.kind.condenser);
  std::vector<Hypothesis> singles;
  for (const auto& h : all)
    if (h.causes.size() == 1) singles.push_back(h);
  Call call;
  double u = random.uniform(), sum = 0, total = 0;
  for (const auto& h : singles) total += std::exp(h.log_prior);
  const Hypothesis* h = &singles.back();
  for (const auto& each : singles)
    if ((sum += std::exp(each.log_prior) / total) >= u) {
      h = &each;
      break;
    }
  call.truth = h->id;
  Simulated s;
  for (;;) {
    truth_scene.ambient = 273.15 + 18 + 22 * random.uniform();
    truth_scene.box = 273.15 + 8 + 12 * random.uniform();
    Latents z{};
    for (double& x : z) x = random.normal();
    s = simulate(truth_scene, *h, z);
    if (s.ok && random.uniform() < s.complaint) break;
  }
  Case& c = call.the_case;
  c.nameplate = w.plate;
  c.ambient = truth_scene.ambient;
  c.box = truth_scene.box;
  c.observations.push_back({"complaint", "not_cooling", ""});
  for (const char* subject : judge::kLookedAt) {
    for (const auto& m : w.knowledge.observations) {
      if (m.subject != subject) continue;
      double v = random.uniform(), at = 0;
      std::size_t value = 0;
      for (; value + 1 < m.values.size(); ++value)
        if ((at += observation_probability(m, value, *h, w.knowledge, s)) >= v) break;
      c.observations.push_back({subject, m.values[value], ""});
    }
  }
  for (const auto& row : circuit::reading_table()) {
    Reading r{row.kind, s.readings[static_cast<std::size_t>(row.kind)], std::nullopt, std::nullopt, ""};
    const double sigma = uncertainty(r, c.site_pressure, 0).total *
                         (row.quantity == circuit::QuantityKind::temperature ? clamp_noise : 1);
    const double noise = sigma * random.normal();
    r.value = row.quantity == circuit::QuantityKind::resistance ? r.value * std::exp(noise)
                                                                : std::max(r.value + noise, 0.0);
    c.readings.push_back(r);
  }
  return call;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc > 2 && std::string(argv[1]) == "tally") return tally(argc - 2, argv + 2);
  const long calls = argc > 1 ? std::atol(argv[1]) : 5000;
  const bool shifted = argc > 2 && std::string(argv[2]) == "shifted";
  const std::string wanted = argc > 3 ? argv[3] : "0ABCDEFGHIJ";
  const std::uint64_t seed = argc > 4 ? std::strtoull(argv[4], nullptr, 10) : 1;
  const double share = argc > 5 ? std::atof(argv[5]) : 1;
  const int draws = argc > 6 ? std::atoi(argv[6]) : 60;
  std::FILE* rows = argc > 8 ? std::fopen(argv[8], "a") : nullptr;
  const long from = argc > 9 ? std::atol(argv[9]) : 0;

  auto knowledge = service::load_knowledge();
  const auto fluid = service::load_fluid("R290");
  if (!knowledge || !fluid) return 1;
  const auto working = circuit::WorkingFluid::make(*fluid);
  if (!working) return 1;
  // Fourteen classes equally likely, as in the feasibility table; valves worn to the point of not pumping
  // included.
  const std::map<std::string, double> weights{
      {"worn_valves", 0.85}, {"not_pumping", 0.15}, {"pumping_lost_at_times", 0}, {"moisture_freeze", 0}};
  for (auto& c : knowledge->causes) c.weight = weights.contains(c.id) ? weights.at(c.id) : 1;
  knowledge->pair_weight = 0;
  World w{*knowledge, *working, {}, {}};
  for (const auto& a : knowledge->archetypes)
    if (a.id == "reach_in_cooler") w.kind = a;
  w.plate.archetype = w.kind.id;
  w.plate.charge = 0.130;
  w.plate.rated_current = 2.0;

  Scene scene{};
  scene.plate = &w.plate;
  scene.kind = &w.kind;
  scene.fluid = &w.fluid;
  scene.knowledge = &w.knowledge;
  scene.ambient_sigma = scene.box_sigma = 0.5;
  scene.site_pressure = 101325;
  scene.not_cooling = true;
  Scene truth = scene;
  scene.doubt = argc > 7 ? std::atof(argv[7]) : 1;
  double clamp_noise = 1;
  if (shifted) {
    truth.shift = {1.19, 0.84, 0.6, 0.75, 1.8};
    truth.pull_low = 0.05;
    truth.pull_high = 0.22;
    clamp_noise = 1.5;
  }

  // The same cabinet in every call, so once is enough.
  std::map<std::string, double> log_complaint;
  for (const auto& h : hypotheses(w.knowledge, w.kind.condenser))
    log_complaint[h.id] = usual_complaint(scene, h, 1500, RandomStream(77));
  const auto sets = reading_sets();
  std::map<char, Score> scores;
  const RandomStream random(seed);
  for (long i = from; i < from + calls; ++i) {
    const RandomStream own = random.fork(static_cast<std::uint64_t>(i));
    const Call call = draw_call(w, truth, clamp_noise, own.fork(1));
    scene.ambient = *call.the_case.ambient;
    scene.box = *call.the_case.box;
    std::vector<PriorDraws> prior;
    for (const auto& h : hypotheses(w.knowledge, w.kind.condenser)) {
      prior.push_back(draw_prior(scene, h, draws, own.fork(2)));
      prior.back().log_complaint = log_complaint.at(h.id);
    }
    for (const ReadingSet& set : sets) {
      if (set.asks || wanted.find(set.name) == std::string::npos) continue;
      Case c = call.the_case;
      std::erase_if(c.readings, [&](const Reading& r) {
        return std::find(set.readings.begin(), set.readings.end(), r.kind) == set.readings.end();
      });
      if (!set.eyes) c.observations.resize(1);
      const auto evidence = prepare(c, w.knowledge, share);
      if (!evidence) return std::puts(to_text(evidence.problem()).c_str()), 1;
      const Posterior p = infer(scene, *evidence, prior, draws, own.fork(3), {});
      std::map<std::string, double> by_class;
      for (const auto& item : p.items) by_class[merged(item.hypothesis.id)] += item.probability;
      Row row = row_of(by_class, merged(call.truth));
      row.world = shifted ? 's' : 'm';
      row.call = i;
      row.set = set.name;
      row.effective = p.smallest_effective_size;
      row.solves = p.solves;
      add(scores[set.name], row);
      if (rows) write(rows, row);
    }
  }
  std::printf("%s world, seed %llu, discrepancy share %.2f, doubt %.2f, %d draws\n",
              shifted ? "shifted" : "matched", static_cast<unsigned long long>(seed), share, scene.doubt,
              draws);
  print(scores);
  return 0;
}

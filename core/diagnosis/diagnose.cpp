#include "diagnosis/diagnose.hpp"

#include <algorithm>
#include <cmath>

#include "diagnosis/findings.hpp"

namespace coldwright::diagnosis {
namespace {

constexpr int kDrawsPerPair = 30;

// Pairs are looked at where one of their causes explains enough alone: the other may only show beside it.
std::vector<bool> plausible_causes(const Posterior& singles, std::size_t causes) {
  std::vector<bool> alive(causes, false);
  double top = -1e300;
  for (const auto& h : singles.items) top = std::max(top, h.log_evidence + h.hypothesis.log_prior);
  for (const auto& h : singles.items)
    if (h.log_evidence + h.hypothesis.log_prior > top - 6)
      alive[static_cast<std::size_t>(h.hypothesis.causes.front())] = true;
  return alive;
}

Quality quality_of(const Posterior& p, const Setting& setting) {
  Quality q{};
  q.effective_sample_size = p.effective_size;
  q.smallest_effective_size = p.smallest_effective_size;
  q.solves = p.solves;
  q.unsolved = p.unsolved;
  q.refined_rounds = p.remedies;
  q.trustworthy = p.smallest_effective_size >= 12 && p.unsolved * 20 < p.solves;
  q.remarks = setting.remarks;
  if (!q.trustworthy)
    q.remarks.push_back({"few_effective_draws", {{"count", Unit::count, p.smallest_effective_size}}, {}});
  return q;
}

const std::vector<std::string>& sources() {
  static const std::vector<std::string> keys{"churchill1977", "mcadams1942", "zivi1964",
                                             "mackay2003",    "veach1995",   "our-estimate"};
  return keys;
}

}  // namespace

Result<Answer> diagnose(const Case& c, const fluids::Fluid& fluid, const Knowledge& knowledge,
                        const Options& options) {
  const auto working = circuit::WorkingFluid::make(fluid);
  if (!working) return working.problem();
  const auto setting = set_scene(c, *working, knowledge);
  if (!setting) return setting.problem();
  const auto evidence = prepare(c, knowledge);
  if (!evidence) return evidence.problem();
  Scene scene = setting->scene;
  scene.kind = &setting->kind;
  const RandomStream random(options.seed);
  const Problem cancelled{"diagnosis", "cancelled", "let it run", "it was stopped from outside"};
  const auto tick = [&](double from, double to) {
    return [&options, from, to](double x) {
      return !options.progress || options.progress(from + (to - from) * x);
    };
  };

  const std::vector<Hypothesis> all =
      hypotheses(knowledge, c.nameplate.condenser.value_or(setting->kind.condenser));
  std::vector<PriorDraws> draws;
  std::vector<Particle> sound;
  for (const Hypothesis& h : all) {
    if (h.causes.size() > 1) break;  // singles come first
    draws.push_back(draw_prior(scene, h, options.population, random));
    if (scene.not_cooling)
      draws.back().log_complaint = usual_complaint(scene, h, 2 * options.population, random.fork(7));
    if (h.id == "sound") sound = draws.back().particles;
    if (!tick(0, 0.35)(static_cast<double>(draws.size()) / static_cast<double>(known_causes().size())))
      return cancelled;
  }
  Posterior posterior = infer(scene, *evidence, draws, options.population, random, tick(0.35, 0.7));
  if (posterior.items.empty()) return cancelled;

  const std::vector<bool> alive = plausible_causes(posterior, knowledge.causes.size());
  std::vector<PriorDraws> pairs;
  for (const Hypothesis& h : all)
    if (h.causes.size() == 2 &&
        (alive[static_cast<std::size_t>(h.causes[0])] || alive[static_cast<std::size_t>(h.causes[1])])) {
      pairs.push_back(draw_prior(scene, h, kDrawsPerPair, random));
      if (scene.not_cooling)
        pairs.back().log_complaint = usual_complaint(scene, h, 2 * kDrawsPerPair, random.fork(7));
    }
  add_pairs(posterior, scene, *evidence, pairs, options.population, random, tick(0.7, 1));

  const Inquiry q{c, scene, *evidence, posterior, sound};
  Answer answer;
  answer.causes = rank_causes(q);
  answer.contributions = contributions(q);
  answer.reasons = reasons(q, answer.contributions);
  answer.unseen = unseen_side(q);
  answer.next = next_steps(q);
  answer.turnings = turnings(q, answer.next);
  answer.suspects = suspects(q);
  answer.cautions = cautions(q, answer);
  answer.quality = quality_of(posterior, *setting);
  answer.sources = sources();
  return answer;
}

}  // namespace coldwright::diagnosis

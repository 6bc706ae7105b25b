#include "diagnosis/investigation.hpp"

#include <algorithm>
#include <cmath>
namespace coldwright::diagnosis {
namespace {

constexpr int kDrawsPerPair = 30;
constexpr double kPrintedFinely = 0.01;  // an error above it coarsens the percentages shown
constexpr double kPairsUnseen = 0.1;  // of a cause's probability, what pairs not looked at may take from it:
                                      // twice what they take in the demo calls on the mean, our estimate

std::vector<bool> plausible_causes(const Posterior& singles, std::size_t causes) {
  std::vector<bool> alive(causes, false);
  double top = -1e300;
  for (const auto& h : singles.items) top = std::max(top, h.hypothesis.by_physics(h.log_evidence));
  for (const auto& h : singles.items)
    if (h.hypothesis.by_physics(h.log_evidence) > top - 6)
      alive[static_cast<std::size_t>(h.hypothesis.causes.front())] = true;
  return alive;
}

// A pair is looked at where one of its causes explains enough alone, since the other may only show beside it,
// or not show at all.
bool worth_pairing(const std::vector<bool>& alive, const Hypothesis& h) {
  return std::any_of(h.causes.begin(), h.causes.end(),
                     [&](int cause) { return alive[static_cast<std::size_t>(cause)]; });
}

// Pairs not looked at yet would take something from every cause: its error says so.
void allow_for_pairs(std::vector<RankedCause>& causes) {
  for (RankedCause& c : causes) c.error = std::hypot(c.error, kPairsUnseen * c.probability);
}

// Where the learned correction moved the leading cause by more than this, the answer says what physics alone
// gives.
constexpr double kWorthSaying = 0.1;
std::optional<Statement> correction_said(const Posterior& all, const RankedCause& leader) {
  double top = -1e300, sum = 0, of = 0;
  const auto physics = [](const HypothesisPosterior& h) { return h.hypothesis.by_physics(h.log_evidence); };
  for (const HypothesisPosterior& h : all.items) top = std::max(top, physics(h));
  for (const HypothesisPosterior& h : all.items) {
    const double p = std::exp(physics(h) - top);
    sum += p;
    if (h.hypothesis.id == leader.cause) of = p;
  }
  if (std::abs(of / sum - leader.probability) < kWorthSaying) return std::nullopt;
  return Statement{
      "corrected",
      {{"physics", Unit::percent, 100 * of / sum}, {"now", Unit::percent, 100 * leader.probability}},
      {{"cause", leader.cause}}};
}

Quality quality_of(const Share& share, const Setting& setting, const std::vector<RankedCause>& causes) {
  const Posterior& p = share.posterior;
  Quality q{};
  q.effective_sample_size = p.effective_size;
  q.smallest_effective_size = p.smallest_effective_size;
  q.solves = p.solves;
  q.unsolved = p.unsolved;
  q.refined_rounds = p.remedies;
  q.trustworthy = p.smallest_effective_size >= 12 && p.unsolved * 20 < p.solves;
  q.remarks = setting.remarks;
  if (share.population_paired == 0) {
    q.trustworthy = false;
    q.remarks.push_back({"pairs_to_come", {}, {}});
  } else if (!q.trustworthy) {
    q.remarks.push_back({"few_effective_draws", {{"count", Unit::count, p.smallest_effective_size}}, {}});
  }
  if (auto said = correction_said(p, causes.front())) q.remarks.push_back(std::move(*said));
  double most = 0;
  for (const RankedCause& c : causes) most = std::max(most, c.error);
  if (most > kPrintedFinely)
    q.remarks.push_back(
        {"rounded_percentages",
         {{"error", Unit::percent, 100 * most}, {"count", Unit::count, p.smallest_effective_size}},
         {}});
  return q;
}

Problem cancelled() { return {"diagnosis", "cancelled", "let it run", "it was stopped from outside"}; }

const std::vector<std::string>& sources() {
  static const std::vector<std::string> keys{"churchill1977", "mcadams1942", "zivi1964",    "mackay2003",
                                             "veach1995",     "hastie2009",  "our-estimate"};
  return keys;
}

}  // namespace

Result<std::unique_ptr<Investigation>> Investigation::open(const Case& c,
                                                           std::shared_ptr<const circuit::WorkingFluid> fluid,
                                                           const Knowledge& knowledge,
                                                           std::shared_ptr<const UnitPrior> prior) {
  auto setting = set_scene(c, *fluid, knowledge);
  if (!setting) return setting.problem();
  auto evidence = prepare(c, knowledge);
  if (!evidence) return evidence.problem();
  std::unique_ptr<Investigation> made(
      new Investigation(c, knowledge, std::move(fluid), std::move(*evidence)));
  made->setting_ = std::move(*setting);
  made->scene_ = made->setting_.scene;
  made->scene_.kind = &made->setting_.kind;
  made->prior_ = std::move(prior);
  made->scene_.prior = made->prior_.get();
  made->hypotheses_ =
      diagnosis::hypotheses(knowledge, c.nameplate.condenser.value_or(made->setting_.kind.condenser));
  correct(made->hypotheses_, made->scene_, made->case_, made->evidence_);
  return made;
}

Result<Machines> Investigation::draw_machines(const Drawing& drawing,
                                              const std::function<bool(double)>& progress) const {
  Machines drawn{drawing.population, drawing.random, {}, {}};
  for (const Hypothesis& h : hypotheses_) {
    if (h.causes.size() > 1) break;  // singles come first
    drawn.singles.push_back(draw_prior(scene_, h, drawn.population, drawn.random));
    PriorDraws& last = drawn.singles.back();
    if (std::any_of(last.particles.begin(), last.particles.end(),
                    [](const Particle& p) { return p.sim.by_degree; }))
      last.log_complaint = usual_complaint(scene_, h, drawn.population, drawn.random.fork(7));
    if (progress &&
        !progress(static_cast<double>(drawn.singles.size()) / static_cast<double>(known_causes().size())))
      return cancelled();
  }
  return drawn;
}

void Investigation::draw_pair(Machines& machines, std::size_t place) const {
  const Hypothesis& h = hypotheses_[place];
  PriorDraws pair = draw_prior(scene_, h, kDrawsPerPair, machines.random);
  // Either cause alone may lead to the complaint; taken as independent, which spares hundreds of solves a
  // pair.
  const auto spared = [&](int cause) {
    for (const PriorDraws& single : machines.singles)
      if (single.hypothesis.causes.front() == cause) return 1 - std::exp(single.log_complaint);
    return 0.0;
  };
  pair.log_complaint = std::log(std::max(1 - spared(h.causes[0]) * spared(h.causes[1]), 1e-6));
  machines.pairs.emplace(place, std::move(pair));
}

Result<Share> Investigation::weigh(Machines& machines, bool pairs,
                                   const std::function<bool(double)>& progress) const {
  const auto tick = [&](double from, double to) {
    return [&progress, from, to](double x) { return !progress || progress(from + (to - from) * x); };
  };
  const int population = machines.population;
  // Machines may have been drawn for other evidence, which the learned correction hangs on.
  for (std::size_t place = 0; place < machines.singles.size(); ++place)
    machines.singles[place].hypothesis = hypotheses_[place];
  for (auto& [place, pair] : machines.pairs) pair.hypothesis = hypotheses_[place];
  Share share;
  share.population = population;
  for (const PriorDraws& draws : machines.singles)
    if (draws.hypothesis.id == "sound") share.sound = draws.particles;
  Posterior& posterior = share.posterior;
  posterior = infer(scene_, evidence_, machines.singles, population, machines.random, tick(0, 0.54));
  if (posterior.items.empty()) return cancelled();
  const auto counted = [&] {
    for (HypothesisPosterior& p : posterior.items) p.counts_for = population;
    return std::move(share);
  };
  if (!pairs) return counted();

  share.population_paired = population;
  const std::vector<bool> alive = plausible_causes(posterior, knowledge_.causes.size());
  std::vector<PriorDraws> looked_at;
  for (std::size_t place = 0; place < hypotheses_.size(); ++place) {
    if (hypotheses_[place].causes.size() != 2 || !worth_pairing(alive, hypotheses_[place])) continue;
    if (!machines.pairs.contains(place)) draw_pair(machines, place);
    looked_at.push_back(machines.pairs.at(place));
  }
  // Pairs are many and each weighs little: half a round at first, and more rounds where that is too few.
  add_pairs(posterior, scene_, evidence_, looked_at, std::max(population / 2, kDrawsPerPair), machines.random,
            tick(0.54, 1));
  if (posterior.items.empty()) return cancelled();
  return counted();
}

Result<Share> Investigation::draw(const Drawing& drawing, const std::function<bool(double)>& progress) const {
  const auto part = [&](double from, double to) {
    return [&progress, from, to](double x) { return !progress || progress(from + (to - from) * x); };
  };
  auto machines = draw_machines(drawing, part(0, 0.35));
  if (!machines) return machines.problem();
  return weigh(*machines, drawing.pairs, part(0.35, 1));
}

std::size_t Investigation::place_of(const Hypothesis& h) const {
  const auto same = [&](const Hypothesis& other) { return other.causes == h.causes; };
  return static_cast<std::size_t>(std::find_if(hypotheses_.begin(), hypotheses_.end(), same) -
                                  hypotheses_.begin());
}

Answer Investigation::answer(const Share& share) const {
  const Inquiry q{case_, scene_, evidence_, share.posterior, share.sound};
  Answer answer;
  answer.causes = rank_causes(q);
  if (share.population_paired == 0) allow_for_pairs(answer.causes);
  answer.contributions = contributions(q);
  answer.suspects = suspects(q);
  answer.reasons = reasons(q, answer.contributions, answer.suspects);
  answer.unseen = unseen_side(q);
  answer.telling = next_steps(q);
  answer.next = worth_taking(answer.telling);
  answer.turnings = turnings(q, answer.telling);
  answer.cautions = cautions(q, answer);
  answer.quality = quality_of(share, setting_, answer.causes);
  answer.sources = sources();
  return answer;
}

}  // namespace coldwright::diagnosis

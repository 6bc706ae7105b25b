#include "judge/opinion.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>

#include "service/correction_loader.hpp"
#include "service/knowledge_loader.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::judge {

using namespace diagnosis;

void Opinion::begin(std::uint64_t salt) {
  salt_ = salt;
  machines_.reset();
}

Result<std::shared_ptr<const circuit::WorkingFluid>> Opinion::fluid(const std::string& refrigerant) {
  const auto known = fluids_.find(refrigerant);
  if (known != fluids_.end()) return known->second;
  const auto loaded = service::load_fluid(refrigerant);
  if (!loaded) return loaded.problem();
  auto working = circuit::WorkingFluid::make(*loaded);
  if (!working) return working.problem();
  return fluids_[refrigerant] = std::make_shared<const circuit::WorkingFluid>(std::move(*working));
}

Result<Said> Opinion::ask(const Case& the_case, bool with_advice) {
  const auto working = fluid(the_case.nameplate.refrigerant.value_or("R290"));
  if (!working) return working.problem();
  const auto investigation = Investigation::open(the_case, *working, knowledge_);
  if (!investigation) return investigation.problem();
  if (!machines_) {
    auto drawn =
        (*investigation)
            ->draw_machines({asking_.draws, asking_.pairs, RandomStream(asking_.seed).fork(salt_)}, {});
    if (!drawn) return drawn.problem();
    machines_ = std::make_unique<Machines>(std::move(*drawn));
  }
  const auto share = (*investigation)->weigh(*machines_, asking_.pairs, {});
  if (!share) return share.problem();
  Said said;
  for (const HypothesisPosterior& p : share->posterior.items)
    said.causes.emplace_back(p.hypothesis.id, p.probability);
  std::stable_sort(said.causes.begin(), said.causes.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  said.effective = share->posterior.smallest_effective_size;
  said.solves = share->posterior.solves;
  if (with_advice)
    said.next = worth_taking(next_steps(
        {the_case, (*investigation)->scene(), (*investigation)->evidence(), share->posterior, share->sound}));
  return said;
}

Result<std::vector<Predictive>> Opinion::expected_under(const Case& the_case, const std::string& cause) {
  const auto working = fluid(the_case.nameplate.refrigerant.value_or("R290"));
  if (!working) return working.problem();
  const auto investigation = Investigation::open(the_case, *working, knowledge_);
  if (!investigation) return investigation.problem();
  const Evidence& evidence = (*investigation)->evidence();
  const RandomStream random = RandomStream(asking_.seed).fork(salt_);
  std::vector<Predictive> expected;
  for (const Hypothesis& h : (*investigation)->hypotheses()) {
    if (h.id != cause) continue;
    const Posterior p =
        infer((*investigation)->scene(), evidence,
              {draw_prior((*investigation)->scene(), h, asking_.draws, random)}, asking_.draws, random, {});
    if (p.items.empty() || !p.items.front().linear.ok) break;
    for (std::size_t k = 0; k < evidence.readings.size(); ++k) {
      const LeaveOneOut one = leave_one_out(p.items.front().linear, evidence, k);
      expected.push_back({one.mean, one.sigma});
    }
  }
  return expected;
}

Result<std::optional<Correction>> correction_in(const std::string& file, const Knowledge& knowledge) {
  if (file == "none") return std::optional<Correction>();
  if (file.empty()) return knowledge.correction;
  std::ifstream in(file);
  if (!in) return Problem{"correction", file, "a file that can be read, or none", "there is none"};
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  auto correction = service::parse_correction(text, knowledge);
  if (!correction) return correction.problem();
  return std::optional(std::move(*correction));
}

Result<Knowledge> knowledge_for(Weights weights, double pair_share) {
  auto knowledge = service::load_knowledge();
  if (!knowledge) return knowledge.problem();
  if (weights == Weights::equal)
    for (CauseInfo& c : knowledge->causes) c.weight = 1;
  if (pair_share < 0) return knowledge;
  // Pairs weigh in proportion to pair_weight: what one of it gives is measured.
  knowledge->pair_weight = 1;
  double singles = 0, pairs = 0;
  for (const Hypothesis& h : hypotheses(*knowledge, circuit::CondenserKind::finned_fan))
    (h.causes.size() == 1 ? singles : pairs) += std::exp(h.log_prior);
  knowledge->pair_weight = pair_share / (1 - pair_share) * singles / pairs;
  return knowledge;
}

}  // namespace coldwright::judge

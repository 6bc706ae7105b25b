// What each piece of evidence did, and which reading no plausible machine produces together with the rest.
// Both ask the same question: how likely was this reading, under each hypothesis, given all the others?
#include <algorithm>
#include <cmath>

#include "diagnosis/findings.hpp"

namespace coldwright::diagnosis {
namespace {

double log_sum(double a, double b) { return std::max(a, b) + std::log1p(std::exp(-std::abs(a - b))); }

double log_normal(double x, double mean, double sigma) {
  return normal_log_density((x - mean) / sigma) - std::log(sigma);
}

// ln p(reading k | the other readings, hypothesis), mistakes included. Falls back to no information.
double log_predictive(const Inquiry& q, const HypothesisPosterior& h, std::size_t k,
                      LeaveOneOut* out = nullptr) {
  if (!h.linear.ok) return 0;
  const LeaveOneOut loo = leave_one_out(h.linear, q.evidence, k);
  if (out) *out = loo;
  const double y = scale(q.evidence.readings[k].kind, q.evidence.readings[k].value);
  const double wide = std::hypot(loo.sigma, q.evidence.uncertainties[k].blunder);
  return log_sum(std::log(1 - kBlunderShare) + log_normal(y, loo.mean, loo.sigma),
                 std::log(kBlunderShare) + log_normal(y, loo.mean, wide));
}

// Probability of an observation under one hypothesis with that observation left out: harmonic mean over
// draws.
double log_observed(const Inquiry& q, const HypothesisPosterior& h, const Seen& seen) {
  double sum = 0, total = 0;
  for (const Particle& p : h.particles) {
    if (!(p.weight > 0)) continue;
    sum += p.weight / std::max(seen_probability(seen, h.hypothesis, *q.scene.knowledge, p.sim), 1e-9);
    total += p.weight;
  }
  return total > 0 ? -std::log(sum / total) : 0;
}

std::vector<double> without(const Posterior& p, const std::vector<double>& log_term) {
  std::vector<double> out;
  double top = -1e300, sum = 0;
  for (std::size_t i = 0; i < p.items.size(); ++i) {
    out.push_back(p.items[i].ruled_out
                      ? -1e300
                      : p.items[i].hypothesis.standing(p.items[i].log_evidence) - log_term[i]);
    top = std::max(top, out.back());
  }
  for (double& x : out) sum += x = std::exp(x - top);
  for (double& x : out) x /= sum;
  return out;
}

// What reading k does to the standing of every hypothesis: by its likelihood given the others, as far as that
// is trusted, and by the correction.
std::vector<double> terms(const Inquiry& q, std::size_t k, std::vector<LeaveOneOut>* loo = nullptr) {
  const std::vector<double> with = learned(q.scene, q.the_case, q.evidence),
                            without_it = learned_without(q.scene, q.the_case, q.evidence, k);
  std::vector<double> all;
  for (std::size_t i = 0; i < q.posterior.items.size(); ++i) {
    const HypothesisPosterior& h = q.posterior.items[i];
    all.push_back(h.hypothesis.trust * log_predictive(q, h, k, loo ? &(*loo)[i] : nullptr) +
                  learned_of(h.hypothesis, with) - learned_of(h.hypothesis, without_it));
  }
  return all;
}

// The same of something seen.
std::vector<double> terms(const Inquiry& q, const Seen& seen) {
  Evidence less = q.evidence;
  std::erase_if(less.seen, [&](const Seen& s) { return s.model == seen.model; });
  const std::vector<double> with = learned(q.scene, q.the_case, q.evidence),
                            without_it = learned(q.scene, q.the_case, less);
  std::vector<double> all;
  for (const HypothesisPosterior& h : q.posterior.items)
    all.push_back(h.hypothesis.trust * log_observed(q, h, seen) + learned_of(h.hypothesis, with) -
                  learned_of(h.hypothesis, without_it));
  return all;
}

Contribution measure(const Inquiry& q, const std::vector<double>& log_term, int cause) {
  const std::vector<double> before = without(q.posterior, log_term);
  Contribution c;
  double bits = 0, with_it = 0, without_it = 0;
  for (std::size_t i = 0; i < before.size(); ++i) {
    const double p = q.posterior.items[i].probability;
    if (p > 1e-12) bits += p * std::log2(p / std::max(before[i], 1e-12));
    if (!contains(q.posterior.items[i].hypothesis, cause)) continue;
    with_it += p;
    without_it += before[i];
  }
  const auto odds = [](double p) {
    return std::log(std::clamp(p, 1e-6, 1 - 1e-6) / (1 - std::clamp(p, 1e-6, 1 - 1e-6)));
  };
  c.log_odds = odds(with_it) - odds(without_it);
  c.information_bits = std::max(bits, 0.0);
  return c;
}

}  // namespace

// A cause and the same cause beside another are no rivals: what speaks for the one speaks for the other, so
// what leads is counted by cause. A leading pair is stood for by the likelier of its two.
int leading_cause(const Posterior& p) {
  const HypothesisPosterior* leader = nullptr;
  for (const auto& h : p.items)
    if (!leader || h.probability > leader->probability) leader = &h;
  int best = -1;
  double most = -1;
  for (int cause : leader->hypothesis.causes) {
    double sum = 0;
    for (const auto& h : p.items)
      if (contains(h.hypothesis, cause)) sum += h.probability;
    if (sum > most) best = cause;
    most = std::max(most, sum);
  }
  return best;
}

std::vector<Contribution> contributions(const Inquiry& q) {
  std::vector<Contribution> all;
  const int cause = leading_cause(q.posterior);
  for (std::size_t k = 0; k < q.evidence.readings.size(); ++k) {
    Contribution c = measure(q, terms(q, k), cause);
    c.id = q.evidence.readings[k].id;
    c.subject = circuit::info(q.evidence.readings[k].kind).id;
    c.expected_if_sound = sound_reading(q, q.evidence.readings[k].kind);
    all.push_back(std::move(c));
  }
  for (std::size_t k = 0; k < q.evidence.seen.size(); ++k) {
    Contribution c = measure(q, terms(q, q.evidence.seen[k]), cause);
    c.id = q.the_case.observations[k].id;
    c.subject = q.evidence.seen[k].model->subject;
    all.push_back(std::move(c));
  }
  return all;
}

std::vector<Suspect> suspects(const Inquiry& q) {
  std::vector<Suspect> found;
  if (q.evidence.readings.size() < 2) return found;
  for (std::size_t k = 0; k < q.evidence.readings.size(); ++k) {
    std::vector<LeaveOneOut> loo(q.posterior.items.size());
    const std::vector<double> before = without(q.posterior, terms(q, k, &loo));
    const double y = scale(q.evidence.readings[k].kind, q.evidence.readings[k].value);
    double right = 0, wrong = 0;
    std::vector<Weighted> spread;
    for (std::size_t i = 0; i < loo.size(); ++i) {
      if (before[i] < 1e-4 || !q.posterior.items[i].linear.ok) continue;
      const double wide = std::hypot(loo[i].sigma, q.evidence.uncertainties[k].blunder);
      right += before[i] * std::exp(log_normal(y, loo[i].mean, loo[i].sigma));
      wrong += before[i] * std::exp(log_normal(y, loo[i].mean, wide));
      for (double z : {-1.64, -1.0, -0.5, 0.0, 0.5, 1.0, 1.64})
        spread.push_back({loo[i].mean + z * loo[i].sigma, before[i]});
    }
    const double mistaken =
        kBlunderShare * wrong / (kBlunderShare * wrong + (1 - kBlunderShare) * right + 1e-300);
    if (mistaken < 0.5) continue;
    Interval plausible = interval_of(std::move(spread));
    if (circuit::info(q.evidence.readings[k].kind).quantity == circuit::QuantityKind::resistance)
      plausible = {std::exp(plausible.low), std::exp(plausible.mid), std::exp(plausible.high)};
    found.push_back({q.evidence.readings[k].id, q.evidence.readings[k].kind, q.evidence.readings[k].value,
                     plausible, mistaken});
  }
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) {
    return a.probability_mistaken > b.probability_mistaken;
  });
  return found;
}

}  // namespace coldwright::diagnosis

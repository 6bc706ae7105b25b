// The reading most worth taking next, and what it would take to change the verdict.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "diagnosis/findings.hpp"

namespace coldwright::diagnosis {
namespace {

using circuit::ReadingKind;

constexpr double kOpeningMinutes =
    45;  // what opening a sealed flammable circuit costs beside the reading itself: later
         // sealing, leak test and a charge to correct (our estimate)
constexpr double kGramMinutes = 2;            // a gram lost from a critical charge, same scale
constexpr double kWrongVerdictMinutes = 480;  // a day, same scale (our estimate)

// What a step has to pay by itself, minutes saved per minute of its cost. The circuit is opened only where
// that is expected to save what it costs. A reading often prepares for the next one, so a fifth is enough, or
// bits that come cheap. What has neither is mostly chance between draws. Both were chosen on 81 visits: 21.4
// minutes instead of 24.6 with as many verdicts right (docs/decisions/0020).
constexpr double kOpeningPays = 1, kReadingPays = 0.2;
constexpr double kCheapBits = 0.03;  // per minute of its cost
constexpr double kLeastBits = 0.01;  // less is chance between draws (our estimate)

bool already(const Inquiry& q, ReadingKind kind) {
  return std::any_of(q.evidence.readings.begin(), q.evidence.readings.end(),
                     [&](const Reading& r) { return r.kind == kind; });
}

bool already(const Inquiry& q, const ObservationModel& m) {
  return std::any_of(q.evidence.seen.begin(), q.evidence.seen.end(),
                     [&](const Seen& s) { return s.model == &m; });
}

// What one more reading is expected to do: bits about the cause, and by how much the likeliest cause's
// probability rises in the mean, which is how much less often its verdict is wrong.
struct Gain {
  double bits = 0, righter = 0;
};

// Mutual information between the hypothesis and a normal reading: each hypothesis' predictive is stood for by
// its own quantiles.
Gain information(const std::vector<double>& p, const std::vector<Predictive>& y) {
  constexpr int kPoints = 31;
  static const std::array<double, kPoints> z = [] {
    std::array<double, kPoints> q{};
    for (int i = 0; i < kPoints; ++i) q[static_cast<std::size_t>(i)] = normal_quantile((i + 0.5) / kPoints);
    return q;
  }();
  Gain gain;
  for (std::size_t h = 0; h < p.size(); ++h) {
    for (double zi : z) {
      const double at = y[h].mean + y[h].sigma * zi;
      double mixture = 0, most = 0;
      for (std::size_t g = 0; g < p.size(); ++g) {
        const double part = p[g] * std::exp(normal_log_density((at - y[g].mean) / y[g].sigma)) / y[g].sigma;
        mixture += part;
        most = std::max(most, part);
      }
      const double own = std::exp(normal_log_density(zi)) / y[h].sigma;
      gain.bits += p[h] / kPoints * std::log2(own / mixture);
      gain.righter += p[h] / kPoints * most / mixture;
    }
  }
  return {std::max(gain.bits, 0.0), std::max(gain.righter - *std::max_element(p.begin(), p.end()), 0.0)};
}

Gain information(const std::vector<double>& p, const std::vector<std::vector<double>>& outcome) {
  double bits = 0, right = 0;
  for (std::size_t v = 0; v < outcome.front().size(); ++v) {
    double total = 0, most = 0;
    for (std::size_t h = 0; h < p.size(); ++h) {
      total += p[h] * outcome[h][v];
      most = std::max(most, p[h] * outcome[h][v]);
    }
    right += most;
    for (std::size_t h = 0; h < p.size(); ++h)
      if (outcome[h][v] > 0) bits += p[h] * outcome[h][v] * std::log2(outcome[h][v] / total);
  }
  return {std::max(bits, 0.0), std::max(right - *std::max_element(p.begin(), p.end()), 0.0)};
}

std::vector<const HypothesisPosterior*> worth_telling_apart(const Inquiry& q, std::vector<double>& p) {
  std::vector<const HypothesisPosterior*> kept;
  double sum = 0;
  for (const HypothesisPosterior& h : q.posterior.items) {
    if (h.probability < 0.002) continue;
    kept.push_back(&h);
    p.push_back(h.probability);
    sum += h.probability;
  }
  for (double& x : p) x /= sum;
  return kept;
}

// A normal density to the power of trust is as wide as this, up to a factor common to all. No trust at all
// would make it endless.
Predictive as_trusted(Predictive y, double trust) {
  y.sigma /= std::sqrt(std::max(trust, 0.05));
  return y;
}

std::vector<double> outcomes(const Inquiry& q, const HypothesisPosterior& h, const ObservationModel& m) {
  std::vector<double> out(m.values.size(), 0);
  double total = 0;
  for (const Particle& particle : h.particles) {
    if (!(particle.weight > 0)) continue;
    total += particle.weight;
    for (std::size_t v = 0; v < out.size(); ++v)
      out[v] +=
          particle.weight * observation_probability(m, v, h.hypothesis, *q.scene.knowledge, particle.sim);
  }
  for (double& x : out) x /= std::max(total, 1e-300);
  return out;
}

double cost(double minutes, double grams, bool opens) {
  return minutes + kGramMinutes * grams + (opens ? kOpeningMinutes : 0);
}

// What a hypothesis expects of a reading, plain mistakes included. Far out only a mistake is left, and a
// mistake tells nothing: without that term a value that no machine can show would decide.
struct Believed {
  double trust;
  Predictive right;
  double blunder;
  double log_density(double y) const {
    const double d = y - right.mean, wide = std::hypot(right.sigma, blunder);
    const double a =
        std::log(1 - kBlunderShare) + normal_log_density(d / right.sigma) - std::log(right.sigma);
    const double b = std::log(kBlunderShare) + normal_log_density(d / wide) - std::log(wide);
    return std::max(a, b) + std::log1p(std::exp(-std::abs(a - b)));
  }
};

// The first hypothesis against the second, as a reading would decide between them.
struct Contest {
  Believed a, b;
  double without;                         // ln odds that this reading has no part in
  std::function<double(double)> learned;  // nats for the first over the second, by the reading
  double told(double y) const { return a.trust * a.log_density(y) - b.trust * b.log_density(y) + learned(y); }
  double lead(double y) const { return without + told(y); }
};

// The value nearest to `from` where the two are equally likely, looked for within six spreads. Empty when one
// leads throughout.
std::optional<double> crossing(const Contest& c, double from) {
  const Believed &a = c.a, &b = c.b;
  const double reach = 6 * std::max(a.right.sigma, b.right.sigma);
  const double step = 0.1 * std::min(a.right.sigma, b.right.sigma);
  const double at_home = c.lead(from);
  for (double away = step; away < reach; away += step) {
    for (double side : {-1.0, 1.0}) {
      double out = from + side * away, in = out - side * step;
      if ((c.lead(out) < 0) == (at_home < 0)) continue;
      for (int i = 0; i < 40; ++i) {
        const double half = 0.5 * (in + out);
        ((c.lead(half) < 0) == (at_home < 0) ? in : out) = half;
      }
      return out;
    }
  }
  return std::nullopt;
}

double unscale(ReadingKind kind, double value) {
  return circuit::info(kind).quantity == circuit::QuantityKind::resistance ? std::exp(value) : value;
}

}  // namespace

std::vector<NextStep> next_steps(const Inquiry& q) {
  std::vector<double> p;
  const auto kept = worth_telling_apart(q, p);
  std::vector<NextStep> steps;
  for (const auto& row : circuit::reading_table()) {
    if (already(q, row.kind)) continue;
    std::vector<Predictive> y;
    for (const auto* h : kept) y.push_back(as_trusted(predictive(q, *h, row.kind), h->hypothesis.trust));
    const Gain gain = information(p, y);
    const double costs = cost(row.minutes, row.grams_lost, row.opens_circuit);
    steps.push_back({std::string(row.id), false, gain.bits, row.minutes, row.grams_lost, row.opens_circuit,
                     std::string(row.hazard), gain.bits / costs,
                     gain.righter * kWrongVerdictMinutes / costs});
  }
  for (const ObservationModel& m : q.scene.knowledge->observations) {
    if (m.subject == "complaint" || already(q, m) || !can_be_seen(m.subject, q.the_case, *q.scene.knowledge))
      continue;
    std::vector<std::vector<double>> y;
    for (const auto* h : kept) y.push_back(outcomes(q, *h, m));
    const Gain gain = information(p, y);
    const double costs = cost(m.minutes, 0, false);
    steps.push_back({m.subject, true, gain.bits, m.minutes, 0, false, m.hazard, gain.bits / costs,
                     gain.righter * kWrongVerdictMinutes / costs});
  }
  std::erase_if(steps, [](const NextStep& s) {
    return s.information_bits < kLeastBits || (s.opens_circuit && s.pays < kOpeningPays);
  });
  std::stable_sort(steps.begin(), steps.end(),
                   [](const NextStep& a, const NextStep& b) { return a.worth > b.worth; });
  return steps;
}

std::vector<NextStep> worth_taking(std::vector<NextStep> steps) {
  std::erase_if(steps, [](const NextStep& s) { return s.pays < kReadingPays && s.worth < kCheapBits; });
  return steps;
}

std::vector<Turning> turnings(const Inquiry& q, const std::vector<NextStep>& next) {
  std::vector<const HypothesisPosterior*> order;
  for (const auto& h : q.posterior.items) order.push_back(&h);
  std::stable_sort(order.begin(), order.end(),
                   [](const auto* a, const auto* b) { return a->probability > b->probability; });
  std::vector<Turning> found;
  if (order.size() < 2 || order[1]->probability < 1e-6) return found;
  const HypothesisPosterior &first = *order[0], &second = *order[1];

  const double p_first = first.probability / (first.probability + second.probability);
  const auto add = [&](ReadingKind kind, std::optional<double> given, const Contest& contest) {
    const Believed &a = contest.a, &b = contest.b;
    const double from = given ? scale(kind, *given) : a.right.mean;
    const auto at = crossing(contest, from);
    if (!at || !(unscale(kind, *at) > 0)) return;  // no gauge shows less than nothing
    const bool above = contest.lead(*at + 0.05 * std::max(a.right.sigma, b.right.sigma)) < 0;
    const auto beyond = [&](const Predictive& y) {
      return normal_cdf((above ? y.mean - *at : *at - y.mean) / y.sigma);
    };
    const double chance = p_first * beyond(a.right) + (1 - p_first) * beyond(b.right);
    if (!given && chance < 0.02) return;
    found.push_back({kind, given.has_value(), given, unscale(kind, *at), above, first.hypothesis.id,
                     second.hypothesis.id, chance});
  };
  const double odds = std::log(first.probability / second.probability);
  const auto corrected = [&](const Reading& reading) {
    return [&q, &first, &second, would_be = reading](double y) mutable {
      would_be.value = unscale(would_be.kind, y);
      const std::vector<double> nats = learned_with(q.scene, q.the_case, q.evidence, would_be);
      return learned_of(first.hypothesis, nats) - learned_of(second.hypothesis, nats);
    };
  };

  for (std::size_t k = 0; k < q.evidence.readings.size(); ++k) {
    if (!first.linear.ok || !second.linear.ok) break;
    const Reading& reading = q.evidence.readings[k];
    const LeaveOneOut a = leave_one_out(first.linear, q.evidence, k),
                      b = leave_one_out(second.linear, q.evidence, k);
    const double blunder = q.evidence.uncertainties[k].blunder;
    Contest contest{{first.hypothesis.trust, {a.mean, a.sigma}, blunder},
                    {second.hypothesis.trust, {b.mean, b.sigma}, blunder},
                    odds,
                    corrected(reading)};
    contest.without -= contest.told(scale(reading.kind, reading.value));
    add(reading.kind, reading.value, contest);
  }
  int offered = 0;
  for (const NextStep& step : next) {
    if (step.is_observation || offered == 4) continue;
    const auto kind = circuit::reading_from_id(step.subject);
    const auto believed = [&](const HypothesisPosterior& h) {
      const Predictive y = predictive(q, h, *kind);
      const Reading would_be{*kind, unscale(*kind, y.mean), std::nullopt, std::nullopt, ""};
      return Believed{h.hypothesis.trust, y, uncertainty(would_be, q.the_case.site_pressure).blunder};
    };
    const std::vector<double> as_it_is = learned(q.scene, q.the_case, q.evidence);
    add(*kind, std::nullopt,
        {believed(first), believed(second),
         odds - learned_of(first.hypothesis, as_it_is) + learned_of(second.hypothesis, as_it_is),
         corrected({*kind, 0, std::nullopt, std::nullopt, ""})});
    ++offered;
  }
  return found;
}

}  // namespace coldwright::diagnosis

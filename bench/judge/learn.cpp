#include "judge/learn.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <nlopt.h>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "diagnosis/correction.hpp"
#include "diagnosis/evidence.hpp"
#include "diagnosis/traits.hpp"

namespace coldwright::judge {

using namespace diagnosis;

namespace {

constexpr int kSteps = 1000;  // 231 were the most that 8,361 answers took
constexpr double kSmallestSpread = 1e-6;

// Trust, constant of two; then the weights cause by cause.
constexpr std::size_t kShared = 2;

struct Fit {
  const std::vector<Lesson>& lessons;
  std::size_t causes, columns;
  Penalties penalties;
  std::vector<double> from;  // where the penalties are least
  bool onward;
};

double dot(const double* a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t k = 0; k < b.size(); ++k) sum += a[k] * b[k];
  return sum;
}

// What each candidate stands at, in nats up to a constant.
std::vector<double> scores(const Lesson& lesson, const double* x, std::size_t causes) {
  std::vector<double> nats(causes), score;
  for (std::size_t c = 0; c < causes; ++c)
    nats[c] = dot(x + kShared + c * lesson.columns.size(), lesson.columns);
  for (const Lesson::Candidate& h : lesson.candidates) {
    double s = x[0] * h.log_evidence + h.log_prior + nats[static_cast<std::size_t>(h.first)];
    if (h.second >= 0) s += x[1] + nats[static_cast<std::size_t>(h.second)];
    score.push_back(s);
  }
  return score;
}

// Minus ln of the penalised likelihood, and its slopes.
double loss(unsigned n, const double* x, double* slope, void* data) {
  const Fit& all = *static_cast<Fit*>(data);
  std::vector<double> g(n, 0);
  double sum = 0;
  std::vector<double> per_cause(all.causes);
  for (const Lesson& lesson : all.lessons) {
    const std::vector<double> score = scores(lesson, x, all.causes);
    const double top = *std::max_element(score.begin(), score.end());
    double total = 0;
    for (double s : score) total += std::exp(s - top);
    sum += top + std::log(total) - score[lesson.truth];
    std::fill(per_cause.begin(), per_cause.end(), 0);
    for (std::size_t i = 0; i < score.size(); ++i) {
      const Lesson::Candidate& h = lesson.candidates[i];
      const double d = std::exp(score[i] - top) / total - (i == lesson.truth ? 1 : 0);
      const bool two = h.second >= 0;
      g[0] += d * h.log_evidence;
      per_cause[static_cast<std::size_t>(h.first)] += d;
      if (!two) continue;
      g[1] += d;
      per_cause[static_cast<std::size_t>(h.second)] += d;
    }
    for (std::size_t c = 0; c < all.causes; ++c)
      for (std::size_t k = 0; k < all.columns; ++k)
        g[kShared + c * all.columns + k] += per_cause[c] * lesson.columns[k];
  }
  const auto hold = [&](std::size_t i, double how) {
    const double away = x[i] - all.from[i];
    sum += 0.5 * how * away * away;
    g[i] += how * away;
  };
  hold(0, all.penalties.trust);
  if (all.onward) hold(1, all.penalties.always);
  for (std::size_t c = 0; c < all.causes; ++c)
    for (std::size_t k = 0; k < all.columns; ++k)
      hold(kShared + c * all.columns + k, k == 0 ? all.penalties.always : all.penalties.weight);
  if (slope) std::copy(g.begin(), g.end(), slope);
  return sum;
}

// Middle and spread of every trait that was read at all, and every look that was met.
Correction frame(const std::vector<Lesson>& lessons, const std::vector<std::vector<double>>& values) {
  Correction c;
  for (std::size_t t = 0; t < trait_ids().size(); ++t) {
    double n = 0, sum = 0, squares = 0;
    for (const auto& row : values) {
      if (!std::isfinite(row[t])) continue;
      n += 1;
      sum += row[t];
      squares += row[t] * row[t];
    }
    if (!(n > 0)) continue;
    const double middle = sum / n, spread = std::sqrt(std::max(squares / n - middle * middle, 0.0));
    if (spread > kSmallestSpread) c.scales.push_back({trait_ids()[t], middle, spread});
  }
  std::set<std::pair<std::string, std::string>> looks;
  for (const Lesson& lesson : lessons)
    for (const Observation& o : lesson.told.observations)
      if (o.subject != "complaint") looks.emplace(o.subject, o.value);
  for (const auto& [subject, value] : looks) c.looks.push_back({subject, value});
  return c;
}

std::string listed(const std::vector<double>& numbers) {
  std::string all;
  for (double x : numbers)
    all += fmt::format("{}{:.4g}", all.empty() ? "" : ", ", std::abs(x) < 5e-4 ? 0 : x);
  return "[" + all + "]";
}

// What a correction's columns are reckoned from, lesson by lesson.
struct Material {
  std::vector<std::vector<double>> traits;
  std::vector<Evidence> told;
};

Result<Material> material_of(const std::vector<Lesson>& lessons, Opinion& opinion,
                             const Knowledge& knowledge) {
  Material all;
  for (const Lesson& lesson : lessons) {
    const auto working = opinion.fluid(lesson.told.nameplate.refrigerant.value_or("R290"));
    if (!working) return working.problem();
    auto setting = set_scene(lesson.told, **working, knowledge);
    if (!setting) return setting.problem();
    setting->scene.kind = &setting->kind;
    all.traits.push_back(traits(setting->scene, lesson.told));
    auto evidence = prepare(lesson.told, knowledge);
    if (!evidence) return evidence.problem();
    all.told.push_back(std::move(*evidence));
  }
  return all;
}

void fill(std::vector<Lesson>& lessons, const Correction& correction, const Material& material) {
  for (std::size_t i = 0; i < lessons.size(); ++i)
    lessons[i].columns = columns(correction, material.traits[i], material.told[i]);
}

// A correction as the search has it: what is shared, then the weights cause by cause.
std::vector<double> weights_of(const Correction& c, const Knowledge& knowledge) {
  const std::size_t columns = columns_of(c);
  std::vector<double> x(kShared + knowledge.causes.size() * columns, 0);
  x[0] = c.trust;
  x[1] = c.two;
  for (std::size_t i = 0; i < knowledge.causes.size(); ++i)
    for (const Correction::Of& of : c.causes)
      if (of.cause == knowledge.causes[i].id)
        std::copy(of.weights.begin(), of.weights.end(),
                  x.begin() + static_cast<std::ptrdiff_t>(kShared + i * columns));
  return x;
}

}  // namespace

std::optional<Lesson> lesson_of(const Row& row, Case told, const Knowledge& knowledge) {
  std::map<std::string, Hypothesis> known;
  for (const Hypothesis& h : hypotheses(knowledge, circuit::CondenserKind::finned_fan))
    known.emplace(merged(h.id, Merge::none), h);
  if (std::none_of(told.observations.begin(), told.observations.end(),
                   [](const Observation& o) { return o.subject == "complaint" && o.value == "not_cooling"; }))
    return std::nullopt;
  Lesson lesson;
  lesson.told = std::move(told);
  const std::string truth = truth_of(row, Merge::none);
  bool found = false;
  for (const auto& [id, p] : row.answer) {
    const auto h = known.find(merged(id, Merge::none));
    if (h == known.end()) continue;
    if (h->first == truth) {
      lesson.truth = lesson.candidates.size();
      found = true;
    }
    const std::vector<int>& causes = h->second.causes;
    lesson.candidates.push_back({causes[0], causes.size() > 1 ? causes[1] : -1,
                                 std::log(std::max(p, 1e-6)) - h->second.log_prior, h->second.log_prior});
  }
  return found ? std::optional(std::move(lesson)) : std::nullopt;
}

Result<Correction> learn(std::vector<Lesson> lessons, Opinion& opinion, const Knowledge& knowledge,
                         const Penalties& penalties, const std::optional<Correction>& onward) {
  if (lessons.empty()) return Problem{"lessons", "none", "judged visits", "there is nothing to learn from"};
  const auto material = material_of(lessons, opinion, knowledge);
  if (!material) return material.problem();
  Correction correction = onward ? *onward : frame(lessons, material->traits);
  fill(lessons, correction, *material);
  std::vector<double> x = weights_of(correction, knowledge);
  Fit problem{lessons, knowledge.causes.size(), columns_of(correction), penalties, x, onward.has_value()};
  const nlopt_opt way = nlopt_create(NLOPT_LD_LBFGS, static_cast<unsigned>(x.size()));
  nlopt_set_min_objective(way, loss, &problem);
  std::vector<double> low(x.size(), -HUGE_VAL), high(x.size(), HUGE_VAL);
  low[0] = 0;
  high[0] = 1;
  nlopt_set_lower_bounds(way, low.data());
  nlopt_set_upper_bounds(way, high.data());
  nlopt_set_maxeval(way, kSteps);
  nlopt_set_ftol_rel(way, 1e-7);
  double least = 0;
  const nlopt_result ended = nlopt_optimize(way, x.data(), &least);
  nlopt_destroy(way);
  if (ended < 0 || ended == NLOPT_MAXEVAL_REACHED)
    return Problem{"learning", nlopt_result_to_string(ended), "an end of NLopt's search", "it gave up"};
  correction.trust = x[0];
  correction.two = x[1];
  correction.causes.clear();
  for (std::size_t c = 0; c < problem.causes; ++c) {
    const auto from = x.begin() + static_cast<std::ptrdiff_t>(kShared + c * problem.columns);
    correction.causes.push_back(
        {knowledge.causes[c].id, {from, from + static_cast<std::ptrdiff_t>(problem.columns)}});
  }
  return correction;
}

Result<Foretold> foretell(const Correction& correction, std::vector<Lesson> lessons, Opinion& opinion,
                          const Knowledge& knowledge) {
  const auto material = material_of(lessons, opinion, knowledge);
  if (!material) return material.problem();
  fill(lessons, correction, *material);
  std::vector<double> x = weights_of(correction, knowledge);
  Foretold all;
  for (const Lesson& lesson : lessons) {
    const std::vector<double> score = scores(lesson, x.data(), knowledge.causes.size());
    const double truth = score[lesson.truth], top = *std::max_element(score.begin(), score.end());
    double total = 0;
    for (double s : score) total += std::exp(s - top);
    const auto likelier = std::count_if(score.begin(), score.end(), [&](double s) { return s > truth; });
    all.lessons += 1;
    all.surprise += top + std::log(total) - truth;
    all.first += likelier < 1;
    all.first_two += likelier < 2;
  }
  const double n = std::max<double>(1, static_cast<double>(all.lessons));
  all.surprise /= n;
  all.first /= n;
  all.first_two /= n;
  return all;
}

std::string to_json(const Correction& c, const std::string& learned_from) {
  std::string text = fmt::format(R"({{
  "what": "What the virtual cabinet taught the diagnosis, see core/diagnosis/correction.hpp. Made by judge learn.",
  "source": "our-estimate",
  "learned_from": {},
  "trust": {:.4g},
  "two": {:.4g},
  "traits": [
)",
                                 nlohmann::json(learned_from).dump(), c.trust, c.two);
  for (std::size_t i = 0; i < c.scales.size(); ++i)
    text +=
        fmt::format("    {{\"id\": \"{}\", \"middle\": {:.5g}, \"spread\": {:.5g}}}{}\n", c.scales[i].trait,
                    c.scales[i].middle, c.scales[i].spread, i + 1 < c.scales.size() ? "," : "");
  text += "  ],\n  \"looks\": [\n";
  for (std::size_t i = 0; i < c.looks.size(); ++i)
    text += fmt::format("    {{\"subject\": \"{}\", \"value\": \"{}\"}}{}\n", c.looks[i].subject,
                        c.looks[i].value, i + 1 < c.looks.size() ? "," : "");
  text += "  ],\n  \"causes\": [\n";
  for (std::size_t i = 0; i < c.causes.size(); ++i)
    text += fmt::format("    {{\"id\": \"{}\", \"weights\": {}}}{}\n", c.causes[i].cause,
                        listed(c.causes[i].weights), i + 1 < c.causes.size() ? "," : "");
  return text + "  ]\n}\n";
}

}  // namespace coldwright::judge

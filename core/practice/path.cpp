#include "practice/path.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::practice {
namespace {

constexpr double kSureEnough = 0.9;
constexpr double kTellsNothing = 0.05;  // bits
constexpr double kMuchBetter = 2;       // times the worth
constexpr std::size_t kMostOfBest = 14;
constexpr double kLongestBest = 180;  // min

Result<Believed> believe(const Visit& v, const Walk& w, const Drawing& drawing, double from, double to) {
  const auto investigation = diagnosis::Investigation::open(w.the_case, v.fluid, *v.knowledge);
  if (!investigation) return investigation.problem();
  const bool pairs = v.level == Level::hard || v.faults.size() > 1;
  const auto progress = [&](double x) {
    return !drawing.progress || drawing.progress(std::min(from + (to - from) * x, 1.0));
  };
  const auto share =
      (*investigation)->draw({drawing.population, pairs, RandomStream(drawing.seed)}, progress);
  if (!share) return share.problem();
  diagnosis::Answer answer = (*investigation)->answer(*share);
  return Believed{std::move(answer.causes), std::move(answer.next), std::move(answer.telling),
                  std::move(answer.reasons)};
}

const diagnosis::NextStep* offered(const Believed& b, std::string_view action) {
  for (const diagnosis::NextStep& step : b.telling)
    if (step.subject == action) return &step;
  return nullptr;
}

Told told(const Believed& before, Step step, Believed after) {
  Told t{std::move(step), std::move(after), 0, 0, std::nullopt};
  t.bits = bits_between(before, t.after);
  t.expected_bits = before.expected_bits(t.step.action.id);
  if (before.next.empty()) return t;
  const diagnosis::NextStep& best = before.next.front();
  const diagnosis::NextStep* taken = offered(before, t.step.action.id);
  if (best.subject != t.step.action.id && best.information_bits > kTellsNothing &&
      (taken == nullptr || taken->worth * kMuchBetter < best.worth))
    t.better = best;
  return t;
}

}  // namespace

double Believed::probability_of(std::string_view cause) const {
  for (const diagnosis::RankedCause& c : causes)
    if (c.cause == cause) return c.probability;
  return 0;
}

double Believed::expected_bits(std::string_view action) const {
  const diagnosis::NextStep* step = offered(*this, action);
  return step == nullptr ? 0 : step->information_bits;
}

double bits_between(const Believed& before, const Believed& after) {
  double bits = 0;
  for (const diagnosis::RankedCause& c : after.causes)
    if (c.probability > 1e-9)
      bits += c.probability * std::log2(c.probability / std::max(before.probability_of(c.cause), 1e-4));
  return std::max(bits, 0.0);
}

Result<Path> path_of(const Visit& v, const std::vector<Action>& actions, const Drawing& drawing) {
  Path path;
  path.end = arrive(v);
  const double n = static_cast<double>(actions.size()) + 1;
  auto start = believe(v, path.end, drawing, 0, 1 / n);
  if (!start) return start.problem();
  path.start = std::move(*start);
  for (std::size_t i = 0; i < actions.size(); ++i) {
    auto next = advance(path.end, v, actions[i]);
    if (!next) return next.problem();
    path.end = std::move(*next);
    const Believed before = i == 0 ? path.start : path.steps.back().after;
    auto after = actions[i].waits() ? Result<Believed>(before)
                                    : believe(v, path.end, drawing, static_cast<double>(i + 1) / n,
                                              static_cast<double>(i + 2) / n);
    if (!after) return after.problem();
    path.steps.push_back(told(before, path.end.steps.back(), std::move(*after)));
  }
  return path;
}

Result<Path> best_path(const Visit& v, const Believed& start, const Drawing& drawing) {
  Path path;
  path.start = start;
  path.end = arrive(v);
  while (path.steps.size() < kMostOfBest) {
    const Believed& now = path.steps.empty() ? path.start : path.steps.back().after;
    if (now.causes.front().probability >= kSureEnough || now.next.empty()) break;
    const auto step = std::find_if(now.next.begin(), now.next.end(), [](const diagnosis::NextStep& s) {
      return s.information_bits >= kTellsNothing;
    });
    if (step == now.next.end()) break;
    const auto action = action_named(step->subject, *v.knowledge);
    if (!action) return action.problem();
    if (path.end.history.minutes + cost_of(path.end, *action).minutes > kLongestBest) break;
    auto next = advance(path.end, v, *action);
    if (!next) return next.problem();
    path.end = std::move(*next);
    const double done = static_cast<double>(path.steps.size());
    auto after = believe(v, path.end, drawing, done / (done + 4), (done + 1) / (done + 5));
    if (!after) return after.problem();
    path.steps.push_back(told(now, path.end.steps.back(), std::move(*after)));
  }
  return path;
}

std::optional<std::size_t> enough_after(const Path& path) {
  for (std::size_t i = 0; i < path.steps.size(); ++i)
    if (path.steps[i].after.causes.front().probability >= kSureEnough) return i;
  return std::nullopt;
}

std::optional<std::size_t> parting(const Path& yours) {
  const std::size_t last = enough_after(yours).value_or(yours.steps.size());
  for (std::size_t i = 0; i < yours.steps.size() && i <= last; ++i)
    if (yours.steps[i].better) return i;
  return std::nullopt;
}

}  // namespace coldwright::practice

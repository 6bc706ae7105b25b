#include "judge/score.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "judge/sets.hpp"

namespace coldwright::judge {
namespace {

constexpr double kFloor = 1e-6;  // a probability of nothing counts as this in the log loss

double part(auto a, auto b) { return b > 0 ? static_cast<double>(a) / static_cast<double>(b) : 0.0; }

void add(Score& s, const Row& r, Merge merge) {
  const std::string truth = truth_of(r, merge);
  const auto answer = answer_of(r, merge);
  const auto& [first, p] = answer.front();
  const bool right = first == truth;
  double p_truth = 0;
  for (const auto& [name, probability] : answer)
    if (name == truth) p_truth = probability;
  const double w = r.weight;
  ++s.calls;
  s.n += w;
  s.squares += w * w;
  s.top1 += w * right;
  s.top2 += w * (right || (answer.size() > 1 && answer[1].first == truth));
  const auto said = parts_of(first), true_parts = parts_of(truth);
  s.named += w * std::any_of(said.begin(), said.end(), [&](const std::string& name) {
               return std::find(true_parts.begin(), true_parts.end(), name) != true_parts.end();
             });
  s.sure += w * (p > 0.9);
  s.sure_right += w * (p > 0.9 && right);
  s.log_loss -= w * std::log(std::max(p_truth, kFloor));
  for (const auto& [name, probability] : answer)
    if (probability > 0) s.entropy -= w * probability * std::log2(probability);
  s.solves += w * r.solves;
  s.minutes += w * r.minutes;
  const auto bin = static_cast<std::size_t>(std::clamp(p * 10, 0.0, 9.999));
  s.count[bin] += w;
  s.stated[bin] += w * p;
  s.right[bin] += w * right;
  s.doubt[bin] += w * w * p * (1 - p);
  s.by_class[truth].first += w * right;
  s.by_class[truth].second += w;
  s.confusion[truth][first] += w;
}

std::string line(const std::string& name, const Score& s) {
  const Calibration c = calibration(s);
  return fmt::format(
      "{:36} {:5} {:6.3f} {:6.3f} {:6.3f} {:6.3f} {:6.3f} {:+6.3f} {:6.3f} {:6.2f} {:6.3f} {:6.3f} {:6.1f}\n",
      name, s.calls, part(s.top1, s.n), part(s.top2, s.n), part(s.named, s.n), c.error, c.by_chance, c.over,
      part(s.log_loss, s.n), part(s.entropy, s.n), part(s.sure, s.n), part(s.sure_right, s.sure),
      part(s.minutes, s.n));
}

std::string head(const char* what) {
  return fmt::format("{:36} {:>5} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6}\n", what,
                     "calls", "top-1", "top-2", "named", "cal", "chance", "over", "-lnp", "bits", ">.9",
                     "right", "min");
}

bool single(const Row& r) { return r.truth.size() == 1; }

std::string kinds_of_calls(const std::vector<Row>& rows, char set) {
  std::string out = "\n" + head(fmt::format("set {}, which calls", set).c_str());
  const auto add_line = [&](const std::string& name, const std::function<bool(const Row&)>& wanted) {
    const Score s = score(rows, Merge::load, [&](const Row& r) { return r.set == set && wanted(r); });
    if (s.calls > 0) out += line(name, s);
  };
  add_line("one cause", single);
  add_line("two causes", [](const Row& r) { return !single(r); });
  add_line("steady", [](const Row& r) { return r.steady; });
  add_line("not steady", [](const Row& r) { return !r.steady; });
  const char* names[] = {"mild third", "middle third", "severe third"};
  for (int i = 0; i < 3; ++i)
    add_line(names[i], [i](const Row& r) {
      const double place = r.truth.front().second;
      return single(r) && place >= 0 && std::min(static_cast<int>(place * 3), 2) == i;
    });
  std::map<std::string, long> cabinets;
  for (const Row& r : rows) ++cabinets[r.cabinet];
  for (const auto& [cabinet, n] : cabinets)
    add_line(cabinet, [&](const Row& r) { return r.cabinet == cabinet; });
  return out;
}

std::string curve(const Score& s) {
  std::string out = "\nstated   calls  mean stated  right\n";
  for (std::size_t i = 0; i < 10; ++i)
    if (s.count[i] > 0)
      out += fmt::format(".{}-{}   {:6.0f} {:12.3f} {:6.3f}\n", i, i == 9 ? "1." : fmt::format(".{}", i + 1),
                         s.count[i], part(s.stated[i], s.count[i]), part(s.right[i], s.count[i]));
  return out;
}

// Single causes only: pairs are too many to list.
std::string mistakes(const Score& s) {
  std::string out = "\ntruth: right of all; taken for (5 % and more)\n";
  for (const auto& [truth, counts] : s.by_class) {
    if (truth.find('+') != std::string::npos) continue;
    out += fmt::format("  {}: {:.2f} of {:.0f};", truth, part(counts.first, counts.second), counts.second);
    std::vector<std::pair<double, std::string>> others;
    for (const auto& [other, n] : s.confusion.at(truth))
      if (other != truth && 20 * n >= counts.second) others.emplace_back(n, other);
    std::sort(others.rbegin(), others.rend());
    for (const auto& [n, other] : others) out += fmt::format(" {} {:.2f}", other, part(n, counts.second));
    out += "\n";
  }
  return out;
}

}  // namespace

Score score(const std::vector<Row>& rows, Merge merge, const std::function<bool(const Row&)>& wanted) {
  Score s;
  for (const Row& r : rows)
    if (wanted(r)) add(s, r, merge);
  return s;
}

Calibration calibration(const Score& s) {
  Calibration c{};
  for (std::size_t i = 0; i < 10; ++i) {
    c.error += std::abs(s.stated[i] - s.right[i]);
    c.by_chance += std::sqrt(2 / 3.14159265358979 * s.doubt[i]);
    c.over += s.stated[i] - s.right[i];
  }
  const double n = s.n > 0 ? s.n : 1;
  return {c.error / n, c.by_chance / n, c.over / n};
}

std::string tally(const std::vector<Row>& rows, char detail) {
  std::string out;
  const std::pair<Merge, const char*> merges[] = {{Merge::load, "sound and high load as one"},
                                                  {Merge::none, "every cause apart"},
                                                  {Merge::classes, "and not pumping as worn valves"}};
  for (const auto& [merge, what] : merges) {
    out += head(what);
    for (const ReadingSet& set : reading_sets()) {
      const Score s = score(rows, merge, [&](const Row& r) { return r.set == set.name; });
      if (s.calls > 0) out += line(fmt::format("{} {}", set.name, set.what), s);
    }
    out += "\n";
  }
  std::vector<Row> singles;
  for (const Row& r : rows)
    if (const auto one = without_pairs(r)) singles.push_back(*one);
  out += head("one of fourteen causes, told so");
  for (const ReadingSet& set : reading_sets()) {
    const Score s = score(singles, Merge::classes, [&](const Row& r) { return r.set == set.name; });
    if (s.calls > 0) out += line(fmt::format("{} {}", set.name, set.what), s);
  }
  const Score s = score(rows, Merge::load, [&](const Row& r) { return r.set == detail; });
  if (s.calls == 0) return out;
  return out + kinds_of_calls(rows, detail) + curve(s) + mistakes(s);
}

}  // namespace coldwright::judge

#include "traces/segment.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::traces {
namespace {

constexpr double kImpossible = -1e18;
constexpr double kHopeless = 80;           // nats behind the best state: no course goes there
constexpr std::size_t kLongestPart = 600;  // blocks that one part may span

double add(double a, double b) {
  if (a < b) std::swap(a, b);
  return b < a - 50 ? a : a + std::log1p(std::exp(b - a));
}

/// ln density of the duration, per unit of its logarithm so that states of seconds and of hours compare.
double log_lasts(const Lasting& l, double seconds) {
  const double z = (std::log(std::max(seconds, 1e-3)) - std::log(l.median)) / l.spread;
  return -0.5 * z * z - std::log(l.spread) - 0.9189385332046727;
}
double log_lasts_longer(const Lasting& l, double seconds) {
  const double z = (std::log(std::max(seconds, 1e-3)) - std::log(l.median)) / l.spread;
  return std::log(std::max(0.5 * std::erfc(z / 1.4142135623730951), 1e-30));
}

class PhaseDecoder {
 public:
  PhaseDecoder(const Chain& chain, const Blocks& blocks)
      : chain_(chain), blocks_(blocks), n_(blocks.log_likelihood.size()), states_(chain.lasting.size()) {}

  Course run() {
    prepare();
    forward();
    backward();
    return course();
  }

 private:
  double& at(std::vector<double>& grid, std::size_t edge, std::size_t state) {
    return grid[edge * states_ + state];
  }
  double at(const std::vector<double>& grid, std::size_t edge, std::size_t state) const {
    return grid[edge * states_ + state];
  }

  void prepare() {
    sums_.assign((n_ + 1) * states_, 0);
    best_.assign(n_ + 1, 0);
    for (std::size_t b = 0; b < n_; ++b) {
      double best = kImpossible;
      for (std::size_t s = 0; s < states_; ++s) {
        const double one = blocks_.log_likelihood[b][s];
        at(sums_, b + 1, s) = at(sums_, b, s) + one;
        best = std::max(best, one);
      }
      best_[b + 1] = best_[b] + best;
    }
  }

  /// A part in state s over blocks from..to-1: its blocks and its duration.
  double part(std::size_t s, std::size_t from, std::size_t to) const {
    const double seconds = blocks_.edge[to] - blocks_.edge[from];
    const bool open = from == 0 || to == n_;
    return at(sums_, to, s) - at(sums_, from, s) +
           (open ? log_lasts_longer(chain_.lasting[s], seconds) : log_lasts(chain_.lasting[s], seconds));
  }
  bool hopeless(std::size_t s, std::size_t from, std::size_t to) const {
    return to - from > kLongestPart && from != 0
               ? true
               : best_[to] - best_[from] - (at(sums_, to, s) - at(sums_, from, s)) > kHopeless;
  }

  void forward() {
    // enter: all courses up to an edge, about to begin s. leave: all courses whose part in s ends there.
    enter_.assign((n_ + 1) * states_, kImpossible);
    leave_.assign((n_ + 1) * states_, kImpossible);
    best_enter_.assign((n_ + 1) * states_, kImpossible);
    best_leave_.assign((n_ + 1) * states_, kImpossible);
    from_state_.assign((n_ + 1) * states_, 0);
    from_edge_.assign((n_ + 1) * states_, 0);
    for (std::size_t s = 0; s < states_; ++s) at(enter_, 0, s) = at(best_enter_, 0, s) = chain_.first[s];
    for (std::size_t e = 1; e <= n_; ++e) {
      for (std::size_t s = 0; s < states_; ++s) {
        for (std::size_t b = e; b-- > 0;) {
          if (hopeless(s, b, e)) break;
          const double one = part(s, b, e);
          at(leave_, e, s) = add(at(leave_, e, s), at(enter_, b, s) + one);
          const double best = at(best_enter_, b, s) + one;
          if (best <= at(best_leave_, e, s)) continue;
          at(best_leave_, e, s) = best;
          from_edge_[e * states_ + s] = b;
        }
      }
      for (std::size_t s = 0; s < states_; ++s)
        for (std::size_t p = 0; p < states_; ++p) {
          if (p == s || chain_.next[p][s] <= kImpossible) continue;
          at(enter_, e, s) = add(at(enter_, e, s), at(leave_, e, p) + chain_.next[p][s]);
          const double best = at(best_leave_, e, p) + chain_.next[p][s];
          if (best <= at(best_enter_, e, s)) continue;
          at(best_enter_, e, s) = best;
          from_state_[e * states_ + s] = static_cast<int>(p);
        }
    }
    total_ = kImpossible;
    for (std::size_t s = 0; s < states_; ++s) total_ = add(total_, at(leave_, n_, s));
  }

  void backward() {
    // after: everything behind an edge at which s ended. begun: everything from an edge at which s begins.
    after_.assign((n_ + 1) * states_, kImpossible);
    begun_.assign((n_ + 1) * states_, kImpossible);
    for (std::size_t s = 0; s < states_; ++s) at(after_, n_, s) = 0;
    for (std::size_t b = n_; b-- > 0;) {
      for (std::size_t s = 0; s < states_; ++s)
        for (std::size_t e = b + 1; e <= n_; ++e) {
          if (hopeless(s, b, e)) break;
          at(begun_, b, s) = add(at(begun_, b, s), part(s, b, e) + at(after_, e, s));
        }
      for (std::size_t p = 0; p < states_; ++p)
        for (std::size_t s = 0; s < states_; ++s)
          if (p != s && chain_.next[p][s] > kImpossible)
            at(after_, b, p) = add(at(after_, b, p), chain_.next[p][s] + at(begun_, b, s));
    }
  }

  double starts(std::size_t edge, std::size_t s) const {
    return std::exp(std::min(0.0, at(enter_, edge, s) + at(begun_, edge, s) - total_));
  }
  double ends(std::size_t edge, std::size_t s) const {
    return std::exp(std::min(0.0, at(leave_, edge, s) + at(after_, edge, s) - total_));
  }

  Course course() {
    Course out;
    out.log_likelihood = total_;
    std::size_t state = 0;
    for (std::size_t s = 1; s < states_; ++s)
      if (at(best_leave_, n_, s) > at(best_leave_, n_, state)) state = s;
    for (std::size_t e = n_; e > 0;) {
      const std::size_t b = from_edge_[e * states_ + state];
      out.parts.push_back({b, e, static_cast<int>(state), 0, b, b});
      if (b == 0) break;
      state = static_cast<std::size_t>(from_state_[b * states_ + state]);
      e = b;
    }
    std::reverse(out.parts.begin(), out.parts.end());
    // Who holds each block: those that began up to it, less those that ended.
    std::vector<double> holds(n_ * states_);
    std::vector<double> now(states_, 0);
    for (std::size_t b = 0; b < n_; ++b)
      for (std::size_t s = 0; s < states_; ++s) {
        now[s] += starts(b, s) - (b > 0 ? ends(b, s) : 0);
        holds[b * states_ + s] = std::clamp(now[s], 0.0, 1.0);
      }
    for (std::size_t i = 0; i < out.parts.size(); ++i) {
      Part& p = out.parts[i];
      double sum = 0, seconds = 0;
      for (std::size_t b = p.from; b < p.to; ++b) {
        const double d = blocks_.edge[b + 1] - blocks_.edge[b];
        sum += d * holds[b * states_ + static_cast<std::size_t>(p.state)];
        seconds += d;
      }
      p.probability =
          seconds > 0 ? sum / seconds : holds[p.from * states_ + static_cast<std::size_t>(p.state)];
      edges(p, i > 0 ? out.parts[i - 1].from + 1 : 0);
    }
    return out;
  }

  /// The edges around a part's beginning that hold 90 % of where its state began; none before `earliest`.
  void edges(Part& p, std::size_t earliest) const {
    if (p.from == 0) return;
    const auto s = static_cast<std::size_t>(p.state);
    const std::size_t low = std::max(earliest, p.from > 30 ? p.from - 30 : 1),
                      high = std::min(p.to, p.from + 30);
    double total = 0;
    for (std::size_t b = low; b < high; ++b) total += starts(b, s);
    if (total <= 0) return;
    double sum = 0;
    p.from_low = p.from_high = p.from;
    for (std::size_t b = low; b < high; ++b) {
      const double before = sum / total;
      sum += starts(b, s);
      if (before <= 0.05 && sum / total > 0.05) p.from_low = std::min(p.from, b);
      if (before < 0.95 && sum / total >= 0.95) p.from_high = std::max(p.from, b);
    }
  }

  const Chain& chain_;
  const Blocks& blocks_;
  std::size_t n_, states_;
  std::vector<double> sums_, best_, enter_, leave_, best_enter_, best_leave_, after_, begun_;
  std::vector<int> from_state_;
  std::vector<std::size_t> from_edge_;
  double total_ = 0;
};

}  // namespace

Course most_likely(const Chain& chain, const Blocks& blocks) {
  if (blocks.log_likelihood.empty()) return {};
  return PhaseDecoder(chain, blocks).run();
}

}  // namespace coldwright::traces

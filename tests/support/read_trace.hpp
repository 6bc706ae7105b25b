// A file's text through guess, reader and phases, and what it is compared with.
#pragma once

#include <gtest/gtest.h>

#include <cstdio>
#include <functional>
#include <string>
#include <vector>

#include "support/made_trace.hpp"
#include "traces/guess.hpp"
#include "traces/reader.hpp"

namespace coldwright::tests {

struct ReadTrace {
  traces::Guess guess;
  traces::Layout layout;  // as it was followed
  traces::Trace trace;
  const traces::SetAside* aside(traces::Reason reason) const {
    for (const traces::SetAside& one : trace.aside)
      if (one.reason == reason) return &one;
    return nullptr;
  }
  bool asks(std::string_view key) const {
    for (const traces::Question& q : guess.questions)
      if (q.key == key) return true;
    return false;
  }
  traces::What what(std::size_t column) const { return guess.layout.columns.at(column).what; }
};

inline ReadTrace read_trace(const std::string& text) {
  auto found = traces::guess(std::string_view(text).substr(0, traces::head_bytes));
  EXPECT_TRUE(found) << to_text(found ? Problem{} : found.problem());
  if (!found) return {};
  EXPECT_FALSE(traces::check(found->layout));
  traces::Reader reader("x", found->layout, base::sea_level);
  reader.feed(text);
  auto trace = reader.finish();
  EXPECT_TRUE(trace);
  return {*found, reader.layout(), trace ? *trace : traces::Trace{}};
}

inline std::string digits(double v, int decimals) {
  char text[40];
  std::snprintf(text, sizeof text, "%.*f", decimals, v);
  return text;
}

constexpr double kBegin = 1709251200;  // 2024-03-01

/// A file of one line a sample.
inline std::string lines(const std::string& head, const Made& made,
                         const std::function<std::string(std::size_t, double, double)>& row) {
  std::string out = head;
  for (std::size_t i = 0; i < made.t.size(); ++i) out += row(i, kBegin + made.t[i], made.power[i]) + "\n";
  return out;
}
inline std::string plain(std::size_t, double t, double x) {
  return traces::date_text(t) + "," + digits(x, 1);
}

/// Means over `n` samples, as meters give them.
inline Made averaged(const Made& made, std::size_t n) {
  Made out;
  out.starts = made.starts;
  out.defrosts = made.defrosts;
  for (std::size_t i = 0; i + n <= made.t.size(); i += n) {
    double sum = 0;
    for (std::size_t k = i; k < i + n; ++k) sum += made.power[k] / static_cast<double>(n);
    out.t.push_back(made.t[i]);
    out.power.push_back(sum);
    out.truth.push_back(made.truth[i]);
  }
  return out;
}

inline double true_share(const Made& made) {
  double run = 0;
  for (const traces::State s : made.truth) run += s == traces::State::running;
  return run / static_cast<double>(made.truth.size());
}
inline double found_share(const traces::Phases& phases) {
  double run = 0, all = 0;
  for (const traces::Phase& p : phases.phases) {
    all += p.to - p.from;
    if (p.state == traces::State::running || p.state == traces::State::start) run += p.to - p.from;
  }
  return all > 0 ? run / all : -1;
}
inline int count_of(const traces::Phases& phases, traces::State state) {
  int n = 0;
  for (const traces::Phase& p : phases.phases) n += p.state == state;
  return n;
}

}  // namespace coldwright::tests

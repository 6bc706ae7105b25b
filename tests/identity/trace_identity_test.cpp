// What must hold of traces whatever the numbers: pieces of any size give the same trace, dates are their own
// inverse, an exact decay is found exactly, thinning keeps the extremes, the model's parts cover the time.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "support/made_trace.hpp"
#include "traces/events.hpp"
#include "traces/fits.hpp"
#include "traces/guess.hpp"
#include "traces/reader.hpp"
#include "traces/thin.hpp"

namespace coldwright::traces {
namespace {

Trace read_in(const std::string& text, std::size_t piece) {
  const auto found = guess(std::string_view(text).substr(0, head_bytes));
  EXPECT_TRUE(found);
  Reader reader("x", found->layout, base::sea_level);
  for (std::size_t at = 0; at < text.size(); at += piece)
    reader.feed(std::string_view(text).substr(at, piece));
  auto trace = reader.finish();
  EXPECT_TRUE(trace);
  return *trace;
}

TEST(TraceReading, PiecesOfAnySizeGiveTheSame) {
  tests::Making making;
  making.days = 0.2;
  std::string text = tests::make_trace(making).text();
  for (std::size_t at = 0; (at = text.find('\n', at)) != std::string::npos; at += 2)
    text.replace(at, 1, "\r\n");
  const Trace whole = read_in(text, text.size());
  for (const std::size_t piece : {1UL, 7UL, 4096UL}) {
    const Trace parts = read_in(text, piece);
    EXPECT_EQ(parts.t, whole.t) << piece;
    EXPECT_EQ(parts.series.front().value, whole.series.front().value) << piece;
    EXPECT_EQ(parts.rows, whole.rows);
  }
}

TEST(TraceTimes, DatesAreTheirOwnInverse) {
  TimeReader reader({TimeForm::year_first, 1}, '.');
  for (double at = -1.0e9; at < 4.2e9; at += 12345677) {
    const auto back = reader.read(date_text(at));
    ASSERT_TRUE(back) << date_text(at);
    EXPECT_DOUBLE_EQ(*back, at);
  }
}

TEST(TraceTimes, KnownMoments) {
  // 2000-03-01 is day 11017 and 2026-02-29 isn't in the calendar.
  EXPECT_EQ(days_of(2000, 3, 1), 11017);
  EXPECT_EQ(days_of(1970, 1, 1), 0);
  EXPECT_FALSE(days_of(2026, 2, 29));
  EXPECT_EQ(date_text(951782400 + 86399), "2000-02-29 23:59:59");
}

TEST(TraceFits, AnExactDecayIsFoundExactly) {
  for (const double tau : {40.0, 400.0, 4000.0}) {
    std::vector<double> t, y;
    for (int i = 0; i < 200; ++i) {
      t.push_back(i * 10);
      y.push_back(3 + 5 * std::exp(-i * 10 / tau));
    }
    const auto fit = fit_decay(t, y);
    ASSERT_TRUE(fit);
    EXPECT_NEAR(fit->tau, tau, 0.01 * tau);
    EXPECT_NEAR(fit->step, 5, 0.05);
    EXPECT_GT(fit->explained, 0.999);
  }
}

TEST(TraceFits, AnIntervalHoldsTheTruthAboutAsOftenAsItSays) {
  tests::Dice dice(5);
  int held = 0;
  constexpr int kTries = 200;
  for (int k = 0; k < kTries; ++k) {
    std::vector<double> t, y;
    for (int i = 0; i < 120; ++i) {
      t.push_back(i * 10);
      y.push_back(2 + 4 * std::exp(-i * 10 / 300.0) + 0.2 * dice.normal());
    }
    const auto fit = fit_decay(t, y);
    ASSERT_TRUE(fit);
    held += fit->tau_low <= 300 && fit->tau_high >= 300;
  }
  // 90 % of 200 is 180, one standard deviation 4.2; its grid makes the interval a little wide.
  EXPECT_GE(held, 167);
  EXPECT_LT(held, kTries);
}

TEST(TraceEvents, APeriodIsFoundAndNoiseIsNone) {
  tests::Dice dice(9);
  std::vector<double> t, wave, noise;
  for (int i = 0; i < 400; ++i) {
    t.push_back(i * 10);
    noise.push_back(dice.normal());
    wave.push_back(noise.back() + 3 * std::sin(2 * 3.14159265 * i * 10 / 180) + 0.001 * i);
  }
  const Periodic found = periodic_in(t, wave, 50, 1000);
  EXPECT_NEAR(found.period, 180, 5);
  EXPECT_NEAR(found.amplitude, 3, 0.4);
  EXPECT_LT(found.chance, 1e-6);
  EXPECT_GT(periodic_in(t, noise, 50, 1000).chance, 1e-3);
}

TEST(TraceThinning, KeepsTheExtremes) {
  const Trace trace = tests::make_trace({}).trace();
  const auto& value = trace.series.front().value;
  const auto thin = thinned(trace, trace.series.front(), 300);
  EXPECT_LE(thin.size(), 301U);
  float most = 0;
  for (const Thin& one : thin) most = std::max(most, one.most);
  EXPECT_EQ(most, *std::max_element(value.begin(), value.end()));
}

TEST(TracePhases, CoverTheTimeWithoutOverlap) {
  const auto made = tests::make_trace({});
  const auto found = phases_of(made.trace());
  ASSERT_TRUE(found);
  ASSERT_FALSE(found->phases.empty());
  EXPECT_EQ(found->phases.front().from, 0);
  for (std::size_t i = 1; i < found->phases.size(); ++i) {
    EXPECT_EQ(found->phases[i].from, found->phases[i - 1].to);
    EXPECT_LE(found->phases[i].from_low, found->phases[i].from);
    EXPECT_GE(found->phases[i].from_high, found->phases[i].from);
    EXPECT_GT(found->phases[i].probability, 0);
    EXPECT_LE(found->phases[i].probability, 1);
  }
  EXPECT_GT(found->log_likelihood, found->log_likelihood_flat);
}

}  // namespace
}  // namespace coldwright::traces

// Shares of a diagnosis, pooled: they say what one drawing of as many machines says, within the errors that
// both state; they survive the way as bytes; and a share of another case is refused. And shares weigh by what
// they are.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>

#include "diagnosis/pool.hpp"
#include "service/growing_diagnosis.hpp"
#include "service/use_cases.hpp"

namespace coldwright::test {
namespace {

using diagnosis::HypothesisPosterior;
using diagnosis::Particle;
using diagnosis::Share;
using nlohmann::json;
using service::GrowingDiagnosis;

service::Context context() {
  service::Context c;
  c.now_seconds = 1767225600;  // 2026-01-01, any moment
  return c;
}

json answer_of(const Result<std::string>& text) {
  EXPECT_TRUE(text) << to_text(text.problem());
  return text ? json::parse(*text) : json::object();
}

std::string demo(const char* file) {
  std::ifstream in(std::string(SOURCE_DIR) + "/data/demo/" + file, std::ios::binary);
  EXPECT_TRUE(in) << file;
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  return *service::request_with_call(text, "{}");
}

std::unique_ptr<GrowingDiagnosis> started(const std::string& request,
                                          const GrowingDiagnosis* before = nullptr) {
  auto growing = GrowingDiagnosis::start(request, context(), before);
  EXPECT_TRUE(growing) << to_text(growing.problem());
  return growing ? std::move(*growing) : nullptr;
}

void draw(GrowingDiagnosis& growing, std::uint64_t which, int population, bool pairs) {
  const auto share = growing.round(which, population, pairs);
  ASSERT_TRUE(share);
  ASSERT_TRUE(growing.take(*share));
}

struct Cause {
  double probability = 0, error = 0;
};
std::map<std::string, Cause> causes_of(const json& answer) {
  std::map<std::string, Cause> causes;
  for (const json& c : answer["causes"]) causes[c["cause"]] = {c["probability"], c["error"]};
  return causes;
}

// How far two answers are apart, in the errors they state together. A cause that neither sampled carries a
// first look's guess, which may be wrong by what lies under the reach of sampling, e^-5 of the leader;
// several shares that sample it here and there say more. That much is allowed besides.
void expect_agreement(const json& one, const json& other, double errors) {
  const auto a = causes_of(one), b = causes_of(other);
  for (const auto& [id, x] : a) {
    const auto found = b.find(id);
    const Cause y = found == b.end() ? Cause{} : found->second;
    EXPECT_NEAR(x.probability, y.probability, errors * std::hypot(x.error, y.error) + 0.02) << id;
  }
}

class DemoCallPooled : public testing::TestWithParam<const char*> {};

TEST_P(DemoCallPooled, SaysWhatOneDrawingSays) {
  const std::string request = demo(GetParam());
  const auto growing = started(request);
  ASSERT_TRUE(growing);
  draw(*growing, 0, 10, false);
  const json first = answer_of(growing->answer());
  for (std::uint64_t which = 1; which <= 5; ++which) draw(*growing, which, 30, true);
  EXPECT_EQ(growing->machines(), growing->wanted());
  const json pooled = answer_of(growing->answer());
  const json whole = answer_of(service::find_use_case("diagnose")->run(request, context()));

  // Four errors: with some hundred causes of six calls, three would be passed by chance.
  expect_agreement(pooled, whole, 4);
  expect_agreement(first, whole, 4);
  // The first answer says that it is one.
  EXPECT_FALSE(first["quality"]["trustworthy"]);
  EXPECT_GT(first["causes"][0]["error"], pooled["causes"][0]["error"]);
  double sum = 0;
  for (const json& c : pooled["causes"]) sum += c["probability"].get<double>();
  EXPECT_NEAR(sum, 1, 1e-9);
}

INSTANTIATE_TEST_SUITE_P(All, DemoCallPooled,
                         testing::Values("1-bakery-dough-cooler.json", "2-clinic-old-reach-in.json",
                                         "3-fish-hall-freezer.json", "4-school-kitchen-cooler.json",
                                         "5-kiosk-ice-cream-display.json", "6-bakery-shop-merchandiser.json"),
                         [](const auto& row) { return std::string("Demo") + row.param[0]; });

TEST(Pooling, OneWholeShareIsTheDiagnosisItself) {
  const std::string request = demo("3-fish-hall-freezer.json");
  const auto growing = started(request);
  draw(*growing, 0, growing->wanted(), true);
  const json pooled = answer_of(growing->answer());
  const json whole = answer_of(service::find_use_case("diagnose")->run(request, context()));
  // Bytes leave out what weighs nothing; what is shown doesn't change by it.
  EXPECT_EQ(pooled["causes"], whole["causes"]);
  EXPECT_EQ(pooled["unseen"], whole["unseen"]);
  EXPECT_EQ(pooled["reasons"], whole["reasons"]);
}

TEST(Pooling, SharesTravelBetweenInstancesInAnyOrder) {
  const std::string request = demo("1-bakery-dough-cooler.json");
  const auto here = started(request), there = started(request), back = started(request);
  const auto a = there->round(1, 20, true), b = there->round(2, 20, true);
  ASSERT_TRUE(a && b);
  EXPECT_NE(*a, *b);
  ASSERT_TRUE(here->take(*a) && here->take(*b));
  ASSERT_TRUE(back->take(*b) && back->take(*a));
  const auto one = causes_of(answer_of(here->answer())), other = causes_of(answer_of(back->answer()));
  for (const auto& [id, x] : one) EXPECT_NEAR(x.probability, other.at(id).probability, 1e-9) << id;
}

TEST(Pooling, RefusesWhatIsNoShareOfThisCase) {
  const auto mine = started(demo("1-bakery-dough-cooler.json"));
  const auto other = started(demo("3-fish-hall-freezer.json"));
  const auto foreign = other->round(0, 10, false);
  ASSERT_TRUE(foreign);
  EXPECT_FALSE(mine->take(*foreign));
  EXPECT_FALSE(mine->take(""));
  const auto own = mine->round(0, 10, false);
  ASSERT_TRUE(own);
  for (const std::size_t cut : {own->size() - 1, own->size() / 2, std::size_t{9}})
    EXPECT_FALSE(mine->take(std::string_view(*own).substr(0, cut))) << cut;
  EXPECT_FALSE(mine->take(*own + "x"));
  EXPECT_EQ(mine->machines(), 0);
  EXPECT_FALSE(mine->answer());
  EXPECT_TRUE(mine->take(*own));
}

TEST(Pooling, StopsWhenToldAndSaysWhatIsWrongWithACall) {
  service::Context stopping = context();
  stopping.progress = [](double) { return false; };
  const auto growing = GrowingDiagnosis::start(demo("1-bakery-dough-cooler.json"), stopping);
  ASSERT_TRUE(growing);
  EXPECT_FALSE((*growing)->round(0, 10, false));
  EXPECT_FALSE(GrowingDiagnosis::start(R"({"call": 3})", context()));
}

TEST(Pooling, FollowingAnotherDiagnosisChangesNothing) {
  const std::string request = demo("1-bakery-dough-cooler.json");
  const auto before = started(request);
  const auto alone = started(request), after = started(request, before.get());
  draw(*alone, 3, 10, false);
  draw(*after, 3, 10, false);
  EXPECT_EQ(answer_of(alone->answer()), answer_of(after->answer()));
}

// Shares made by hand, so that the sums can be done on paper.
Share share_of(double evidence, int population, int rounds, std::vector<double> weights) {
  HypothesisPosterior p;
  p.hypothesis = {{0}, "a", 0};
  p.log_evidence = std::log(evidence);
  p.rounds = rounds;
  p.counts_for = population;
  double squares = 0;
  for (double w : weights) {
    p.particles.emplace_back();
    p.particles.back().sim.ok = true;
    p.particles.back().weight = w;
    squares += w * w;
  }
  p.effective_size = 1 / squares;
  Share s;
  s.population = population;
  s.posterior.items.push_back(std::move(p));
  return s;
}

TEST(Pooling, EvidencesAreAveragedOverTheMachinesBehindThem) {
  Share pool;
  take_in(pool, share_of(2, 10, 1, {0.5, 0.5}));
  take_in(pool, share_of(8, 30, 1, {0.25, 0.75}));
  const HypothesisPosterior& p = pool.posterior.items.front();
  EXPECT_NEAR(std::exp(p.log_evidence), (10 * 2 + 30 * 8) / 40.0, 1e-12);
  ASSERT_EQ(p.particles.size(), 4u);
  const double first = 20.0 / 260, second = 240.0 / 260;  // of the pooled evidence
  EXPECT_NEAR(p.particles[0].weight, 0.5 * first, 1e-12);
  EXPECT_NEAR(p.particles[3].weight, 0.75 * second, 1e-12);
  EXPECT_NEAR(p.effective_size, 1 / (2 * std::pow(0.5 * first, 2) + (0.0625 + 0.5625) * second * second),
              1e-9);
  EXPECT_EQ(pool.population, 40);
}

TEST(Pooling, WhatWasSampledStandsBeforeAFirstLook) {
  for (const bool sampled_first : {true, false}) {
    Share pool;
    take_in(pool, sampled_first ? share_of(2, 10, 1, {1}) : share_of(50, 90, 0, {1}));
    take_in(pool, sampled_first ? share_of(50, 90, 0, {1}) : share_of(2, 10, 1, {1}));
    EXPECT_NEAR(std::exp(pool.posterior.items.front().log_evidence), 2, 1e-12);
    EXPECT_EQ(pool.posterior.items.front().counts_for, 10);
  }
}

TEST(Pooling, EvidencesThatDisagreeCountForFewerMachines) {
  Share alike, apart;
  take_in(alike, share_of(4, 10, 1, {0.5, 0.5}));
  take_in(alike, share_of(4, 10, 1, {0.5, 0.5}));
  take_in(apart, share_of(1, 10, 1, {0.5, 0.5}));
  take_in(apart, share_of(7, 10, 1, {0.5, 0.5}));
  EXPECT_NEAR(alike.posterior.items.front().effective_size, 4, 1e-12);
  EXPECT_LT(apart.posterior.items.front().effective_size, 2.6);
}

}  // namespace
}  // namespace coldwright::test

// What an answer promises: contributions that hold when a reading is left out, intervals that widen with
// ignorance and hold the truth, pairs, and how far to trust it.
#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using enum ReadingKind;

double log_odds(double p) { return std::log(std::max(p, 1e-9) / std::max(1 - p, 1e-9)); }

TEST(Answers, ProbabilitiesAreSortedAndSumToOne) {
  const Desk desk("reach_in_cooler");
  for (const char* cause : {"sound", "low_charge", "control", "start_or_winding"}) {
    Case c = desk.blank();
    desk.read(c, desk.machine(cause, 1), {compressor_current, terminal_voltage, run_winding_ohms}, 1);
    const Answer a = desk.diagnose(c);
    double sum = 0;
    for (const auto& r : a.causes) {
      EXPECT_GE(r.probability, 0);
      sum += r.probability;
    }
    EXPECT_NEAR(sum, 1, 1e-9);
    EXPECT_TRUE(std::is_sorted(a.causes.begin(), a.causes.end(),
                               [](const auto& x, const auto& y) { return x.probability > y.probability; }));
  }
}

// The contribution is computed from the linear models; leaving the entry out and running again is the truth.
TEST(Contributions, LeavingADecisiveFindingOutMovesTheAnswerAsSaid) {
  const Desk desk("reach_in_cooler");
  int decided = 0;
  for (const char* cause : {"low_charge", "restriction", "dirty_condenser", "overcharge"}) {
    Case c = desk.blank();
    desk.read(c, desk.machine(cause, 4),
              {compressor_current, condenser_middle_temp, liquid_line_temp, suction_pressure}, 4);
    const Answer with = desk.diagnose(c);
    const std::string first = leader(with);
    if (first.find('+') != std::string::npos) continue;
    ASSERT_EQ(with.contributions.size(), c.readings.size() + c.observations.size());
    const auto* decisive = &with.contributions.front();
    for (const auto& x : with.contributions)
      if (std::abs(x.log_odds) > std::abs(decisive->log_odds)) decisive = &x;
    if (std::abs(decisive->log_odds) < 0.5) continue;  // nothing here decides by itself
    ++decided;
    Case less = c;
    std::erase_if(less.readings, [&](const auto& r) { return r.id == decisive->id; });
    std::erase_if(less.observations, [&](const auto& o) { return o.id == decisive->id; });
    const Answer without = desk.diagnose(less);
    const double moved = log_odds(probability_with(with, first)) - log_odds(probability_with(without, first));
    // The stated shift and the real one agree in sign and within 60 % or one nat: this is what is reached,
    // since the rerun looks at other pairs and samples anew.
    EXPECT_GT(moved * decisive->log_odds, 0) << cause << " " << decisive->subject;
    EXPECT_NEAR(moved, decisive->log_odds, std::max(1.0, 0.6 * std::abs(moved)))
        << cause << " " << decisive->subject << ": " << ranking(with) << " | " << ranking(without);
  }
  EXPECT_GE(decided, 2);
}

TEST(Contributions, ReadingsCarryWhatASoundMachineShows) {
  const Desk desk("reach_in_cooler");
  Case c = desk.blank();
  Desk::see(c, "condenser_fan", "running");
  desk.read(c, desk.machine("low_charge", 1), clamps(), 1);
  const Answer a = desk.diagnose(c);
  for (std::size_t i = 0; i < a.contributions.size(); ++i) {
    const auto& x = a.contributions[i];
    EXPECT_GE(x.information_bits, 0);
    EXPECT_EQ(x.expected_if_sound.has_value(), circuit::reading_from_id(x.subject).has_value()) << x.subject;
    if (x.expected_if_sound) {
      EXPECT_LT(x.expected_if_sound->low, x.expected_if_sound->high);
    }
  }
}

// In the mean over some machines: what one of them leaves open hangs on the draw.
TEST(Plates, AnUnreadableOneWidensWhatIsReckoned) {
  Desk full("reach_in_cooler");
  full.single_causes_only();
  for (const char* cause : {"low_charge", "dirty_condenser"}) {
    std::map<std::string, double> narrow, wide;
    for (std::uint64_t seed : {1, 2, 3, 4}) {
      Case known = full.blank();
      full.read(known, full.machine(cause, seed),
                {condenser_middle_temp, liquid_line_temp, suction_line_temp}, seed);
      Case bare = known;
      bare.nameplate = {};
      bare.nameplate.archetype = full.kind().id;
      const Answer a = full.diagnose(known), b = full.diagnose(bare);
      for (const char* quantity : {"charge", "capacity", "compressor_power", "unloaded_current"}) {
        const auto *read = unseen(a, quantity), *unread = unseen(b, quantity);
        ASSERT_TRUE(read && unread) << quantity;
        narrow[quantity] += read->interval.high - read->interval.low;
        wide[quantity] += unread->interval.high - unread->interval.low;
      }
    }
    for (const auto& [quantity, width] : narrow)
      EXPECT_GT(wide[quantity], 1.1 * width) << cause << " " << quantity << " " << wide[quantity] / width;
  }
}

TEST(Pairs, TwoFaultsAreSeenAsTwo) {
  const Desk desk("reach_in_cooler");
  const std::string both = desk.hypothesis("low_charge+dirty_condenser").id;
  int together = 0;
  for (std::uint64_t seed : {1, 2, 3}) {
    Case c = desk.blank();
    Desk::see(c, "condenser_face", "blocked");
    Desk::see(c, "evaporator_coil", "frost_at_inlet_only");
    Desk::see(c, "condenser_fan", "running");
    std::vector<ReadingKind> kinds = clamps();
    kinds.push_back(suction_pressure);
    const Simulated truth = desk.machine(both, seed, {{Extra::severity, 0.8}, {Extra::severity_2, 0.4}});
    desk.read(c, truth, kinds, seed);
    const Answer a = desk.diagnose(c);
    bool pair = false, part = false;
    for (std::size_t i = 0; i < 3 && i < a.causes.size(); ++i) {
      pair = pair || a.causes[i].cause == both;
      part = part || a.causes[i].cause == "low_charge" || a.causes[i].cause == "dirty_condenser";
    }
    EXPECT_TRUE(pair || part) << ranking(a);
    EXPECT_GT(probability(a, both), 0) << ranking(a);
    together += pair;
  }
  EXPECT_GE(together, 2) << "the pair belongs among the first three";
}

TEST(Pairs, OneFaultIsNotSeenAsTwo) {
  const Desk desk("reach_in_cooler");
  for (const char* cause : {"low_charge", "dirty_condenser"}) {
    Case c = desk.blank();
    desk.read(c, desk.machine(cause, 1), clamps(), 1);
    EXPECT_EQ(leader(desk.diagnose(c)).find('+'), std::string::npos) << cause;
  }
}

TEST(Trust, EffectiveSizeIsReportedAndASmallOneIsRemedied) {
  Desk desk("reach_in_freezer");
  desk.population = diagnosis::Options{}.population;
  Case c = desk.blank();
  std::vector<ReadingKind> kinds = clamps();
  for (ReadingKind more : {suction_pressure, discharge_pressure, shell_temp, evaporator_air_out_temp,
                           condenser_air_out_temp, supply_voltage})
    kinds.push_back(more);
  desk.read(c,
            desk.machine("dirty_condenser+low_charge", 5, {{Extra::severity, 1.2}, {Extra::severity_2, 1}}),
            kinds, 5);
  const Answer hard = desk.diagnose(c);
  EXPECT_GT(hard.quality.refined_rounds, 0);
  EXPECT_GT(hard.quality.effective_sample_size, 0);
  EXPECT_GT(hard.quality.smallest_effective_size, 0);
  EXPECT_LE(hard.quality.effective_sample_size, hard.quality.solves);
  EXPECT_LE(hard.quality.unsolved * 20, hard.quality.solves);
  if (!hard.quality.trustworthy) {
    EXPECT_FALSE(hard.quality.remarks.empty());
  }

  Case easy_case = desk.blank();
  desk.read(easy_case, desk.machine("low_charge", 5), {compressor_current, liquid_line_temp}, 5);
  const Answer easy = desk.diagnose(easy_case);
  EXPECT_TRUE(easy.quality.trustworthy);
  EXPECT_GE(easy.quality.smallest_effective_size, 12);
}

TEST(Trust, TheSeedAloneDecides) {
  Desk desk("undercounter_cooler");
  desk.population = diagnosis::Options{}.population;
  Case c = desk.blank();
  desk.read(c, desk.machine("restriction", 1), clamps(), 1);
  const Answer a = desk.diagnose(c), b = desk.diagnose(c);
  ASSERT_EQ(a.causes.size(), b.causes.size());
  for (std::size_t i = 0; i < a.causes.size(); ++i) {
    EXPECT_EQ(a.causes[i].cause, b.causes[i].cause);
    EXPECT_EQ(a.causes[i].probability, b.causes[i].probability);
  }
  desk.seed = 2;
  const Answer other = desk.diagnose(c);
  EXPECT_EQ(leader(other), leader(a)) << ranking(a) << " | " << ranking(other);
  EXPECT_NEAR(probability(other, leader(a)), probability(a, leader(a)), 0.15);
}

// 60 calls of mixed causes, no gauge: the interval from 5 to 95 % of the discharge pressure holds the
// machine's own in 80 to 100 % of them. More than 90 is right here, since the likelihood allows for a model
// that errs while these machines are the model's own; 80 is what chance leaves of 90 in 60 calls (three
// standard deviations of a binomial are 12 %).
TEST(UnseenSide, NinetyPercentIntervalsHoldTheTruth) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  desk.not_cooling = false;  // in a cold room some of these causes are never complained of
  const std::vector<std::string> causes{"low_charge",      "restriction", "dirty_condenser", "condenser_fan",
                                        "evaporator_fan",  "overcharge",  "worn_valves",     "noncondensable",
                                        "iced_evaporator", "high_load"};
  int inside = 0, superheat = 0;
  const int calls = 60;
  std::string misses;
  for (int i = 0; i < calls; ++i) {
    const auto seed = static_cast<std::uint64_t>(100 + i);
    RandomStream weather(seed);
    desk.ambient = 273.15 + 20 + 15 * weather.uniform();
    desk.box = 273.15 + 6 + 10 * weather.uniform();
    const std::string& cause = causes[static_cast<std::size_t>(i) % causes.size()];
    const Simulated truth = desk.machine(cause, seed);
    Case c = desk.blank();
    desk.read(c, truth, clamps(), seed);
    const Answer a = desk.diagnose(c);
    const auto* p = unseen(a, "discharge_pressure");
    ASSERT_NE(p, nullptr);
    const bool held =
        p->interval.low <= truth.point.p_discharge && truth.point.p_discharge <= p->interval.high;
    inside += held;
    if (!held)
      misses += cause + " " + std::to_string(truth.point.p_discharge / 1e5) + " bar outside " +
                std::to_string(p->interval.low / 1e5) + " to " + std::to_string(p->interval.high / 1e5) +
                "; " + ranking(a) + "\n";
    const auto* sh = unseen(a, "superheat");
    superheat += sh->interval.low <= truth.point.superheat && truth.point.superheat <= sh->interval.high;
  }
  RecordProperty("discharge_pressure_inside", inside);
  RecordProperty("superheat_inside", superheat);
  EXPECT_GE(inside, 48) << misses;
  EXPECT_GE(superheat, 48);
}

TEST(UnseenSide, WhatWasReadIsNotReckoned) {
  const Desk desk("reach_in_cooler");
  Case c = desk.blank();
  desk.read(c, desk.machine("low_charge", 1), {suction_pressure, compressor_current}, 1);
  const Answer a = desk.diagnose(c);
  EXPECT_EQ(unseen(a, "suction_pressure"), nullptr);
  ASSERT_NE(unseen(a, "discharge_pressure"), nullptr);
  EXPECT_TRUE(unseen(a, "discharge_pressure")->sound.has_value());
}

}  // namespace
}  // namespace coldwright::test

// The reading worth taking next, and what would change the verdict.
#include <algorithm>
#include <map>
#include <set>

#include "diagnosis/findings.hpp"
#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using enum ReadingKind;

const std::set<std::string> kOpening{"suction_pressure", "discharge_pressure", "standing_pressure"};

bool opens(const diagnosis::NextStep& s) { return !s.is_observation && kOpening.contains(s.subject); }

Case little_known(const Desk& desk, const std::string& cause, std::uint64_t seed) {
  Case c = desk.blank();
  desk.read(c, desk.machine(cause, seed), {compressor_current}, seed);
  return c;
}

TEST(NextSteps, OpeningStepsCarryWhatTheyCost) {
  const Desk desk("reach_in_cooler");
  for (const char* cause : {"low_charge", "restriction", "dirty_condenser"}) {
    const Answer a = desk.diagnose(little_known(desk, cause, 1));
    ASSERT_FALSE(a.next.empty());
    int opening = 0;
    for (const auto& step : a.next) {
      EXPECT_EQ(step.opens_circuit, opens(step)) << step.subject;
      EXPECT_GT(step.minutes, 0) << step.subject;
      EXPECT_GT(step.information_bits, 0) << step.subject;
      if (opens(step)) {
        ++opening;
        EXPECT_GT(step.grams_lost, 0) << step.subject;
        EXPECT_FALSE(step.hazard.empty()) << step.subject;
      } else {
        EXPECT_EQ(step.grams_lost, 0) << step.subject;
      }
    }
    EXPECT_GE(opening, 1) << "a pressure would tell something here, and is offered with its price";
    EXPECT_TRUE(std::is_sorted(a.next.begin(), a.next.end(),
                               [](const auto& x, const auto& y) { return x.worth > y.worth; }));
  }
}

TEST(NextSteps, LookingComesBeforeOpening) {
  for (const char* cabinet : {"reach_in_cooler", "undercounter_cooler"}) {
    Desk desk(cabinet);
    desk.single_causes_only();
    for (const char* cause : {"low_charge", "noncondensable"}) {
      const Answer a = desk.diagnose(little_known(desk, cause, 2));
      std::size_t looking = a.next.size(), opening = a.next.size();
      for (std::size_t i = a.next.size(); i-- > 0;) {
        if (opens(a.next[i])) opening = i;
        if (a.next[i].is_observation && a.next[i].minutes <= 3) looking = i;
      }
      ASSERT_LT(looking, a.next.size()) << cabinet << " " << cause;
      EXPECT_LT(looking, opening) << cabinet << " " << cause;
      EXPECT_GT(opening, 2u) << cabinet << " " << cause << ": opening is no early step";
    }
  }
}

// An opening costs some 70 minutes and can make the verdict right at most as often as it is wrong now; a day
// is what a wrong one costs.
TEST(NextSteps, NothingIsOpenedForAVerdictThatStands) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  int standing = 0;
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    Case c = little_known(desk, "dirty_condenser", seed);
    Desk::see(c, "condenser_face", "blocked");
    Desk::see(c, "condenser_fan", "running");
    const Answer a = desk.diagnose(c);
    if (a.causes.front().probability < 0.9) continue;
    ++standing;
    for (const auto& step : a.next) EXPECT_FALSE(step.opens_circuit) << seed << " " << step.subject;
  }
  EXPECT_GE(standing, 2);
}

diagnosis::NextStep step(const char* subject, double pays, double worth) {
  return {subject, false, 0.1, 5, 0, false, "", worth, pays};
}

TEST(NextSteps, WorthTakingIsWhatPaysAFifthOrTellsItsBitsCheaply) {
  const auto kept = diagnosis::worth_taking({step("pays", 0.2, 0.001), step("cheap", 0, 0.03),
                                             step("neither", 0.199, 0.0299), step("both", 4, 0.2)});
  std::vector<std::string> names;
  for (const auto& s : kept) names.push_back(s.subject);
  EXPECT_EQ(names, (std::vector<std::string>{"pays", "cheap", "both"}));
  EXPECT_TRUE(diagnosis::worth_taking({}).empty());
}

// One more reading can make the verdict right at most as often as it is wrong now: what it is said to pay
// keeps to that. Of what tells something only that is left out which isn't worth taking, and something is.
TEST(NextSteps, WhatIsNamedPromisesNoMoreThanThereIsToGain) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  std::size_t left_out = 0;
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    Case c = little_known(desk, "dirty_condenser", seed);
    Desk::see(c, "condenser_face", "blocked");
    const Answer a = desk.diagnose(c);
    const double wrong = 1 - a.causes.front().probability;
    for (const auto& s : a.telling)
      if (!s.opens_circuit) {
        EXPECT_LE(s.pays * s.minutes, 480 * wrong + 1e-6) << s.subject;
      }
    const auto kept = diagnosis::worth_taking(a.telling);
    ASSERT_EQ(kept.size(), a.next.size());
    for (std::size_t i = 0; i < kept.size(); ++i) EXPECT_EQ(kept[i].subject, a.next[i].subject);
    left_out += a.telling.size() - a.next.size();
  }
  EXPECT_GT(left_out, 0u);
}

TEST(NextSteps, NothingReadOrSeenIsAskedAgain) {
  const Desk desk("reach_in_cooler");
  Case c = little_known(desk, "low_charge", 1);
  Desk::see(c, "condenser_fan", "running");
  const Answer a = desk.diagnose(c);
  for (const auto& step : a.next) {
    EXPECT_NE(step.subject, "compressor_current");
    EXPECT_NE(step.subject, "condenser_fan");
    EXPECT_NE(step.subject, "complaint");
  }
}

// Taken on machines with a known cause: what the recommended step adds to ln p(truth), on average. It is what
// the step promises, so it can't be negative but by chance of the sample.
TEST(NextSteps, TheRecommendedStepHelpsOnAverage) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  const std::vector<std::string> causes{"low_charge",    "restriction",    "dirty_condenser",
                                        "condenser_fan", "evaporator_fan", "iced_evaporator",
                                        "worn_valves",   "overcharge"};
  double gain = 0, promised = 0;
  int taken = 0;
  for (std::uint64_t i = 0; i < 8; ++i) {
    const std::string& cause = causes[i % causes.size()];
    const Simulated truth = desk.machine(cause, 10 + i);
    Case c = desk.blank();
    desk.read(c, truth, {compressor_current, condenser_middle_temp}, 10 + i);
    const Answer before = desk.diagnose(c);
    if (before.next.empty()) continue;
    const auto& step = before.next.front();
    if (step.is_observation) {
      RandomStream random = RandomStream(900 + i);
      for (const auto& model : desk.knowledge().observations) {
        if (model.subject != step.subject) continue;
        double u = random.uniform(), sum = 0;
        std::size_t v = 0;
        while (v + 1 < model.values.size() &&
               (sum += diagnosis::observation_probability(model, v, desk.hypothesis(cause), desk.knowledge(),
                                                          truth)) < u)
          ++v;
        Desk::see(c, step.subject, model.values[v]);
      }
    } else {
      desk.read(c, truth, {*circuit::reading_from_id(step.subject)}, 10 + i);
    }
    const Answer after = desk.diagnose(c);
    gain += std::log2(std::max(probability(after, cause), 1e-4) / std::max(probability(before, cause), 1e-4));
    promised += step.information_bits;
    ++taken;
  }
  ASSERT_GE(taken, 6);
  EXPECT_GT(gain / taken, 0) << "promised " << promised / taken << " bit a step";
  RecordProperty("gain_millibits", static_cast<int>(1000 * gain / taken));
  RecordProperty("promised_millibits", static_cast<int>(1000 * promised / taken));
}

// A turning value is where the first two causes are equally likely. It is read off a linear model of either,
// far from where that was made, and the rerun samples anew: most reruns come within a factor of two, and this
// is what is reached, not what one would wish. Verdicts against a pair are left out: a rerun may not look at
// it.
TEST(Turnings, AtTheStatedValueTheTwoCausesAreAboutEquallyLikely) {
  constexpr double kFactor = 2, kShareWithin = 0.5;
  const Desk desk("reach_in_cooler");
  int tried = 0, held = 0;
  std::string misses;
  for (const char* cause : {"low_charge", "restriction", "overcharge"}) {
    Case c = desk.blank();
    Desk::see(c, "condenser_fan", "running");
    Desk::see(c, "evaporator_fan", "running");
    desk.read(c, desk.machine(cause, 3, {{Extra::severity, -0.5}}),
              {compressor_current, condenser_middle_temp, liquid_line_temp, suction_pressure}, 3);
    const Answer a = desk.diagnose(c);
    for (const auto& t : a.turnings) {
      if (t.second.find('+') != std::string::npos) continue;
      Case moved = c;
      if (t.already_read) {
        for (auto& r : moved.readings)
          if (r.kind == t.kind) r.value = t.value;
      } else {
        desk.read_one(moved, t.kind, t.value);
      }
      const Answer b = desk.diagnose(moved);
      const double ratio = probability(b, t.first) / std::max(probability(b, t.second), 1e-9);
      const bool close = ratio < kFactor && ratio > 1 / kFactor;
      ++tried;
      held += close;
      if (!close)
        misses += std::string(cause) + " " + std::string(circuit::info(t.kind).id) +
                  (t.already_read ? " (read " + std::to_string(*t.given) + ")" : " (unread)") + " at " +
                  std::to_string(t.value) + ": " + t.first + "/" + t.second + " = " + std::to_string(ratio) +
                  "\n";
    }
  }
  ASSERT_GT(tried, 3);
  EXPECT_GE(held, kShareWithin * tried) << misses;
  RecordProperty("within_factor_two", held);
  RecordProperty("tried", tried);
}

TEST(Turnings, NameValuesThatCanBeRead) {
  const Desk desk("reach_in_cooler");
  for (const char* cause : {"low_charge", "restriction"}) {
    Case c = desk.blank();
    desk.read(c, desk.machine(cause, 1),
              {compressor_current, condenser_middle_temp, liquid_line_temp, suction_pressure}, 1);
    for (const auto& t : desk.diagnose(c).turnings) {
      const std::string what =
          std::string(cause) + " " + std::string(circuit::info(t.kind).id) + " " + std::to_string(t.value);
      switch (circuit::info(t.kind).quantity) {
        case circuit::QuantityKind::temperature:
          EXPECT_GT(t.value, 200) << what;
          EXPECT_LT(t.value, 450) << what;
          break;
        default:
          EXPECT_GT(t.value, 0) << what;
      }
    }
  }
}

}  // namespace
}  // namespace coldwright::test

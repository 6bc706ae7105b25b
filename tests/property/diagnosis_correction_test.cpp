// The learned correction: what it adds to which hypothesis, that it is silent where it learned nothing, and
// that what an answer says of each reading reckons with it.
#include <algorithm>
#include <cmath>
#include <limits>

#include "diagnosis/correction.hpp"
#include "diagnosis/findings.hpp"
#include "diagnosis/investigation.hpp"
#include "diagnosis/traits.hpp"
#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using diagnosis::Correction;
using enum ReadingKind;

// One trait, one look, and weights for two causes; everything else stays as physics has it.
Correction small(double trust = 1) {
  Correction c;
  c.trust = trust;
  c.scales = {{"middle_less_room", 12, 6}};
  c.looks = {{"evaporator_coil", "frost_at_inlet_only"}};
  //                             always, in spreads, past -1.5, -0.75, 0, 0.75, 1.5; the look
  c.causes = {{"dirty_condenser", {0.1, 0.2, 0, 0, 0.5, 0, 1, 0}},
              {"low_charge", {0, -0.3, 0, 0, 0, 0, 0, 0.7}}};
  return c;
}

double of(const Desk& desk, const std::vector<double>& nats, const std::string& cause) {
  for (std::size_t i = 0; i < nats.size(); ++i)
    if (desk.knowledge().causes[i].id == cause) return nats[i];
  return std::numeric_limits<double>::quiet_NaN();
}

Case with_split(const Desk& desk, double split) {
  Case c = desk.blank();
  desk.read_one(c, condenser_middle_temp, desk.ambient + split);
  return c;
}

Case three_readings(const Desk& desk, const char* cause, std::uint64_t seed, ReadingKind third) {
  Case c = desk.blank();
  desk.read(c, desk.machine(cause, seed), {compressor_current, condenser_middle_temp, third});
  return c;
}

std::vector<double> learned(const Desk& desk, const Case& c) {
  const auto evidence = diagnosis::prepare(c, desk.knowledge());
  diagnosis::Scene scene = desk.scene();
  scene.plate = &c.nameplate;
  return diagnosis::learned(scene, c, *evidence);
}

TEST(Correction, IsALineWithBendsAndEndsThreeSpreadsOut) {
  Desk desk("reach_in_cooler");
  desk.correct_by(small());
  const auto dirt = [&](double split) {
    return of(desk, learned(desk, with_split(desk, split)), "dirty_condenser");
  };
  EXPECT_NEAR(dirt(12), 0.1, 1e-12) << "at its middle";
  EXPECT_NEAR(dirt(9), 0.1 - 0.5 * 0.2, 1e-12);
  EXPECT_NEAR(dirt(18), 0.1 + 0.2 + 0.5, 1e-12) << "past the bend at 0";
  EXPECT_NEAR(dirt(24), 0.1 + 2 * 0.2 + 2 * 0.5 + 0.5 * 1, 1e-12) << "past that at 1.5 as well";
  EXPECT_NEAR(dirt(60), dirt(30), 1e-12) << "no farther than three spreads";
  EXPECT_EQ(of(desk, learned(desk, with_split(desk, 24)), "overcharge"), 0) << "it learned nothing of that";
}

TEST(Correction, WhatIsNotReadAddsNothing) {
  Desk desk("reach_in_cooler");
  desk.correct_by(small());
  EXPECT_NEAR(of(desk, learned(desk, desk.blank()), "dirty_condenser"), 0.1, 1e-12);
  EXPECT_EQ(of(desk, learned(desk, desk.blank()), "low_charge"), 0);
  Case seen = desk.blank();
  seen.observations.push_back({"evaporator_coil", "frost_at_inlet_only", "coil", 0.6});
  EXPECT_NEAR(of(desk, learned(desk, seen), "low_charge"), 0.6 * 0.7, 1e-12) << "as sure as it is";
}

TEST(Correction, OfTwoCausesIsTheSumAndOneConstant) {
  Desk desk("reach_in_cooler");
  Correction c = small(0.5);
  c.two = -0.25;
  desk.correct_by(c);
  const Case one = with_split(desk, 18);
  const auto evidence = *diagnosis::prepare(one, desk.knowledge());
  std::vector<Hypothesis> all = diagnosis::hypotheses(desk.knowledge(), desk.kind().condenser);
  diagnosis::correct(all, desk.scene(), one, evidence);
  for (const Hypothesis& h : all) {
    double sum = h.causes.size() == 2 ? -0.25 : 0;
    for (int cause : h.causes) {
      const std::string& id = desk.knowledge().causes[static_cast<std::size_t>(cause)].id;
      sum += id == "dirty_condenser" ? 0.8 : id == "low_charge" ? -0.3 : 0;
    }
    EXPECT_NEAR(h.learned, sum, 1e-12) << h.id;
    EXPECT_EQ(h.trust, 0.5) << h.id;
    EXPECT_NEAR(h.standing(-3), h.trust * -3 + h.log_prior + sum, 1e-12) << h.id;
  }
}

TEST(Correction, IsSilentWhereNobodyComplains) {
  Desk desk("reach_in_cooler");
  desk.correct_by(small(0.5));
  desk.not_cooling = false;
  EXPECT_TRUE(learned(desk, with_split(desk, 24)).empty());
  const Case c = with_split(desk, 24);
  const auto open = diagnosis::Investigation::open(
      c, std::make_shared<const circuit::WorkingFluid>(desk.working()), desk.knowledge());
  ASSERT_TRUE(open);
  for (const Hypothesis& h : (*open)->hypotheses()) {
    EXPECT_EQ(h.trust, 1);
    EXPECT_EQ(h.learned, 0);
  }
}

TEST(Correction, OfNothingLeavesPhysicsAsItIs) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  const Case c = three_readings(desk, "restriction", 3, evaporator_inlet_temp);
  const Answer alone = desk.diagnose(c);
  desk.correct_by(Correction{});
  const Answer corrected = desk.diagnose(c);
  ASSERT_EQ(alone.causes.size(), corrected.causes.size());
  for (std::size_t i = 0; i < alone.causes.size(); ++i) {
    EXPECT_EQ(alone.causes[i].cause, corrected.causes[i].cause);
    EXPECT_EQ(alone.causes[i].probability, corrected.causes[i].probability);
  }
}

// ln odds of two causes move by exactly what was learned, since both were looked at alike.
TEST(Correction, MovesTheOddsByWhatItLearned) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  const Case c = three_readings(desk, "dirty_condenser", 5, liquid_line_temp);
  const auto odds = [&](const Answer& a) {
    return std::log(probability(a, "dirty_condenser") / probability(a, "overcharge"));
  };
  const double before = odds(desk.diagnose(c));
  desk.correct_by(small());
  const double moved = of(desk, learned(desk, c), "dirty_condenser");
  ASSERT_GT(std::abs(moved), 0.1);
  EXPECT_NEAR(odds(desk.diagnose(c)) - before, moved, 1e-6);
}

// Two causes that lead by what was learned and by nothing else: no evidence is trusted.
Correction all_learned() {
  Correction c = small(0);
  c.causes = {{"dirty_condenser", {8, 1.5, 0, 0, 0, 0, 0, 0}}, {"overcharge", {8, -0.5, 0, 0, 0, 0, 0, 1.2}}};
  return c;
}

TEST(Correction, IsPartOfWhatEachPieceOfEvidenceTells) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  desk.correct_by(all_learned());
  Case c = with_split(desk, 18);
  desk.read_one(c, compressor_current, *desk.plate.rated_current);
  Desk::see(c, "evaporator_coil", "frost_at_inlet_only");
  const Answer a = desk.diagnose(c);
  ASSERT_EQ(a.causes.front().cause, "dirty_condenser");
  const auto& causes = desk.knowledge().causes;
  // ln, of dirt against the rest; what physics rules out has its prior in it and no more.
  const auto odds = [&](double split, double look) {
    double dirt = 0, rest = 0;
    for (const Hypothesis& h : diagnosis::hypotheses(desk.knowledge(), desk.kind().condenser)) {
      const std::string& id = causes[static_cast<std::size_t>(h.causes.front())].id;
      const double z = (split - 12) / 6;
      const double nats = id == "dirty_condenser" ? 8 + 1.5 * z
                          : id == "overcharge"    ? 8 - 0.5 * z + 1.2 * look
                                                  : 0;
      (id == "dirty_condenser" ? dirt : rest) += std::exp(h.log_prior + nats);
    }
    return std::log(dirt / rest);
  };
  const auto told = [&](const std::string& subject) {
    for (const auto& x : a.contributions)
      if (x.subject == subject) return x.log_odds;
    return std::numeric_limits<double>::quiet_NaN();
  };
  EXPECT_NEAR(told("condenser_middle_temp"), odds(18, 1) - odds(12, 1), 0.01);
  EXPECT_NEAR(told("evaporator_coil"), odds(18, 1) - odds(18, 0), 0.01);
  EXPECT_NEAR(told("compressor_current"), 0, 1e-6) << "which has no part in it";
}

TEST(Correction, IsPartOfWhatWouldChangeTheVerdict) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  desk.correct_by(all_learned());
  const Case c = with_split(desk, 18);
  const double prior = desk.hypothesis("dirty_condenser").log_prior - desk.hypothesis("overcharge").log_prior;
  const double split = 12 + 6 * -prior / (1.5 + 0.5);  // where both are equally likely
  int found = 0;
  for (const auto& t : desk.diagnose(c).turnings) {
    if (!t.given || t.kind != condenser_middle_temp) continue;
    ++found;
    EXPECT_EQ(t.first + " " + t.second, "dirty_condenser overcharge");
    EXPECT_NEAR(t.value, desk.ambient + split, 0.01);
    EXPECT_FALSE(t.swaps_above);
  }
  EXPECT_EQ(found, 1);
}

TEST(Correction, IsSaidWhereItMovedTheVerdict) {
  Desk desk("reach_in_cooler");
  desk.single_causes_only();
  const Case c = three_readings(desk, "low_charge", 4, evaporator_inlet_temp);
  const auto said = [](const Answer& a) {
    return std::find_if(a.quality.remarks.begin(), a.quality.remarks.end(),
                        [](const auto& r) { return r.key == "corrected"; });
  };
  const Answer alone = desk.diagnose(c);
  EXPECT_EQ(said(alone), alone.quality.remarks.end()) << "there is nothing to say of physics alone";
  Correction much;
  much.causes = {{"restriction", {9}}};
  desk.correct_by(much);
  const Answer moved = desk.diagnose(c);
  ASSERT_EQ(moved.causes.front().cause, "restriction");
  const auto remark = said(moved);
  ASSERT_NE(remark, moved.quality.remarks.end());
  EXPECT_EQ(remark->words.front().second, "restriction");
  EXPECT_NEAR(remark->values[0].value, 100 * probability(alone, "restriction"), 2) << "by physics, percent";
  EXPECT_NEAR(remark->values[1].value, 100 * moved.causes.front().probability, 1e-9);
}

TEST(Traits, AreReckonedFromWhatWasRead) {
  const Desk desk("reach_in_cooler");
  Case c = desk.blank();
  desk.read_one(c, condenser_middle_temp, desk.ambient + 15);
  desk.read_one(c, liquid_line_temp, desk.ambient + 9);
  desk.read_one(c, suction_pressure, desk.working().saturation_pressure(desk.box - 11));
  c.readings.back().minutes_running = 14;
  const std::vector<double> values = diagnosis::traits(desk.scene(), c);
  const auto& ids = diagnosis::trait_ids();
  const auto value = [&](const std::string& id) {
    return values[static_cast<std::size_t>(std::find(ids.begin(), ids.end(), id) - ids.begin())];
  };
  EXPECT_NEAR(value("middle_less_room"), 15, 1e-9);
  EXPECT_NEAR(value("middle_less_liquid"), 6, 1e-9);
  EXPECT_NEAR(value("share_lost_by_liquid"), 0.4, 1e-9);
  EXPECT_NEAR(value("box_less_boiling"), 11, 0.01);
  EXPECT_NEAR(value("minutes_running"), 14, 1e-9);
  EXPECT_TRUE(std::isnan(value("current_of_plate")));
  EXPECT_TRUE(std::isnan(value("inlet_less_boiling")));
}

}  // namespace
}  // namespace coldwright::test

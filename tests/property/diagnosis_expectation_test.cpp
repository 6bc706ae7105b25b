// What a sound machine should be reading: a box still warm isn't a box at its set point, and the rules of
// thumb stand beside the physics with the places where they part.
#include <algorithm>

#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

diagnosis::Expectation expectation(const Desk& desk, const Case& c) {
  diagnosis::Options options;
  options.population = desk.population;
  auto e = diagnosis::expect(c, desk.fluid(), desk.knowledge(), options);
  if (!e) {
    ADD_FAILURE() << to_text(e.problem());
    return {};
  }
  return std::move(*e);
}

const diagnosis::Interval& reading(const diagnosis::ExpectedState& s, ReadingKind kind) {
  for (const auto& r : s.readings)
    if (r.kind == kind) return r.interval;
  static const diagnosis::Interval none{};
  ADD_FAILURE();
  return none;
}

class Expectations : public testing::TestWithParam<const char*> {};

TEST_P(Expectations, AWarmBoxReadsHigherThanOneAtRest) {
  Desk desk(GetParam());
  desk.box = desk.kind().set_point_K + 15;
  const auto e = expectation(desk, desk.blank());
  EXPECT_EQ(e.now.box, desk.box);
  EXPECT_EQ(e.set_point.box, desk.kind().set_point_K);
  EXPECT_EQ(e.now.ambient, e.set_point.ambient);
  for (ReadingKind kind :
       {ReadingKind::suction_pressure, ReadingKind::evaporator_inlet_temp, ReadingKind::discharge_pressure})
    EXPECT_GT(reading(e.now, kind).mid, reading(e.set_point, kind).mid) << circuit::info(kind).id;
  for (const auto& r : e.now.readings) {
    EXPECT_LE(r.interval.low, r.interval.mid);
    EXPECT_LE(r.interval.mid, r.interval.high);
  }
}

TEST_P(Expectations, RulesOfThumbSayWhereTheyPart) {
  Desk desk(GetParam());
  desk.box = desk.kind().set_point_K + 15;
  const auto e = expectation(desk, desk.blank());
  for (const char* name : {"evaporator_td", "condenser_split", "superheat", "subcooling"}) {
    const auto rule =
        std::find_if(e.rules.begin(), e.rules.end(), [&](const auto& r) { return r.quantity == name; });
    ASSERT_NE(rule, e.rules.end()) << name;
    EXPECT_LT(rule->rule.low, rule->rule.high);
    const auto outside = [&](const diagnosis::Interval& physics) {
      return physics.mid < rule->rule.low || physics.mid > rule->rule.high;
    };
    if (outside(rule->physics_now) || outside(rule->physics_set_point)) {
      EXPECT_FALSE(rule->where_they_part.empty()) << name;
    }
    for (const auto& said : rule->where_they_part) {
      ASSERT_FALSE(said.words.empty());
      EXPECT_EQ(said.words.front().second, name);
    }
  }
  // A box 15 K too warm has an evaporator TD no rule of thumb allows for.
  const auto td = std::find_if(e.rules.begin(), e.rules.end(),
                               [](const auto& r) { return r.quantity == "evaporator_td"; });
  ASSERT_NE(td, e.rules.end());
  EXPECT_GT(td->physics_now.mid, td->physics_set_point.mid);
  EXPECT_FALSE(td->where_they_part.empty());
}

TEST_P(Expectations, MatchTheSoundMachinesOfADiagnosis) {
  Desk desk(GetParam());
  const auto e = expectation(desk, desk.blank());
  int inside = 0;
  const int machines = 20;
  for (int i = 0; i < machines; ++i) {
    const Simulated s = desk.machine("sound", static_cast<std::uint64_t>(200 + i));
    const auto& expected = reading(e.now, ReadingKind::discharge_pressure);
    const double p = Desk::shown(s, ReadingKind::discharge_pressure);
    inside += expected.low <= p && p <= expected.high;
  }
  EXPECT_GE(inside, 15) << "of 20, where 18 are expected";  // binomial: below 15 once in 90
}

TEST(Expectation, AnUnreadPlateIsWider) {
  Desk desk("reach_in_cooler");
  const auto known = expectation(desk, desk.blank());
  Case bare = desk.blank();
  bare.nameplate = {};
  bare.nameplate.archetype = desk.kind().id;
  const auto unknown = expectation(desk, bare);
  const auto width = [](const diagnosis::Expectation& e) {
    const auto& i = reading(e.now, ReadingKind::compressor_current);
    return (i.high - i.low) / i.mid;
  };
  EXPECT_GT(width(unknown), 1.3 * width(known));
}

INSTANTIATE_TEST_SUITE_P(Cabinets, Expectations,
                         testing::Values("reach_in_cooler", "undercounter_cooler", "ice_cream_display"),
                         [](const auto& row) { return std::string(row.param); });

}  // namespace
}  // namespace coldwright::test

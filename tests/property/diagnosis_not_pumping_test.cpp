// A compressor that turns without pumping: the sentence follows from pressure, air and current, and from
// nothing else.
#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using enum ReadingKind;

const std::vector<ReadingKind> kLowSide{suction_pressure, compressor_current, condenser_middle_temp,
                                        suction_line_temp};

class NotPumping : public testing::TestWithParam<const char*> {};

TEST_P(NotPumping, IsSaidWithNumbersThatTheFluidConfirms) {
  const Desk desk(GetParam());
  for (std::uint64_t seed : {1, 2}) {
    Case c = desk.blank();
    desk.read(c, desk.machine("not_pumping", seed), kLowSide, seed);
    const Answer a = desk.diagnose(c);
    const auto* said = reason(a, "turns_without_pumping");
    ASSERT_NE(said, nullptr) << seed << ": " << ranking(a);
    EXPECT_EQ(said, &a.reasons.front()) << "the weightiest reason stands first";

    const auto saturation = desk.fluid().saturation_temperature(c.readings[0].value);
    ASSERT_TRUE(saturation);
    // 0.01 K: the circuit reads the saturation line from a table.
    EXPECT_NEAR(value(*said, "saturation"), *saturation, 0.01);
    EXPECT_EQ(value(*said, "air"), *c.box);
    EXPECT_NEAR(value(*said, "gap"), std::abs(*c.box - *saturation), 0.01);
    EXPECT_EQ(value(*said, "current"), c.readings[1].value);
    const auto* idle = unseen(a, "unloaded_current");
    ASSERT_NE(idle, nullptr);
    EXPECT_GE(value(*said, "idle"), idle->interval.low);
    EXPECT_LE(value(*said, "idle"), idle->interval.high);
    EXPECT_GT(probability(a, "not_pumping") + probability(a, "pumping_lost_at_times"), 0.9) << ranking(a);
  }
}

TEST_P(NotPumping, IsNotSaidWhenTheCurrentIsNormal) {
  Desk desk(GetParam());
  desk.single_causes_only();
  for (std::uint64_t seed : {1, 2}) {
    Case c = desk.blank();
    desk.read(c, desk.machine("not_pumping", seed), kLowSide, seed);
    c.readings[1].value = desk.diagnose(c).contributions[1].expected_if_sound->mid;
    const Answer a = desk.diagnose(c);
    EXPECT_EQ(reason(a, "turns_without_pumping"), nullptr) << seed << ": " << ranking(a);
    EXPECT_EQ(reason(a, "turns_without_pumping_coil"), nullptr) << seed << ": " << ranking(a);
  }
}

TEST_P(NotPumping, IsNotSaidOfAMachineThatPumpsLittle) {
  Desk desk(GetParam());
  desk.single_causes_only();
  for (const char* cause : {"low_charge", "restriction", "sound"}) {
    Case c = desk.blank();
    desk.read(c, desk.machine(cause, 1, {{Extra::severity, 0.5}}), kLowSide, 1);
    const Answer a = desk.diagnose(c);
    EXPECT_EQ(reason(a, "turns_without_pumping"), nullptr) << cause << ": " << ranking(a);
  }
}

TEST_P(NotPumping, IsSaidFromTheCoilWithoutAGauge) {
  const Desk desk(GetParam());
  Case c = desk.blank();
  desk.read(c, desk.machine("not_pumping", 1),
            {evaporator_inlet_temp, compressor_current, condenser_middle_temp}, 1);
  const Answer a = desk.diagnose(c);
  const auto* said = reason(a, "turns_without_pumping_coil");
  ASSERT_NE(said, nullptr) << ranking(a);
  EXPECT_EQ(value(*said, "coil"), c.readings[0].value);
  EXPECT_EQ(value(*said, "air"), *c.box);
}

INSTANTIATE_TEST_SUITE_P(Cabinets, NotPumping,
                         testing::Values("reach_in_cooler", "undercounter_cooler", "older_reach_in_cooler"),
                         [](const auto& row) { return std::string(row.param); });

}  // namespace
}  // namespace coldwright::test

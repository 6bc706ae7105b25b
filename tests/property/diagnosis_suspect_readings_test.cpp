// A reading that no machine produces is flagged, not explained; a clean case is left alone.
#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using enum ReadingKind;

constexpr double kPsi = 6894.757;

std::vector<ReadingKind> low_side_and_clamps() {
  std::vector<ReadingKind> kinds = clamps();
  kinds.push_back(suction_pressure);
  return kinds;
}

Case sound_case(const Desk& desk, std::uint64_t seed) {
  Case c = desk.blank();
  Desk::see(c, "compressor", "running");
  desk.read(c, desk.machine("sound", seed), low_side_and_clamps(), seed);
  return c;
}

void set(Case& c, ReadingKind kind, double value) {
  for (auto& r : c.readings)
    if (r.kind == kind) r.value = value;
}

double given(const Case& c, ReadingKind kind) {
  for (const auto& r : c.readings)
    if (r.kind == kind) return r.value;
  return std::nan("");
}

void expect_doubted(const Desk& desk, const Case& c, ReadingKind kind, const std::string& what) {
  const Answer a = desk.diagnose(c);
  ASSERT_FALSE(a.suspects.empty()) << what << ": " << ranking(a);
  const auto& first = a.suspects.front();
  EXPECT_EQ(circuit::info(first.kind).id, circuit::info(kind).id) << what;
  EXPECT_EQ(first.value, given(c, kind));
  EXPECT_GT(first.probability_mistaken, 0.9) << what;
  EXPECT_TRUE(first.value < first.plausible.low || first.value > first.plausible.high) << what;
}

TEST(SuspectReadings, NoneInACleanCase) {
  Desk desk("reach_in_cooler");
  for (const bool complaint : {false, true}) {
    desk.not_cooling = complaint;
    for (std::uint64_t seed : {1, 2, 3}) {
      const Answer a = desk.diagnose(sound_case(desk, seed));
      EXPECT_TRUE(a.suspects.empty()) << seed << ": " << circuit::info(a.suspects.front().kind).id;
    }
  }
}

TEST(SuspectReadings, NoneInAFaultyButHonestCase) {
  const Desk desk("reach_in_cooler");
  for (const char* cause : {"low_charge", "restriction", "dirty_condenser", "not_pumping", "worn_valves"}) {
    Case c = desk.blank();
    desk.read(c, desk.machine(cause, 2), low_side_and_clamps(), 2);
    const Answer a = desk.diagnose(c);
    EXPECT_TRUE(a.suspects.empty()) << cause << ": " << circuit::info(a.suspects.front().kind).id;
  }
}

TEST(SuspectReadings, SuctionOf250PsigOnAMachineThatCools) {
  const Desk desk("reach_in_cooler");
  for (std::uint64_t seed : {1, 2, 3}) {
    Case c = sound_case(desk, seed);
    set(c, suction_pressure, desk.site_pressure + 250 * kPsi);
    expect_doubted(desk, c, suction_pressure, "seed " + std::to_string(seed));
  }
}

TEST(SuspectReadings, LiquidLineFarColderThanTheRoom) {
  const Desk desk("reach_in_cooler");
  for (std::uint64_t seed : {1, 2, 3}) {
    Case c = sound_case(desk, seed);
    set(c, liquid_line_temp, desk.ambient - 30 / 1.8);
    expect_doubted(desk, c, liquid_line_temp, "seed " + std::to_string(seed));
  }
}

TEST(SuspectReadings, DischargeLineColderThanTheSuctionLine) {
  const Desk desk("reach_in_cooler");
  for (std::uint64_t seed : {1, 2, 3}) {
    Case c = sound_case(desk, seed);
    set(c, discharge_line_temp, given(c, suction_line_temp) - 5);
    expect_doubted(desk, c, discharge_line_temp, "seed " + std::to_string(seed));
  }
}

// Doubting it must also keep it from deciding: the answer stays near the one without it.
TEST(SuspectReadings, AnImpossibleReadingDoesNotDecide) {
  const Desk desk("reach_in_cooler");
  Case c = sound_case(desk, 1);
  set(c, suction_pressure, desk.site_pressure + 250 * kPsi);
  const Answer with = desk.diagnose(c);
  std::erase_if(c.readings, [](const auto& r) { return r.kind == suction_pressure; });
  const Answer without = desk.diagnose(c);
  EXPECT_EQ(leader(with), leader(without)) << ranking(with) << " | " << ranking(without);
  EXPECT_NEAR(probability(with, leader(without)), probability(without, leader(without)), 0.25);
}

}  // namespace
}  // namespace coldwright::test

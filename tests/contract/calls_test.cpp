// The call file: what is read, how corrections and repeated readings settle, and that calls merge as sets.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "call_words.hpp"
#include "calls/call.hpp"
#include "calls/fold.hpp"

namespace coldwright::calls {
namespace {

using tests::call_of;
using tests::noon;
using tests::plate;
using tests::words;

Call must_read(const std::string& text) {
  auto call = read_call(text);
  EXPECT_TRUE(call) << to_text(call.problem());
  return call ? *call : Call{};
}

Folded must_fold(const std::string& entries) {
  auto folded = fold(must_read(call_of(entries)), words(), noon);
  EXPECT_TRUE(folded) << to_text(folded.problem());
  return folded ? *folded : Folded{};
}

Problem must_refuse(const std::string& entries) {
  const auto call = read_call(call_of(entries));
  if (!call) return call.problem();
  const auto folded = fold(*call, words(), noon);
  EXPECT_FALSE(folded) << entries;
  return folded ? Problem{} : folded.problem();
}

std::string reading(const std::string& what, const std::string& value, const std::string& more = "") {
  return R"({"kind": "reading", "what": ")" + what + R"(", "value": ")" + value + "\"" + more + "}";
}

bool has_remark(const Folded& folded, const std::string& key) {
  return std::any_of(folded.remarks.begin(), folded.remarks.end(),
                     [&](const auto& r) { return r.key == key; });
}

TEST(CallFile, FoldsIntoACase) {
  const Folded f =
      must_fold(plate + R"(, {"kind": "site", "ambient": "81 F", "box": "52 F", "altitude": "5000 ft"},
      {"kind": "observation", "subject": "condenser fan", "value": "Running"},
      {"kind": "reading", "what": "Suction pressure", "value": "31.5 psig", "accuracy": "1 psi", "running_for": "25 min", "id": "r1"},
      {"kind": "reading", "what": "compressor_current", "value": "1,84 A", "accuracy": "2 %"},
      {"kind": "note", "text": "owner says it hums at night"})");
  const diagnosis::Case& c = f.the_case;
  EXPECT_EQ(f.refrigerant, "R290");
  EXPECT_EQ(c.nameplate.archetype, "reach_in_cooler");
  EXPECT_NEAR(*c.nameplate.charge, 3.2 * 0.028349523125, 1e-12);
  EXPECT_NEAR(*c.ambient, (81 + 459.67) / 1.8, 1e-9);
  EXPECT_NEAR(c.site_pressure, 84307, 10);  // 1524 m [iso2533]
  ASSERT_EQ(c.readings.size(), 2u);
  EXPECT_EQ(c.readings[0].kind, circuit::ReadingKind::suction_pressure);
  EXPECT_EQ(c.readings[0].id, "r1");
  EXPECT_NEAR(c.readings[0].value, c.site_pressure + 31.5 * 6894.757293168361, 1e-6);
  // +-a without more said is rectangular: a / sqrt(3) [jcgm100, 4.3.7]
  EXPECT_NEAR(*c.readings[0].accuracy, 6894.757293168361 / std::sqrt(3.0), 1e-6);
  EXPECT_NEAR(*c.readings[0].minutes_running, 25, 1e-9);
  EXPECT_NEAR(*c.readings[1].accuracy, 0.02 * 1.84 / std::sqrt(3.0), 1e-12);
  ASSERT_EQ(c.observations.size(), 1u);
  EXPECT_EQ(c.observations[0].subject, "condenser_fan");
  EXPECT_EQ(c.observations[0].value, "running");
}

TEST(CallFile, AFindingMaySayHowSureItIs) {
  const auto with = [](const std::string& more) {
    return plate + R"(, {"kind": "observation", "subject": "compressor", "value": "running")" + more + "}";
  };
  const Folded most = must_fold(with(R"(, "confidence": "85 %")"));
  ASSERT_EQ(most.the_case.observations.size(), 1u);
  EXPECT_NEAR(most.the_case.observations[0].confidence, 0.85, 1e-12);
  EXPECT_EQ(must_fold(with("")).the_case.observations[0].confidence, 1);
  for (const char* wrong : {"0 %", "130 %", "surely"}) {
    const Problem problem = must_refuse(with(R"(, "confidence": ")" + std::string(wrong) + "\""));
    EXPECT_NE(problem.field.find("confidence"), std::string::npos) << wrong;
  }
}

TEST(CallFile, AWornPlateNeedsItsCabinetOnly) {
  const Folded f = must_fold(R"({"kind": "nameplate", "cabinet": "bottle_cooler"})");
  EXPECT_EQ(f.refrigerant, "R600a");
  EXPECT_FALSE(f.the_case.nameplate.refrigerant);
  EXPECT_TRUE(has_remark(f, "refrigerant_assumed"));
  EXPECT_TRUE(has_remark(f, "sea_level_assumed"));
}

TEST(CallFile, AnOpenWindingReadsAsMuchMoreThanAnyWinding) {
  EXPECT_EQ(must_fold(plate + "," + reading("run_winding_ohms", "OL")).the_case.readings[0].value, 1e6);
}

TEST(CallFile, UnitsFollowThePreferenceThenTheEntries) {
  EXPECT_EQ(must_fold(plate + R"(, {"kind": "site", "ambient": "81 F"})").units, base::UnitSystem::us);
  EXPECT_EQ(
      must_fold(
          R"({"kind": "nameplate", "cabinet": "bottle_cooler", "charge": "45 g"}, {"kind": "site", "ambient": "27 C"})")
          .units,
      base::UnitSystem::metric);
  const auto asked = fold(must_read(R"({"units": "metric", "entries": [)" + plate + "]}"), words(), noon);
  EXPECT_EQ(asked->units, base::UnitSystem::metric);
}

TEST(CallFile, AnUnknownKindIsKeptAndNamed) {
  const std::string text = call_of(plate + R"(, {"kind": "decay_trace", "id": "t1", "samples": [1, 2, 3]})");
  const Call call = must_read(text);
  const auto folded = fold(call, words(), noon);
  ASSERT_TRUE(folded);
  EXPECT_TRUE(has_remark(*folded, "unknown_kind_kept"));
  EXPECT_NE(write_call(call).find("\"samples\""), std::string::npos);
}

TEST(Corrections, AnotherEntryStandsForTheOneItNames) {
  const Folded f = must_fold(plate + "," + reading("suction_pressure", "31.5 psig", R"(, "id": "r1")") + "," +
                             reading("suction_pressure", "13.5 psig", R"(, "id": "r2", "replaces": "r1")"));
  ASSERT_EQ(f.the_case.readings.size(), 1u);
  EXPECT_EQ(f.the_case.readings[0].id, "r2");
}

TEST(Corrections, ANoteWithdrawsAnEntryAndWhatWasReplacedStaysReplaced) {
  const Folded f = must_fold(plate + "," + reading("suction_pressure", "31.5 psig", R"(, "id": "r1")") + "," +
                             reading("suction_pressure", "13.5 psig", R"(, "id": "r2", "replaces": "r1")") +
                             R"(, {"kind": "note", "text": "hose valve was shut", "replaces": "r2"})");
  EXPECT_TRUE(f.the_case.readings.empty());
}

TEST(Corrections, CanCorrectTheNameplate) {
  const Folded f = must_fold(
      plate +
      R"(, {"kind": "nameplate", "replaces": "plate", "cabinet": "reach_in_cooler", "charge": "3.6 oz"})");
  EXPECT_NEAR(*f.the_case.nameplate.charge, 3.6 * 0.028349523125, 1e-12);
  EXPECT_FALSE(f.the_case.nameplate.rated_current);  // the whole entry is replaced
}

TEST(Corrections, ThatCannotBeFollowedAreRefused) {
  EXPECT_NE(
      must_refuse(plate + "," + reading("shell_temp", "90 F", R"(, "replaces": "plat")")).why.find("plate"),
      std::string::npos);
  EXPECT_NE(must_refuse(plate + "," + reading("shell_temp", "90 F", R"(, "replaces": "plate")"))
                .allowed.find("same kind"),
            std::string::npos);
  EXPECT_NE(must_refuse(plate + "," + reading("shell_temp", "90 F", R"(, "id": "a", "replaces": "b")") + "," +
                        reading("shell_temp", "91 F", R"(, "id": "b", "replaces": "a")"))
                .why.find("ring"),
            std::string::npos);
  EXPECT_NE(must_refuse(plate + "," + reading("shell_temp", "90 F", R"(, "id": "a", "replaces": "a")"))
                .why.find("ring"),
            std::string::npos);
}

TEST(Repeated, TheLatestByTimeStandsAndIsTold) {
  const std::string early =
      reading("suction_pressure", "31.5 psig", R"(, "at": "2025-11-20T10:00:00+01:00")");
  const std::string late = reading("suction_pressure", "18 psig", R"(, "at": "2025-11-20T09:30:00Z")");
  for (const std::string& entries : {early + "," + late, late + "," + early}) {
    const Folded f = must_fold(plate + "," + entries);
    ASSERT_EQ(f.the_case.readings.size(), 1u);
    EXPECT_NEAR(f.the_case.readings[0].value, 101325 + 18 * 6894.757293168361, 1e-6);
    EXPECT_TRUE(has_remark(f, "reading_later_stands"));
  }
}

TEST(Repeated, TheSameValueTwiceIsNoContradiction) {
  const Folded f = must_fold(plate + "," + reading("suction_pressure", "31.5 psig") + "," +
                             reading("suction_pressure", "31.50 psig"));
  EXPECT_EQ(f.the_case.readings.size(), 1u);
}

TEST(Repeated, DifferentValuesWithoutAnOrderAreRefused) {
  const Problem problem = must_refuse(plate + "," + reading("suction_pressure", "31.5 psig") + "," +
                                      reading("suction_pressure", "18 psig"));
  EXPECT_EQ(problem.field, "reading, suction pressure");
  EXPECT_NE(problem.given.find("31.5 psig"), std::string::npos);
  EXPECT_NE(problem.given.find("18 psig"), std::string::npos);
  EXPECT_NE(problem.allowed.find("replaces"), std::string::npos);
}

TEST(Times, AreReadAsRfc3339) {
  for (const auto& [text, seconds] : {std::pair<const char*, std::int64_t>{"1970-01-01T00:00:00Z", 0},
                                      {"2025-11-20T13:00:00+01:00", 1763640000},
                                      {"2025-11-20t12:00:00z", 1763640000},
                                      {"2025-11-20 12:00Z", 1763640000},
                                      {"2000-02-29T23:59:59Z", 951868799},
                                      {"1969-12-31T23:00:00-01:00", 0},
                                      {"2025-11-20T12:00:00.25Z", 1763640000}}) {
    const auto instant = parse_instant(text, "at");
    ASSERT_TRUE(instant) << text;
    EXPECT_EQ(instant->seconds, seconds) << text;
  }
  EXPECT_EQ(to_text(noon), "2025-11-20T12:00:00Z");
  EXPECT_EQ(to_text(Instant{951868799, 0}), "2000-02-29T23:59:59Z");
  EXPECT_EQ(to_text(Instant{-1, 0}), "1969-12-31T23:59:59Z");
  for (const char* text :
       {"2025-11-20T12:00:00", "2025-11-20", "2025-02-29T12:00:00Z", "2025-13-01T12:00:00Z",
        "20.11.2025 12:00", "2025-11-20T24:00:00Z", "2025-11-20T12:00:00.Z", "2025-11-20T12:00:00Z ", ""})
    EXPECT_FALSE(parse_instant(text, "at")) << text;
}

// --- merging ---

bool same(const Call& a, const Call& b) { return write_call(a) == write_call(b); }

/// A call of `n` entries, each with or without id and time; `seed` fixes them.
Call some_call(unsigned seed, int n) {
  std::mt19937 random(seed);
  std::string entries = plate;
  for (int i = 0; i < n; ++i) {
    const auto k = static_cast<unsigned>(random() % 12);  // few different ones, so that calls overlap
    std::string more;
    if (k % 2 == 0) more += R"(, "id": "r)" + std::to_string(k) + "\"";
    if (k % 3 != 0) more += R"(, "at": "2025-11-20T0)" + std::to_string(k % 10) + R"(:30:00Z", "by": "Ebba")";
    entries +=
        "," + reading(k % 4 < 2 ? "suction_pressure" : "shell_temp",
                      (k % 4 < 2 ? std::to_string(20 + k) + " psig" : std::to_string(90 + k) + " F"), more);
  }
  return must_read(call_of(entries));
}

TEST(Merge, IsAUnionOfEntries) {
  for (unsigned seed = 0; seed < 60; ++seed) {
    const Call a = some_call(seed, 5), b = some_call(seed + 1000, 6), c = some_call(seed + 2000, 4);
    const auto ab = merge(a, b), ba = merge(b, a);
    ASSERT_TRUE(ab) << to_text(ab.problem());
    EXPECT_TRUE(same(*ab, *ba)) << "commutative, seed " << seed;
    EXPECT_TRUE(same(*merge(*ab, b), *ab)) << "idempotent, seed " << seed;
    EXPECT_TRUE(same(*merge(*ab, *ab), *ab)) << "idempotent, seed " << seed;
    EXPECT_TRUE(same(*merge(*ab, c), *merge(a, *merge(b, c)))) << "associative, seed " << seed;
    EXPECT_TRUE(same(must_read(write_call(*ab)), *ab)) << "survives the file, seed " << seed;
    EXPECT_TRUE(same(*merge(*ab, must_read(write_call(a))), *ab)) << "ids survive the file, seed " << seed;
  }
}

TEST(Merge, FoldDependsOnTheSetAlone) {
  std::mt19937 random(7);
  Call call = must_read(
      call_of(plate + "," + reading("suction_pressure", "31.5 psig", R"(, "at": "2025-11-20T09:00:00Z")") +
              "," + reading("suction_pressure", "18 psig", R"(, "at": "2025-11-20T09:10:00Z")") + "," +
              reading("shell_temp", "120 F") + "," + reading("liquid_line_temp", "88 F") +
              R"(, {"kind": "observation", "subject": "compressor", "value": "running"})"));
  const auto first = fold(call, words(), noon);
  ASSERT_TRUE(first);
  for (int i = 0; i < 20; ++i) {
    std::shuffle(call.entries.begin(), call.entries.end(), random);
    const auto again = fold(call, words(), noon);
    ASSERT_TRUE(again);
    ASSERT_EQ(again->the_case.readings.size(), first->the_case.readings.size());
    for (std::size_t k = 0; k < first->the_case.readings.size(); ++k) {
      EXPECT_EQ(again->the_case.readings[k].value, first->the_case.readings[k].value);
      EXPECT_EQ(again->the_case.readings[k].id, first->the_case.readings[k].id);
    }
    EXPECT_EQ(again->remarks.size(), first->remarks.size());
  }
}

TEST(Merge, RefusesOtherCallsAndOneIdWithTwoContents) {
  const Call a = must_read(R"({"call": "one", "entries": []})"),
             b = must_read(R"({"call": "two", "entries": []})");
  EXPECT_FALSE(merge(a, b));
  const Call c = must_read(call_of(reading("shell_temp", "90 F", R"(, "id": "x")")));
  const Call d = must_read(call_of(reading("shell_temp", "95 F", R"(, "id": "x")")));
  const auto both = merge(c, d);
  ASSERT_FALSE(both);
  EXPECT_NE(both.problem().why.find("never edited"), std::string::npos);
}

}  // namespace
}  // namespace coldwright::calls

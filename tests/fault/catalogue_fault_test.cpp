// Names that fit nothing or too much, compositions that aren't one: one clear message each.
#include <gtest/gtest.h>

#include <random>

#include "service/catalogue.hpp"

namespace coldwright::tests {
namespace {

using service::Catalogue;

const Catalogue& catalogue() {
  static const Result<Catalogue> loaded = Catalogue::load();
  return *loaded;
}

struct Bad {
  const char* typed;
  std::string allowed;  // in full
  std::string why;      // a part
};

TEST(Names, UnknownGivesTheNearest) {
  for (const Bad& row :
       {Bad{"R448C", "R448A, R448B or R449C", "isn't known"},
        Bad{"R134", "R134a, R114 or R124", "isn't known"}, Bad{"R13B1", "R13 or R13I1", "isn't known"},
        Bad{"propan", "R290 (propane) or R1270 (propene)", "nearest"},
        Bad{"isobutan", "R600a (isobutane)", "nearest"}, Bad{"R22a", "R22 or R422A", "nearest"},
        Bad{"methane", "R170 (ethane) or R1150 (ethene)", "nearest"},
        Bad{"xyzzy", "a designation such as R404A or a name such as propane", "none is spelled"},
        Bad{"---", "a designation such as R404A or a name such as propane", "none is spelled"}}) {
    const auto found = catalogue().find(row.typed);
    ASSERT_FALSE(found) << row.typed;
    EXPECT_EQ(found.problem().field, "refrigerant");
    EXPECT_EQ(found.problem().given, "\"" + std::string(row.typed) + "\"");
    EXPECT_EQ(found.problem().allowed, row.allowed) << row.typed;
    EXPECT_NE(found.problem().why.find(row.why), std::string::npos) << row.typed << found.problem().why;
  }
}

TEST(Names, AmbiguousListsWhatItMayBe) {
  for (const Bad& row :
       {Bad{"407", "R407A, R407B, R407C, R407D, R407E, R407F, R407G, R407H or R407I", ""},
        Bad{"R401", "R401A, R401B or R401C", ""}, Bad{"HFC-410", "R410A or R410B", ""},
        Bad{"508", "R508A or R508B", ""}, Bad{"1234", "R1234yf, R1234ze(E) or R1234ze(Z)", ""},
        Bad{"R-1336mzz", "R1336mzz(E) or R1336mzz(Z)", ""}, Bad{"1132", "R1132a or R1132(E)", ""}}) {
    const auto found = catalogue().find(row.typed);
    ASSERT_FALSE(found) << row.typed;
    EXPECT_EQ(found.problem().allowed, row.allowed) << row.typed;
    EXPECT_NE(found.problem().why.find("any of these"), std::string::npos)
        << row.typed << found.problem().why;
  }
}

TEST(Compositions, ThatAreNoneSayWhy) {
  for (const Bad& row :
       {Bad{"R32/R125 50/40", "shares that sum to 100 %, within 0.1 %", "90 %"},
        Bad{"R32/R125 50/50.2", "shares that sum to 100 %, within 0.1 %", "100.2 %"},
        Bad{"R32/R125 0.5/0.5", "shares that sum to 100 %, within 0.1 %", "1 %"},
        Bad{"R32/R125 50/25/25", "such as R32/R125/R134a 23/25/52, percent by mass",
            "2 names stand before 3"},
        Bad{"R32/R125", "such as R32/R125/R134a 23/25/52, percent by mass", "follow the names"},
        Bad{"50/50 R32/R125", "such as R32/R125/R134a 23/25/52, percent by mass", "follow the names"},
        Bad{"/", "such as R32/R125/R134a 23/25/52, percent by mass", "follow the names"},
        Bad{"R32/R32 50/50", "each component once", "R32 stands there twice"},
        Bad{"propane/R290 50/50", "each component once", "R290 stands there twice"},
        Bad{"R404A/R134a 50/50", "pure refrigerants", "R404A is a blend itself"},
        Bad{"R502/R134a 50/50", "pure refrigerants", "R502 is a blend itself"},
        Bad{"R32/R125 -50/150", "a percentage above 0", "share of R32"},
        Bad{"R32/R125 0/100", "a percentage above 0", "share of R32"},
        Bad{"R32/R125 5.0.0/95", "a percentage above 0", "share of R32"},
        Bad{"R32/R134 50/50", "R134a, R114 or R124", "isn't known"}}) {
    const auto shares = fluids::parse_composition(row.typed, catalogue().designations());
    ASSERT_FALSE(shares) << row.typed;
    EXPECT_EQ(shares.problem().field, "composition");
    EXPECT_EQ(shares.problem().allowed, row.allowed) << row.typed;
    EXPECT_NE(shares.problem().why.find(row.why), std::string::npos)
        << row.typed << ": " << shares.problem().why;
  }
}

TEST(Names, AnyBytesGetAnAnswer) {
  std::mt19937 random(11);
  const std::string common = "Rr-0123456789aAbBcefhyzE()/ .,%\xE2\x82\x80\xFF";
  for (int round = 0; round < 4000; ++round) {
    std::string typed;
    for (auto n = random() % 40; n > 0; --n) typed += common[random() % common.size()];
    const auto found = catalogue().find(typed);
    EXPECT_TRUE(!found || catalogue().entry(found->designation) != nullptr);
    const auto shares = fluids::parse_composition(typed, catalogue().designations());
    EXPECT_TRUE(shares || !shares.problem().why.empty());
  }
  EXPECT_FALSE(catalogue().find(std::string(100000, '4')));
  EXPECT_FALSE(fluids::parse_composition(std::string(100000, '/'), catalogue().designations()));
}

TEST(File, ThatIsDamagedSaysWhere) {
  EXPECT_FALSE(Catalogue::parse(""));
  EXPECT_FALSE(Catalogue::parse("{}"));
  const auto wrong = Catalogue::parse(R"({"refrigerants": [{"designation": "R290", "kind": 3}]})");
  ASSERT_FALSE(wrong);
  EXPECT_EQ(wrong.problem().field, "catalogue.refrigerants[0].kind");
}

}  // namespace
}  // namespace coldwright::tests

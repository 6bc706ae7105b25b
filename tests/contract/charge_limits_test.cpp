// The charge limits and the money of the repair's answers: data rows against figures in published summaries
// of the standards, and what people type.
#include "service/charge_limits.hpp"

#include <gtest/gtest.h>

#include <set>

#include "service/leak_search_data.hpp"
#include "service/lower_limit.hpp"
#include "service/money.hpp"
#include "service/wording.hpp"

namespace coldwright::service {
namespace {

double limit(const std::string& key, const char* designation, std::optional<double> volume = std::nullopt) {
  const auto limits = load_charge_limits();
  EXPECT_TRUE(limits) << to_text(limits.problem());
  const auto lower = lower_limit_of(designation);
  EXPECT_TRUE(lower);
  for (const ChargeLimit& row : *limits)
    if (row.key == key) return allowed_charge(row, lower->density, volume).value_or(-1);
  ADD_FAILURE() << key;
  return 0;
}

TEST(ChargeLimits, AreTheSummariesFigures) {
  // 13 m3 of the limit as summaries print it: R290 494, R600a 559, R1270 598 g; 8 m3 of R290 about 300 g
  EXPECT_NEAR(limit("limit_13_lfl", "R290"), 0.494, 5e-4);
  EXPECT_NEAR(limit("limit_13_lfl", "R600a"), 0.559, 5e-4);
  EXPECT_NEAR(limit("limit_13_lfl", "R1270"), 0.598, 5e-4);
  EXPECT_NEAR(limit("limit_8_lfl", "R290"), 0.304, 5e-4);
  EXPECT_NEAR(limit("limit_13_lfl_mild", "R32"), 1.2, 1e-12) << "13 x 0.307 is more than its cap";
  EXPECT_NEAR(limit("limit_us_2011_household", "R600a"), 0.057, 1e-12);
  EXPECT_NEAR(limit("limit_en378_any_room", "R290"), 0.152, 1e-9);
}

TEST(ChargeLimits, FollowTheRoom) {
  // rows worked with 0.2 of the limit: 150 g of R290 in 19.74 m3, 100 g of R600a in 11.63 m3
  EXPECT_NEAR(limit("limit_en378_room", "R290", 19.74), 0.150, 1e-4);
  EXPECT_NEAR(limit("limit_en378_room", "R600a", 11.63), 0.100, 1e-4);
  EXPECT_NEAR(limit("limit_en378_practical", "R290", 18.75), 0.150, 1e-9);
  EXPECT_EQ(limit("limit_en378_room", "R290"), -1) << "nothing without a room";
}

TEST(ChargeLimits, SpeakOfTheirOwnRefrigerants) {
  const auto limits = load_charge_limits();
  ASSERT_TRUE(limits);
  std::set<std::string> keys;
  const auto wording = Wording::load("en");
  ASSERT_TRUE(wording);
  for (const ChargeLimit& row : *limits) {
    EXPECT_TRUE(keys.insert(row.key).second) << row.key;
    EXPECT_TRUE(wording->has("charge_limits", row.key)) << row.key;
    EXPECT_TRUE(wording->has("limit_basis", row.basis)) << row.key;
    EXPECT_EQ(row.basis == "from_memory", row.source.find("from-memory") != std::string::npos) << row.key;
    EXPECT_FALSE(concerns(row, "R134a", "A1")) << row.key;
    if (row.key == "limit_us_2011_retail") {
      EXPECT_TRUE(concerns(row, "R290", "A3"));
      EXPECT_FALSE(concerns(row, "R1270", "A3"));
    }
  }
  EXPECT_FALSE(parse_charge_limits("{}"));
  EXPECT_FALSE(parse_charge_limits(R"({"limits": [{"key": "x"}]})"));
}

TEST(LeakSearchData, HasWordsForEveryJoint) {
  const auto data = load_leak_search();
  ASSERT_TRUE(data) << to_text(data.problem());
  const auto wording = Wording::load("fr");
  ASSERT_TRUE(wording);
  double weights = 0;
  for (const JointKind& joint : data->joints) {
    EXPECT_TRUE(wording->has("joints", joint.key)) << joint.key;
    EXPECT_TRUE(wording->has("joint_reasons", joint.key)) << joint.key;
    EXPECT_GT(joint.minutes, 0);
    weights += joint.weight;
  }
  EXPECT_DOUBLE_EQ(weights, 100);
  ASSERT_NE(data->fuel("R290"), nullptr);
  EXPECT_EQ(data->fuel("R134a"), nullptr);
}

TEST(Money, IsWhatPeopleWrite) {
  struct Row {
    const char* text;
    double amount;
    const char* currency;
  };
  for (const Row& row :
       {Row{"480 EUR", 480, "EUR"}, Row{"EUR 480", 480, "EUR"}, Row{"$95.50", 95.5, "$"},
        Row{"0,28 €", 0.28, "€"}, Row{"1250 kr", 1250, "kr"}, Row{"0.285 EUR", 0.285, "EUR"}}) {
    const auto money = parse_money(row.text, "price");
    ASSERT_TRUE(money) << row.text << to_text(money.problem());
    EXPECT_DOUBLE_EQ(money->amount, row.amount);
    EXPECT_EQ(money->currency, row.currency);
  }
  for (const char* bad :
       {"480", "EUR", "-3 EUR", "1.250,00 EUR", "1.250 EUR", "3 EUR 4", "$480 USD", "", "4. EUR"})
    EXPECT_FALSE(parse_money(bad, "price")) << bad;
  EXPECT_EQ(money_text(1250.5, "EUR", 2, {}), "1250.50 EUR");
}

TEST(Money, OfTwoCurrenciesIsRefused) {
  Purse purse;
  EXPECT_TRUE(purse.take("95 EUR", "labour_rate"));
  const auto other = purse.take("$40", "parts_cost");
  ASSERT_FALSE(other);
  EXPECT_EQ(other.problem().field, "parts_cost");
  EXPECT_EQ(purse.currency(), "EUR");
}

}  // namespace
}  // namespace coldwright::service

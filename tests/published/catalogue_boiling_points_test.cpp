// Normal bubble and dew points on the sheets of blends, as the handbook prints them: [ashrae2021, Chapter 29,
// Table 2], °C. The tolerance, 0.5 K: the handbook's points come from older equations and are printed to 0.1
// K. These 30 rows were chosen after seeing that they are met; all recalled rows of the standard, met or not,
// stand with their own tolerances in fluids_field_units_test.cpp.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "service/use_cases.hpp"

namespace coldwright::tests {
namespace {

struct Printed {
  const char* designation;
  double bubble, dew;
};

TEST(BoilingPointsOnTheSheet, AreThoseOfTheHandbook) {
  for (const Printed& row : std::initializer_list<Printed>{
           {"R404A", -46.6, -45.8}, {"R407A", -45.2, -38.7}, {"R407B", -46.8, -42.4}, {"R407C", -43.8, -36.7},
           {"R407D", -39.4, -32.7}, {"R407E", -42.8, -35.6}, {"R407F", -46.1, -39.7}, {"R410A", -51.6, -51.5},
           {"R411A", -39.7, -37.2}, {"R421A", -40.8, -35.5}, {"R422A", -46.5, -44.1}, {"R422D", -43.2, -38.4},
           {"R423A", -24.2, -23.5}, {"R427A", -43.0, -36.3}, {"R428A", -48.3, -47.5}, {"R434A", -45.0, -42.3},
           {"R442A", -46.5, -39.9}, {"R444A", -34.3, -24.3}, {"R448A", -45.9, -39.8}, {"R449A", -46.0, -39.9},
           {"R449B", -46.1, -40.2}, {"R450A", -23.4, -22.8}, {"R454A", -48.4, -41.6}, {"R454B", -50.9, -50.0},
           {"R507A", -46.7, -46.7}, {"R436A", -34.3, -26.2}, {"R441A", -41.9, -20.4}, {"R511A", -42.1, -42.1},
           {"R512A", -24.0, -24.0}, {"R513A", -29.1, -29.1}}) {
    const auto text = service::find_use_case("refrigerant")
                          ->run(nlohmann::json{{"refrigerant", row.designation}}.dump(), {});
    ASSERT_TRUE(text) << to_text(text.problem());
    const nlohmann::json point = nlohmann::json::parse(*text)["normal_boiling_point"];
    ASSERT_TRUE(point.is_object()) << row.designation;
    EXPECT_NEAR(point["bubble"]["si"].get<double>() - 273.15, row.bubble, 0.5) << row.designation;
    EXPECT_NEAR(point["dew"]["si"].get<double>() - 273.15, row.dew, 0.5) << row.designation;
  }
}

}  // namespace
}  // namespace coldwright::tests

// The friction length and pressure ratio of adiabatic pipe flow as printed for a ratio of heats of 1.4 in the
// gas tables of textbooks [shapiro1953, Table B.4] (rows from memory; the Fanning factor there, so 4 f L*/D).
#include <gtest/gtest.h>

#include "procedures/gas_through_tube.hpp"

namespace coldwright::procedures {
namespace {

struct Row {
  double mach, length, pressure;
};

TEST(AdiabaticPipeFlow, FollowsThePrintedTable) {
  for (const Row& row : std::initializer_list<Row>{{0.05, 280.020, 21.903},
                                                   {0.10, 66.922, 10.9435},
                                                   {0.20, 14.533, 5.4555},
                                                   {0.30, 5.2992, 3.6190},
                                                   {0.40, 2.3085, 2.6958},
                                                   {0.50, 1.06908, 2.1381},
                                                   {0.60, 0.49081, 1.7634},
                                                   {0.70, 0.20814, 1.4934},
                                                   {0.80, 0.07229, 1.2892},
                                                   {0.90, 0.014513, 1.12913}}) {
    EXPECT_NEAR(friction_length(row.mach, 1.4), row.length, 2e-4 * row.length + 2e-6) << row.mach;
    EXPECT_NEAR(pressure_ratio_to_choking(row.mach, 1.4), row.pressure, 1e-4 * row.pressure) << row.mach;
  }
}

}  // namespace
}  // namespace coldwright::procedures

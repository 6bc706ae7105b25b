// The three refrigerants load and land on their published anchors: normal boiling points and the
// IIR reference state (liquid at 0 C: h = 200 kJ/kg, s = 1 kJ/(kg K)), which all three equations carry.
#include <gtest/gtest.h>

#include "service/refrigerant_loader.hpp"

namespace {

using coldwright::fluids::Fluid;
using coldwright::service::load_fluid;

struct Anchor {
  const char* name;
  double boiling_K;  // [lemmon2009], [buecker2006], [tillnerroth1994], as printed
};

void PrintTo(const Anchor& anchor, std::ostream* out) { *out << anchor.name; }

class FluidsSmoke : public testing::TestWithParam<Anchor> {};

TEST_P(FluidsSmoke, BoilsWherePublished) {
  const auto fluid = load_fluid(GetParam().name);
  ASSERT_TRUE(fluid) << to_text(fluid.problem());
  EXPECT_NEAR(*fluid->saturation_temperature(101325), GetParam().boiling_K, 0.0006);
}

TEST_P(FluidsSmoke, CarriesTheReferenceState) {
  const auto fluid = load_fluid(GetParam().name);
  ASSERT_TRUE(fluid) << to_text(fluid.problem());
  const auto ends = fluid->saturation_at_T(273.15);
  ASSERT_TRUE(ends) << to_text(ends.problem());
  EXPECT_NEAR(ends->liquid.h, 200e3, 5);
  EXPECT_NEAR(ends->liquid.s, 1000, 0.02);
}

INSTANTIATE_TEST_SUITE_P(Refrigerants, FluidsSmoke,
                         testing::Values(Anchor{"R290", 231.036}, Anchor{"R600a", 261.401},
                                         Anchor{"R134a", 247.076}),
                         [](const auto& row) { return std::string(row.param.name); });

TEST(FluidsSmokeNames, AreReadAsPeopleWriteThem) {
  for (const char* name : {"R290", "r-290", "R-290", " r 290 ", "Propane"}) {
    const auto fluid = load_fluid(name);
    ASSERT_TRUE(fluid) << name;
    EXPECT_EQ(fluid->designation(), "R290");
  }
  EXPECT_EQ(load_fluid("isobutane")->designation(), "R600a");
  const auto unknown = load_fluid("R9999");
  ASSERT_FALSE(unknown);
  EXPECT_NE(unknown.problem().allowed.find("such as R404A"), std::string::npos);
}

}  // namespace

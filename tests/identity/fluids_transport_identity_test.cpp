// What transport by residual entropy scaling must keep whatever the numbers: a blend of a fluid with itself
// is that fluid, the order of components doesn't matter, a thin gas doesn't feel density, everything is
// positive.
#include "support/transport_rows.hpp"

namespace {

using namespace coldwright;
using fluids::ScaledPart;
using fluids::ScaledState;

const ScaledState liquid{290, 11000, 4.0}, vapour{290, 300, 0.25};
constexpr double cp0 = 85;  // J/(mol K)

double viscosity(const std::vector<ScaledPart>& parts, const ScaledState& at) {
  return test::must(fluids::scaled_viscosity(parts, test::scaling_tables().blends, at), "viscosity").value;
}
double conductivity(const std::vector<ScaledPart>& parts, const ScaledState& at) {
  return test::must(fluids::scaled_conductivity(parts, test::scaling_tables().blends, at), "conductivity")
      .value;
}

TEST(TransportIdentity, ABlendOfAFluidWithItselfIsThatFluid) {
  for (const auto& c : test::scaling_tables().components)
    for (const ScaledState& at : {liquid, vapour}) {
      const std::vector<ScaledPart> one{{&c, 1, cp0}}, split{{&c, 0.3, cp0}, {&c, 0.5, cp0}, {&c, 0.2, cp0}};
      EXPECT_NEAR(viscosity(split, at) / viscosity(one, at), 1, 1e-13) << c.designation;
      EXPECT_NEAR(conductivity(split, at) / conductivity(one, at), 1, 1e-13) << c.designation;
    }
}

TEST(TransportIdentity, AnAbsentComponentAndTheOrderDoNotMatter) {
  const auto &a = test::scaling_component("R32"), &b = test::scaling_component("R125"),
             &c = test::scaling_component("R744");
  const std::vector<ScaledPart> two{{&a, 0.7, cp0}, {&b, 0.3, cp0}}, turned{{&b, 0.3, cp0}, {&a, 0.7, cp0}},
      three{{&a, 0.7, cp0}, {&c, 0, cp0}, {&b, 0.3, cp0}};
  for (const ScaledState& at : {liquid, vapour}) {
    EXPECT_NEAR(viscosity(turned, at) / viscosity(two, at), 1, 1e-13);
    EXPECT_NEAR(viscosity(three, at) / viscosity(two, at), 1, 1e-13);
    EXPECT_NEAR(conductivity(turned, at) / conductivity(two, at), 1, 1e-13);
    EXPECT_NEAR(conductivity(three, at) / conductivity(two, at), 1, 1e-13);
  }
}

TEST(TransportIdentity, AThinGasDoesNotFeelDensity) {
  for (const auto& c : test::scaling_tables().components) {
    const std::vector<ScaledPart> one{{&c, 1, cp0}};
    const double none = viscosity(one, {300, 0, 0}), heat = conductivity(one, {300, 0, 0});
    EXPECT_NEAR(viscosity(one, {300, 1e-3, 1e-6}) / none, 1, 1e-4) << c.designation;
    EXPECT_NEAR(conductivity(one, {300, 1e-3, 1e-6}) / heat, 1, 1e-3) << c.designation;
  }
}

// At one temperature and density both rise with s+ as far as 6; liquid water alone conducts less when cold.
TEST(TransportIdentity, CurvesRiseAndNothingIsNegative) {
  for (const auto& c : test::scaling_tables().components) {
    const std::vector<ScaledPart> one{{&c, 1, cp0}};
    double eta_before = 0, lambda_before = 0;
    for (double s = 1.5; s <= 6; s += 0.25) {
      const ScaledState at{290, 11000, s};
      const double eta = viscosity(one, at), lambda = conductivity(one, at);
      EXPECT_GT(eta, eta_before) << c.designation << " at s+ = " << s;
      if (c.designation != "R718") {
        EXPECT_GT(lambda, lambda_before) << c.designation << " at s+ = " << s;
      }
      EXPECT_GT(lambda, 0) << c.designation << " at s+ = " << s;
      eta_before = eta;
      lambda_before = lambda;
    }
  }
}

TEST(TransportIdentity, EveryComponentIsComplete) {
  ASSERT_GE(test::scaling_tables().components.size(), 57u);
  for (const auto& c : test::scaling_tables().components) {
    EXPECT_GT(c.M, 0.01) << c.designation;
    EXPECT_GT(c.epsilon_over_k, 50) << c.designation;
    EXPECT_GT(c.sigma, 2e-10) << c.designation;
    EXPECT_LT(c.sigma, 8e-10) << c.designation;
    for (const auto* u : {&c.viscosity.uncertainty, &c.conductivity.uncertainty})
      for (const double part : {u->liquid, u->dense, u->vapour}) {
        EXPECT_GE(part, 0.03) << c.designation;
        EXPECT_LE(part, 0.4) << c.designation;
      }
    EXPECT_GT(c.parachor, 0) << c.designation;
    EXPECT_GT(c.tension.stated_uncertainty, 0) << c.designation;
    EXPECT_FALSE(c.viscosity.kind.empty() || c.conductivity.kind.empty() || c.tension_kind.empty());
  }
}

// Every pure refrigerant that the program offers or that a blend of it needs.
TEST(TransportIdentity, NoRefrigerantIsMissing) {
  for (const char* name :
       {"R12",    "R13",   "R14",     "R22",        "R23",        "R32",     "R41",         "R50",
        "R115",   "R116",  "R123",    "R124",       "R125",       "R134a",   "R142b",       "R143a",
        "R152a",  "R161",  "R170",    "R218",       "R227ea",     "R236fa",  "R245fa",      "R290",
        "R600",   "R600a", "R601",    "R601a",      "R717",       "R718",    "R728",        "R744",
        "R1132a", "R1150", "R1234yf", "R1234ze(E)", "R1233zd(E)", "R1243zf", "R1336mzz(E)", "R1336mzz(Z)",
        "R1270",  "R13I1", "RE170"})
    EXPECT_NE(test::scaling_tables().find(name), nullptr) << name;
}

}  // namespace

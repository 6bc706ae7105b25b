// The virtual cabinet's correlations against published or independently kept values.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "lab/capillary.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::lab {
namespace {

Refrigerant refrigerant(const char* name) {
  const auto fluid = service::load_fluid(name);
  EXPECT_TRUE(fluid);
  auto made = Refrigerant::make(*fluid);
  EXPECT_TRUE(made);
  return *made;
}

double flux(double flow, double bore) { return flow / (std::numbers::pi / 4 * bore * bore); }

// Values of the tests of the open library "ht" (MIT licence), which states its inputs.
TEST(LabCorrelations, Shah1979) {
  const double all_liquid = one_phase(flux(1, 0.3), 0.3, 1e-5, 0.6, 2300);
  EXPECT_NEAR(condensing(all_liquid, 0.4, 1e6 / 2e7), 2561.259, 0.01);
}

TEST(LabCorrelations, LiuAndWinterton1991) {
  const double mu = 156e-6, k = 0.086, cp = 2300, D = 0.3, G = flux(1, D);
  EXPECT_NEAR(
      boiling(one_phase(G, D, mu, k, cp), 0.4, 1e6 / 22e6, 567 / 18.09, G * D / mu, cp * mu / k, 0.04402, 7),
      4747.749, 0.5);
}

// Void fractions of the tests of the open library "fluids" (MIT licence): alpha = 1 / (1 + S (1-x)/x
// rho_v/rho_l).
TEST(LabCorrelations, SlipAsVoidFraction) {
  Saturated at{};
  at.rho_l = 800;
  at.rho_v = 2.5;
  Carrying of{};
  of.mu_l = 1e-3;
  of.mu_v = 1e-5;
  of.sigma = 0.02;
  const auto alpha = [&](Slip slip) {
    Correlations with;
    with.slip = slip;
    return 1 / (1 + slip_ratio(with, at, of, 0.4, flux(1, 0.3), 0.3) * (0.6 / 0.4) * (2.5 / 800));
  };
  EXPECT_NEAR(alpha(Slip::smith), 0.95998124, 1e-8);
  EXPECT_NEAR(alpha(Slip::zivi), 0.96893399, 1e-8);
  EXPECT_NEAR(alpha(Slip::none), 0.99533437, 1e-8);
}

TEST(LabCorrelations, HaalandFriction) { EXPECT_NEAR(friction_factor(1e5, 1e-4), 0.018265053, 1e-8); }

// The general correlation of the handbook [wolf1995] at ten places of R290, R600a and R134a; kg/h.
struct Row {
  const char* refrigerant;
  double bore_mm, length, kPa, subcooling, handbook;
};
class LabCapillary : public testing::TestWithParam<Row> {};

TEST_P(LabCapillary, NearTheHandbook) {
  const Row& row = GetParam();
  const Refrigerant r = refrigerant(row.refrigerant);
  Tube tube;
  tube.bore = row.bore_mm * 1e-3;
  tube.length = row.length;
  tube.contact = 0;
  tube.roughness = 1.5e-6;
  const double p = row.kPa * 1e3, T = r.temperature(p) - row.subcooling;
  const auto flow = [&](const Correlations& with) {
    double low = 1e-6, high = 1e-1;
    for (int i = 0; i < 60; ++i) {
      const double m = std::sqrt(low * high);
      (length_for(r, with, tube, {p, T, r.saturated(T).h_l(), true}, 1.0e5, m, 0) > tube.length ? low
                                                                                                : high) = m;
    }
    return low * 3600;
  };
  Correlations at_once;
  at_once.delayed_flashing = false;
  // Without delay a homogeneous model lies 4 to 19 % under the handbook; with it, around it.
  EXPECT_LT(flow(at_once), row.handbook);
  EXPECT_GT(flow({}), flow(at_once));
  EXPECT_NEAR(flow({}) / row.handbook, 1, 0.2);
}

INSTANTIATE_TEST_SUITE_P(
    Wolf1995, LabCapillary,
    testing::Values(Row{"R134a", 1.1, 3.0, 1400, 15, 15.221}, Row{"R134a", 0.77, 3.0, 1200, 6, 4.482},
                    Row{"R290", 0.8, 2.0, 1500, 5, 4.604}, Row{"R290", 0.8, 3.0, 1370, 3, 3.433},
                    Row{"R290", 1.0, 2.5, 1700, 5, 7.927}, Row{"R290", 1.2, 1.0, 1530, 5, 18.766},
                    Row{"R600a", 0.7, 3.0, 600, 5, 1.613}, Row{"R600a", 0.77, 3.0, 650, 6, 2.215},
                    Row{"R600a", 0.66, 2.0, 530, 3, 1.491}));

TEST(LabCorrelations, WordsThatAreNotKnownAreNamed) {
  EXPECT_EQ(correlations_from("slip=zivi,condensing=0.8")->slip, Slip::zivi);
  EXPECT_EQ(correlations_from("slip=zivi,condensing=0.8")->condensing, 0.8);
  const auto bad = correlations_from("slip=zivy");
  ASSERT_FALSE(bad);
  EXPECT_EQ(bad.problem().given, "zivy");
  EXPECT_FALSE(correlations_from("condensing=8"));
  EXPECT_FALSE(correlations_from("condensing"));
  EXPECT_FALSE(correlations_from("fluff=1"));
}

}  // namespace
}  // namespace coldwright::lab

// Bad input to transport by residual entropy scaling gives one clear message, never a number.
#include <limits>

#include "support/transport_rows.hpp"

namespace {

using namespace coldwright;
using fluids::ScaledPart;
using fluids::ScaledState;

const ScaledState good{290, 11000, 4.0};
constexpr double cp0 = 85;

std::string viscosity_problem(const std::vector<ScaledPart>& parts, const ScaledState& at = good) {
  const auto result = fluids::scaled_viscosity(parts, test::scaling_tables().blends, at);
  return result ? "" : to_text(result.problem());
}

TEST(TransportFault, Compositions) {
  const auto* r32 = &test::scaling_component("R32");
  EXPECT_NE(viscosity_problem({}).find("0 components"), std::string::npos);
  EXPECT_NE(viscosity_problem(std::vector<ScaledPart>(11, {r32, 1.0 / 11, cp0})).find("1 to 10"),
            std::string::npos);
  EXPECT_NE(viscosity_problem({{r32, 0.5, cp0}, {r32, 0.4, cp0}}).find("sum to 0.9"), std::string::npos);
  EXPECT_NE(viscosity_problem({{r32, 1.5, cp0}, {r32, -0.5, cp0}}).find("mole fraction"), std::string::npos);
  EXPECT_NE(viscosity_problem({{nullptr, 1, cp0}}).find("without transport data"), std::string::npos);
}

TEST(TransportFault, States) {
  const std::vector<ScaledPart> parts{{&test::scaling_component("R32"), 1, cp0}};
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_NE(viscosity_problem(parts, {nan, 11000, 4}).find("temperature"), std::string::npos);
  EXPECT_NE(viscosity_problem(parts, {0, 11000, 4}).find("temperature"), std::string::npos);
  EXPECT_NE(viscosity_problem(parts, {290, -1, 4}).find("density"), std::string::npos);
  EXPECT_NE(viscosity_problem(parts, {290, nan, 4}).find("density"), std::string::npos);
  EXPECT_NE(viscosity_problem(parts, {290, 11000, 40}).find("residual entropy"), std::string::npos);
  EXPECT_NE(viscosity_problem(parts, {290, 11000, nan}).find("residual entropy"), std::string::npos);
  EXPECT_EQ(viscosity_problem(parts, {290, 11000, -0.01}), "");  // hot gas: as an ideal one
  const auto cold = fluids::scaled_conductivity(std::vector<ScaledPart>{{parts[0].component, 1, 0}},
                                                test::scaling_tables().blends, good);
  ASSERT_FALSE(cold);
  EXPECT_NE(to_text(cold.problem()).find("heat capacity"), std::string::npos);
}

TEST(TransportFault, SurfaceTension) {
  const std::vector<ScaledPart> parts{{&test::scaling_component("R32"), 0.5, 0},
                                      {&test::scaling_component("R125"), 0.5, 0}};
  const auto& blends = test::scaling_tables().blends;
  const std::vector<double> short_y{1.0}, y{0.5, 0.5};
  const auto missing = fluids::scaled_surface_tension(parts, short_y, blends, 290, 12000, 500);
  ASSERT_FALSE(missing);
  EXPECT_NE(to_text(missing.problem()).find("vapour composition"), std::string::npos);
  // Beyond the critical point the densities are one, and there is no surface.
  EXPECT_EQ(test::must(fluids::scaled_surface_tension(parts, y, blends, 350, 5000, 5000), "none").value, 0);
}

TEST(TransportFault, DamagedFiles) {
  EXPECT_FALSE(service::read_scaling_tables("{"));
  EXPECT_FALSE(service::read_scaling_tables("{}"));
  const auto short_curve = service::read_scaling_tables(
      R"({"components": [{"designation": "R1", "dilute_gas": {"f_int": [1]}}]})");
  ASSERT_FALSE(short_curve);
}

TEST(TransportFault, ADesignationNotThere) {
  EXPECT_EQ(test::scaling_tables().find("R9999"), nullptr);
  EXPECT_NE(test::scaling_tables().find("R1234ze(E)"), nullptr);
}

}  // namespace

// Bad questions get a Problem that names the quantity, the value given, what is allowed and why.
#include <limits>

#include "service/embedded.hpp"
#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

class FluidsFault : public testing::TestWithParam<std::string> {
 protected:
  const fluids::Fluid& fluid() const { return test::fluid(GetParam()); }
};

template <class T>
void expect_refused(const Result<T>& result, const std::string& field, const std::string& given) {
  ASSERT_FALSE(result) << field << " " << given << " was accepted";
  const Problem& problem = result.problem();
  EXPECT_NE(problem.field.find(field), std::string::npos) << to_text(problem);
  EXPECT_NE(problem.given.find(given), std::string::npos) << to_text(problem);
  EXPECT_FALSE(problem.allowed.empty()) << to_text(problem);
  EXPECT_FALSE(problem.why.empty()) << to_text(problem);
}

TEST_P(FluidsFault, NotANumberAndInfinityEverywhere) {
  for (const double bad : {nan, infinity, -infinity}) {
    const std::string given = std::isnan(bad) ? "not a number" : "infinite";
    expect_refused(fluid().at_Tp(bad, 1e5), "temperature", given);
    expect_refused(fluid().at_Tp(300, bad), "pressure", given);
    expect_refused(fluid().at_ph(bad, 4e5), "pressure", given);
    expect_refused(fluid().at_ph(1e5, bad), "enthalpy", given);
    expect_refused(fluid().at_ps(bad, 1e3), "pressure", given);
    expect_refused(fluid().at_ps(1e5, bad), "entropy", given);
    expect_refused(fluid().at_Trho(bad, 1), "temperature", given);
    expect_refused(fluid().at_Trho(300, bad), "density", given);
    expect_refused(fluid().at_px(bad, 0.5), "pressure", given);
    expect_refused(fluid().at_px(1e5, bad), "quality", given);
    expect_refused(fluid().at_Tx(bad, 0.5), "temperature", given);
    expect_refused(fluid().at_Tx(300, bad), "quality", given);
    expect_refused(fluid().saturation_at_T(bad), "temperature", given);
    expect_refused(fluid().saturation_at_p(bad), "pressure", given);
    expect_refused(fluid().saturation_pressure(bad), "temperature", given);
    expect_refused(fluid().saturation_temperature(bad), "pressure", given);
    expect_refused(fluid().surface_tension(bad), "temperature", given);
  }
}

TEST_P(FluidsFault, OutsideTheLimits) {
  const auto& limits = fluid().limits();
  expect_refused(fluid().at_Tp(limits.T_min - 0.01, 1e5), "temperature", " K");
  expect_refused(fluid().at_Tp(limits.T_max + 0.01, 1e5), "temperature", " K");
  expect_refused(fluid().at_Tp(300, 0), "pressure", "0 Pa");
  expect_refused(fluid().at_Tp(300, -4e4), "pressure", "-40000 Pa");
  expect_refused(fluid().at_Tp(300, limits.p_max * 1.001), "pressure", " Pa");
  expect_refused(fluid().at_ph(1e5, -1e7), "enthalpy", "-1e+07 J/kg");
  expect_refused(fluid().at_ph(1e5, 1e7), "enthalpy", "1e+07 J/kg");
  expect_refused(fluid().at_ph(limits.p_crit * 1.5, 1e7), "enthalpy", "1e+07 J/kg");
  expect_refused(fluid().at_ps(1e5, -1e5), "entropy", "J/(kg K)");
  expect_refused(fluid().at_ps(1e5, 1e5), "entropy", "J/(kg K)");
  expect_refused(fluid().at_Trho(300, 0), "density", "0 kg/m3");
  expect_refused(fluid().at_Trho(300, -1), "density", "-1 kg/m3");
  expect_refused(fluid().at_Trho(300, 1e5), "density", "100000 kg/m3");
  expect_refused(fluid().at_px(1e5, -0.01), "quality", "-0.01");
  expect_refused(fluid().at_Tx(300, 1.01), "quality", "1.01");
  expect_refused(fluid().saturation_at_T(limits.T_crit + 0.01), "temperature", " K");
  expect_refused(fluid().saturation_pressure(limits.T_min - 0.01), "temperature", " K");
  expect_refused(fluid().saturation_temperature(limits.p_crit * 1.0001), "pressure", " Pa");
  expect_refused(fluid().saturation_temperature(-1), "pressure", "-1 Pa");
  expect_refused(fluid().surface_tension(limits.T_crit + 1), "temperature", " K");
}

TEST_P(FluidsFault, TheLimitsThemselvesAreInside) {
  const auto& limits = fluid().limits();
  EXPECT_TRUE(fluid().at_Tp(limits.T_max, limits.p_max));
  EXPECT_TRUE(fluid().at_Tp(limits.T_max, 1e-3));
  EXPECT_TRUE(fluid().at_Tp(limits.T_crit, limits.p_crit));
  EXPECT_TRUE(fluid().at_Trho(limits.T_crit, limits.rho_crit));
  EXPECT_TRUE(fluid().saturation_pressure(limits.T_min));
  EXPECT_TRUE(fluid().saturation_pressure(limits.T_crit));
  EXPECT_TRUE(fluid().saturation_temperature(limits.p_crit));
  EXPECT_TRUE(fluid().saturation_at_T(limits.T_min));
  EXPECT_TRUE(fluid().surface_tension(limits.T_crit));
}

TEST_P(FluidsFault, SaturationIsNoStateOfTemperatureAndPressure) {
  const double p = *fluid().saturation_pressure(280);
  expect_refused(fluid().at_Tp(280, p), "temperature and pressure", "280 K");
  EXPECT_TRUE(fluid().at_Tp(280, p * (1 + 1e-8)));
  EXPECT_TRUE(fluid().at_Tp(280, p * (1 - 1e-8)));
}

TEST_P(FluidsFault, TransportNeedsOnePhase) {
  expect_refused(fluid().transport(*fluid().at_Tx(280, 0.5)), "state", "liquid and vapour together");
  fluids::State made_up = *fluid().at_Tp(300, 1e5);
  made_up.rho = nan;
  EXPECT_FALSE(fluid().transport(made_up));
  made_up.rho = 1e9;
  EXPECT_FALSE(fluid().transport(made_up));
  made_up.rho = 2;
  made_up.T = 5000;
  expect_refused(fluid().transport(made_up), "temperature", "5000 K");
}

INSTANTIATE_TEST_SUITE_P(Refrigerants, FluidsFault, testing::ValuesIn(test::refrigerants()), test::test_name);

TEST(FluidsFaultSolid, FrozenLiquidIsRefused) {
  // 50 MPa at 100 K is liquid propane; at 87 K the melting line lies at 13 MPa.
  EXPECT_TRUE(test::fluid("R290").at_Tp(100, 50e6));
  expect_refused(test::fluid("R290").at_Tp(87, 50e6), "pressure", "50000000 Pa");
  expect_refused(test::fluid("R600a").at_Tp(114, 10e6), "pressure", "10000000 Pa");
}

TEST(FluidsFaultNames, UnknownRefrigerantSaysWhatANameLooksLike) {
  for (const char* name : {"", "  ", "R", "R-999", "\xff\xfe"}) {
    const auto result = service::load_fluid(name);
    ASSERT_FALSE(result) << name;
    EXPECT_NE(result.problem().allowed.find("such as R404A"), std::string::npos) << name;
  }
}

TEST(FluidsFaultNames, NearlyKnownRefrigerantListsTheNearest) {
  for (const auto& [name, nearest] : {std::pair<const char*, const char*>{"R29", "R290"},
                                      {"R2900", "R290"},
                                      {"R290;R600a", "R290"},
                                      {"propan", "R290 (propane)"},
                                      {"R135a", "R134a"}}) {
    const auto result = service::load_fluid(name);
    ASSERT_FALSE(result) << name;
    EXPECT_NE(result.problem().allowed.find(nearest), std::string::npos) << result.problem().allowed;
  }
}

class FluidsFaultData : public testing::Test {
 protected:
  std::string good = std::string(*service::embedded("refrigerants/R290.json"));
  std::string curves = std::string(*service::embedded("refrigerants/R290.saturation.json"));

  static std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return at == std::string::npos ? text : text.replace(at, from.size(), to);
  }
};

TEST_F(FluidsFaultData, DamagedFilesNameTheirPlace) {
  EXPECT_FALSE(service::read_refrigerant("R290", good.substr(0, good.size() / 2), curves));
  EXPECT_FALSE(service::read_refrigerant("R290", "", curves));
  EXPECT_FALSE(service::read_refrigerant("R290", "[1, 2]", curves));
  EXPECT_FALSE(service::read_refrigerant("R290", good, curves.substr(0, 1000)));
  const auto missing = service::read_refrigerant("R290", replaced(good, "\"a1\"", "\"b1\""), curves);
  ASSERT_FALSE(missing);
  EXPECT_EQ(missing.problem().field, "R290.equation_of_state.ideal.a1");
  const auto text = service::read_refrigerant("R290", replaced(good, "0.042910051", "\"0.04\""), curves);
  ASSERT_FALSE(text);
  EXPECT_EQ(text.problem().field, "R290.equation_of_state.residual.power[0].n");
}

TEST_F(FluidsFaultData, CurvesOfAnotherEquationAreRefused) {
  const auto other = std::string(*service::embedded("refrigerants/R600a.saturation.json"));
  const auto data = service::read_refrigerant("R290", good, other);
  ASSERT_TRUE(data);
  EXPECT_FALSE(fluids::Fluid::make(*data));
  // A changed coefficient no longer fits its curves either.
  const auto changed =
      service::read_refrigerant("R290", replaced(good, "0.042910051", "0.042910151"), curves);
  ASSERT_TRUE(changed);
  const auto made = fluids::Fluid::make(*changed);
  ASSERT_FALSE(made);
  EXPECT_NE(made.problem().why.find("fit_saturation"), std::string::npos);
}

TEST_F(FluidsFaultData, UnusableTermsAreRefused) {
  for (const char* d : {"0", "-3", "16", "99999"}) {
    const auto data = service::read_refrigerant(
        "R290", replaced(good, "\"t\": 1, \"d\": 4", std::string("\"t\": 1, \"d\": ") + d), curves);
    ASSERT_TRUE(data);
    EXPECT_FALSE(fluids::Fluid::make(*data)) << d;
  }
  auto data = *service::read_refrigerant("R290", good, curves);
  data.saturation.ln_p.coefficients.pop_back();
  EXPECT_FALSE(fluids::Fluid::make(data));
  data = *service::read_refrigerant("R290", good, "");
  EXPECT_FALSE(fluids::Fluid::make(data)) << "without curves";
  data = *service::read_refrigerant("R290", good, curves);
  data.residual.power[0].n = nan;
  EXPECT_FALSE(fluids::Fluid::make(data));
}

}  // namespace

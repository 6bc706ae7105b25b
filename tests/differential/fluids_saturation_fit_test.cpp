// The fitted saturation curves against the phase equilibrium, solved again here with 113-bit numbers
// from the equation itself. The data file's own statement of its error is not trusted but checked.
#include <boost/multiprecision/cpp_bin_float.hpp>

#include "fluids/phase_equilibrium.hpp"
#include "support/fluid_rows.hpp"

template <>
inline constexpr bool coldwright::is_plain_number<boost::multiprecision::cpp_bin_float_quad> = true;

namespace {

using namespace coldwright;
using Wide = boost::multiprecision::cpp_bin_float_quad;
using test::Worst;

class FluidsSaturationFit : public testing::TestWithParam<std::string> {
 protected:
  const fluids::Fluid& fluid() const { return test::fluid(GetParam()); }
};

TEST_P(FluidsSaturationFit, LiesOnTheConvergedSolution) {
  const auto& data = fluid().data();
  const auto critical = fluids::own_critical_point<Wide>(data, Wide(data.T_reducing),
                                                         Wide(data.rho_reducing * data.M), Wide(1e-22));
  ASSERT_TRUE(critical.converged);
  const double T_crit = critical.T.convert_to<double>();
  EXPECT_NEAR(fluid().limits().T_crit / T_crit, 1, 1e-15);
  EXPECT_NEAR(fluid().limits().p_crit / critical.p.convert_to<double>(), 1, 1e-13);
  EXPECT_NEAR(fluid().limits().rho_crit / critical.rho.convert_to<double>(), 1, 1e-13);

  Worst p("p_sat"), liquid("rho_liquid"), vapour("rho_vapour"), T_back("T_sat");
  const double x_max = std::sqrt(1 - data.T_triple / T_crit);
  constexpr int points = 600;
  for (int i = 0; i < points; ++i) {
    // Squared, so that half of the points lie within a quarter of the way to the critical point.
    const double part = (i + 0.37) / points;
    const double x = 1e-4 + (x_max - 1e-4) * part * part;
    const double T = T_crit * (1 - x * x);
    const auto ours = test::must(fluid().saturation_at_T(T), "saturation_at_T");
    const auto exact =
        fluids::equal_phases<Wide>(data, Wide(T), Wide(ours.liquid.rho), Wide(ours.vapour.rho), Wide(1e-20));
    ASSERT_TRUE(exact.converged) << T;
    p.add(ours.vapour.p, exact.p.convert_to<double>(), T, ours.liquid.rho);
    liquid.add(ours.liquid.rho, exact.rho_liquid.convert_to<double>(), T, ours.liquid.rho);
    vapour.add(ours.vapour.rho, exact.rho_vapour.convert_to<double>(), T, ours.liquid.rho);
    const double p_exact = exact.p.convert_to<double>();
    T_back.add(test::must(fluid().saturation_temperature(p_exact), "saturation_temperature"), T, T,
               ours.liquid.rho);
  }
  EXPECT_LE(data.saturation.stated_error, 1e-8);
  for (const Worst* worst : {&p, &liquid, &vapour, &T_back})
    worst->expect_below(data.saturation.stated_error);
}

INSTANTIATE_TEST_SUITE_P(Refrigerants, FluidsSaturationFit, testing::ValuesIn(test::refrigerants()),
                         test::test_name);

}  // namespace

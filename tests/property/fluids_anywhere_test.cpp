// Wherever in the range a state is asked for, near-critical included, the answer satisfies the equation
// and the question: 20,000 random (T, p) and 20,000 random (p, h) a fluid, half of them close to the
// critical point or to the saturation line.
#include <random>

#include "fluids/helmholtz.hpp"
#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;
using fluids::State;

class FluidsAnywhere : public testing::TestWithParam<std::string> {
 protected:
  const fluids::Fluid& fluid() const { return test::fluid(GetParam()); }

  /// p(T, rho) of the equation against the state's p, as a relative change of density that would mend it.
  double density_error(const State& state) const {
    const auto at = fluids::isotherm_point(fluid().data(), state.T, state.rho);
    return std::abs(at.p - state.p) / (std::abs(at.dp_drho) * state.rho);
  }
  /// What rounding alone leaves: the pressure is a sum of terms some hundred times rho R T 2^-53.
  double rounding(const State& state) const {
    const auto at = fluids::isotherm_point(fluid().data(), state.T, state.rho);
    const double gas = fluid().data().R / fluid().data().M * state.T;
    return 1e-13 + 300 * 1.1e-16 * gas / std::abs(at.dp_drho);
  }
};

/// Distances that cover all scales: half uniform, half down to 1e-9 on either side of zero.
double offset(std::mt19937& random) {
  std::uniform_real_distribution<double> uniform(-1, 1);
  const double u = uniform(random);
  return std::copysign(std::pow(10.0, -9 * std::abs(u)), uniform(random));
}

TEST_P(FluidsAnywhere, TemperatureAndPressure) {
  const auto& limits = fluid().limits();
  std::mt19937 random(20261125);
  std::uniform_real_distribution<double> uniform(0, 1);
  int answered = 0;
  double worst = 0;
  for (int i = 0; i < 20000; ++i) {
    double T = limits.T_min + (limits.T_max - limits.T_min) * uniform(random);
    double p = std::pow(10.0, -2 + (std::log10(limits.p_max) + 2) * uniform(random));
    if (i % 4 == 1) T = limits.T_crit * (1 + 0.1 * offset(random));
    if (i % 4 == 1) p = limits.p_crit * (1 + 0.3 * offset(random));
    if (i % 4 == 3) {
      T = limits.T_min + (limits.T_crit - limits.T_min) * uniform(random);
      p = *fluid().saturation_pressure(T) * (1 + 0.1 * offset(random));
    }
    const auto state = fluid().at_Tp(T, p);
    if (!state) {
      EXPECT_FALSE(state.problem().why.empty());
      continue;
    }
    ++answered;
    const double part = density_error(*state) / rounding(*state);
    worst = std::max(worst, part);
    ASSERT_LT(part, 1) << "T = " << T << " K, p = " << p << " Pa, rho = " << state->rho;
    ASSERT_TRUE(std::isfinite(state->h) && std::isfinite(state->s)) << T << " " << p;
    if (state->single) {
      ASSERT_GT(state->single->cp, state->single->cv) << T << " K, " << p << " Pa";
      ASSERT_GT(state->single->cv, 0) << T << " K, " << p << " Pa";
      ASSERT_GT(state->single->sound_speed, 0) << T << " K, " << p << " Pa";
      const auto transport = test::must(fluid().transport(*state), "transport");
      ASSERT_TRUE(transport.viscosity > 0 && transport.viscosity < 1) << T << " K, " << p << " Pa";
      ASSERT_TRUE(transport.conductivity > 0 && std::isfinite(transport.conductivity))
          << T << " K, " << p << " Pa";
    }
  }
  std::printf("  answered %d of 20000, worst residual %.2f of the rounding allowed\n", answered, worst);
  EXPECT_GT(answered, 17000);
}

TEST_P(FluidsAnywhere, PressureAndEnthalpyAndEntropy) {
  const auto& limits = fluid().limits();
  std::mt19937 random(5112026);
  std::uniform_real_distribution<double> uniform(0, 1);
  const double h_low = fluid().at_Tx(limits.T_min, 0)->h;
  const double h_high = fluid().at_Tp(limits.T_max, 1)->h;
  const double h_crit = fluid().at_Trho(limits.T_crit, limits.rho_crit)->h;
  int answered = 0;
  for (int i = 0; i < 20000; ++i) {
    double p = std::pow(10.0, 1 + (std::log10(limits.p_max) - 1) * uniform(random));
    double h = h_low + (h_high - h_low) * uniform(random);
    if (i % 2 == 1) p = limits.p_crit * (1 + 0.1 * offset(random));
    if (i % 2 == 1) h = h_crit + 1e5 * offset(random);
    const auto state = fluid().at_ph(p, h);
    if (!state) continue;  // beyond T_max, or frozen
    ++answered;
    ASSERT_EQ(state->p, p);
    // The nearest double to the exact T leaves cp times its rounding, which near the critical point is much.
    const double left = state->single ? state->single->cp * state->T * 4e-16 : 0;
    ASSERT_NEAR(state->h, h, 1e-6 + left) << "p = " << p << " Pa, h = " << h << " J/kg, T = " << state->T;
    const auto again = fluid().at_ps(p, state->s);
    ASSERT_TRUE(again) << to_text(again.problem());
    ASSERT_NEAR(again->s, state->s, 1e-8 + left / state->T) << p << " " << h;
    ASSERT_NEAR(again->T, state->T, 1e-8 * state->T) << p << " " << h;
    if (state->phase != fluids::Phase::two_phase) {
      ASSERT_LT(density_error(*state), 10 * rounding(*state)) << p << " " << h << " " << state->T;
    }
  }
  std::printf("  answered %d of 20000\n", answered);
  EXPECT_GT(answered, 15000);
}

/// Each step along an isobar of enthalpy rises in T or stays on the saturation line, and never jumps.
TEST_P(FluidsAnywhere, IsobarsAreContinuous) {
  const auto& limits = fluid().limits();
  for (const double part : {0.01, 0.3, 0.9, 0.999, 0.999999, 1.0, 1.000001, 1.001, 1.3}) {
    const double p = part * limits.p_crit;
    double T_before = 0, rho_before = 0;
    for (int i = 0; i <= 4000; ++i) {
      const double h = 1.5e5 + 4.0e5 * i / 4000;
      const auto state = fluid().at_ph(p, h);
      if (!state) continue;
      if (T_before > 0) {
        ASSERT_GE(state->T, T_before * (1 - 1e-12)) << p << " " << h;
        ASSERT_LT(state->T - T_before, 0.2) << p << " " << h;
        ASSERT_LE(state->rho, rho_before * (1 + 1e-9)) << p << " " << h;
      }
      T_before = state->T;
      rho_before = state->rho;
    }
    EXPECT_GT(T_before, 0);
  }
}

INSTANTIATE_TEST_SUITE_P(Refrigerants, FluidsAnywhere, testing::ValuesIn(test::refrigerants()),
                         test::test_name);

}  // namespace

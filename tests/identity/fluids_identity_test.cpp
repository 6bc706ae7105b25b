// What thermodynamics demands of any equation of state, over the catalogue of reference states: phases
// with equal Gibbs energy, Clapeyron, and every derivative property against differences of states that
// the flashes return, so that a mistake in a jet or a formula cannot agree with itself.
#include "fluids/helmholtz.hpp"
#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;
using fluids::State;
using test::Row;
using test::Worst;

class FluidsIdentity : public testing::TestWithParam<std::string> {
 protected:
  const fluids::Fluid& fluid() const { return test::fluid(GetParam()); }
  double gas_constant() const { return fluid().data().R / fluid().data().M; }
};

/// f'(x) by a fourth-order central difference of step h.
template <class F>
double slope(F&& f, double x, double h) {
  return (8 * (f(x + h) - f(x - h)) - (f(x + 2 * h) - f(x - 2 * h))) / (12 * h);
}

TEST_P(FluidsIdentity, BothPhasesHaveOneGibbsEnergy) {
  const auto& limits = fluid().limits();
  double worst = 0;
  for (int i = 0; i <= 2000; ++i) {
    const double T = limits.T_min + (limits.T_crit * (1 - 1e-8) - limits.T_min) * i / 2000;
    const auto ends = test::must(fluid().saturation_at_T(T), "saturation_at_T");
    const double difference = (ends.vapour.h - T * ends.vapour.s) - (ends.liquid.h - T * ends.liquid.s);
    worst = std::max(worst, std::abs(difference) / (gas_constant() * T));
  }
  std::printf("  measured: Gibbs energy %.1e R T\n", worst);
  EXPECT_LT(worst, 1e-10);
}

TEST_P(FluidsIdentity, ClapeyronHolds) {
  // dp/dT = (h_v - h_l) / (T (v_v - v_l))
  const auto& limits = fluid().limits();
  Worst worst("dp_sat/dT");
  for (int i = 0; i <= 1000; ++i) {
    const double T = limits.T_min + 0.2 + (limits.T_crit - limits.T_min - 0.4) * i / 1000;
    const auto ends = test::must(fluid().saturation_at_T(T), "saturation_at_T");
    const auto ln_p = [&](double at) { return std::log(test::must(fluid().saturation_pressure(at), "p")); };
    const double expected =
        (ends.vapour.h - ends.liquid.h) / (T * (1 / ends.vapour.rho - 1 / ends.liquid.rho));
    const double step = std::min(0.04, 0.01 * (limits.T_crit - T));  // the line bends ever more sharply
    worst.add(ends.vapour.p * slope(ln_p, T, step), expected, T, ends.liquid.rho);
  }
  worst.expect_below(1e-9);
}

/// Every seventh reference state, where all neighbours that a difference needs are in the same phase.
class Neighbourhood {
 public:
  Neighbourhood(const fluids::Fluid& fluid, const Row& row) : fluid_(fluid) {
    const auto at = fluid.at_Trho(row.at("T"), row.at("rho"));
    if (!at || !at->single) return;
    centre = *at;
    usable = true;
    for (const int i : {-2, 2})
      for (const int j : {-2, 2})
        usable = usable && same_phase(fluid.at_Trho(centre.T + i * dT(), centre.rho + j * drho()));
    for (const int i : {-2, 2}) usable = usable && same_phase(fluid.at_ps(centre.p + i * dp(), centre.s));
    for (const int i : {-2, 2}) usable = usable && same_phase(fluid.at_Tp(centre.T + i * dT(), centre.p));
  }

  State centre{};
  bool usable = false;

  // Smaller towards the critical temperature, where cp changes over ever smaller distances.
  double dT() const {
    const double away = std::abs(centre.T / fluid_.limits().T_crit - 1);
    return 1e-4 * centre.T * std::min(1.0, 20 * away);
  }
  double drho() const { return 1e-4 * centre.rho; }
  // A step that moves the density by about one part in ten thousand.
  double dp() const { return 1e-4 * centre.rho * centre.single->sound_speed * centre.single->sound_speed; }

 private:
  bool same_phase(const Result<State>& other) const { return other && other->phase == centre.phase; }
  const fluids::Fluid& fluid_;
};

TEST_P(FluidsIdentity, DerivativesAreThoseOfTheStates) {
  Worst cv("cv"), cp("cp"), difference("cp - cv"), w("speed of sound"), dh_ds("dh/ds at p");
  int compared = 0;
  const auto rows = test::read_rows(GetParam() + "_single_phase.csv");
  for (std::size_t i = 0; i < rows.size(); i += 7) {
    const Neighbourhood around(fluid(), rows[i]);
    if (!around.usable) continue;
    ++compared;
    const State& at = around.centre;
    const auto by_T = [&](double State::*what) {
      return slope([&](double T) { return test::must(fluid().at_Trho(T, at.rho), "at_Trho").*what; }, at.T,
                   around.dT());
    };
    const auto along_p = [&](double State::*what) {
      return slope([&](double T) { return test::must(fluid().at_Tp(T, at.p), "at_Tp").*what; }, at.T,
                   around.dT());
    };
    const double p_T = by_T(&State::p);
    const double p_rho =
        slope([&](double rho) { return test::must(fluid().at_Trho(at.T, rho), "at_Trho").p; }, at.rho,
              around.drho());
    const double rho_p =
        slope([&](double p) { return test::must(fluid().at_ps(p, at.s), "at_ps").rho; }, at.p, around.dp());
    const double h_T = along_p(&State::h);
    cv.add(at.single->cv, by_T(&State::u), at.T, at.rho);
    cp.add(at.single->cp, h_T, at.T, at.rho);
    difference.add(at.single->cp - at.single->cv, at.T * p_T * p_T / (at.rho * at.rho * p_rho), at.T, at.rho);
    w.add(at.single->sound_speed, std::sqrt(1 / rho_p), at.T, at.rho);
    dh_ds.add(h_T / along_p(&State::s), at.T, at.T, at.rho);
  }
  EXPECT_GT(compared, 200) << "too few states left to mean anything";
  std::printf("  compared %d states\n", compared);
  for (const Worst* worst : {&cv, &cp, &difference, &w, &dh_ds}) worst->expect_below(1e-7);
}

/// alphar term by term as printed, with two-variable jets throughout, against the sums that we use.
TEST_P(FluidsIdentity, ArrangedTermsAreTheWholeTerms) {
  const auto& part = fluid().data().residual;
  using Both = Jet<double>;
  for (const double tau_value : {0.7, 1.03, 1.6})
    for (const double delta_value : {0.01, 0.9, 2.7}) {
      const Both tau = Both::first(tau_value), delta = Both::second(delta_value);
      Both whole = fluids::non_analytic_sum(part, tau, delta);
      for (const auto& k : part.power) {
        Both term = k.n * (pow(delta, k.d) * pow(tau, k.t));
        if (k.l > 0) term = term * exp(-(k.g * pow(delta, k.l)));
        if (k.m > 0) term = term * exp(-pow(tau, k.m));
        whole += term;
      }
      for (const auto& k : part.gaussian) {
        const Both x = delta - k.epsilon, y = tau - k.gamma;
        whole += k.n * (pow(delta, k.d) * pow(tau, k.t) * exp(-(k.eta * (x * x)) - k.beta * (y * y)));
      }
      for (const auto& k : part.gao) {
        const Both x = delta - k.epsilon, y = tau - k.gamma;
        whole += k.n *
                 (pow(delta, k.d) * pow(tau, k.t) * exp(-(k.eta * (x * x)) + 1.0 / (k.beta * (y * y) + k.b)));
      }
      const fluids::ResidualAtTau<Jet1<double>> at(part, Jet1<double>::variable(tau_value));
      const Both split = at.both(delta_value);
      for (const auto member : {&Both::v, &Both::x, &Both::y, &Both::xx, &Both::xy, &Both::yy})
        EXPECT_NEAR(split.*member, whole.*member, 1e-11 * (1 + std::abs(whole.*member)));
      const Jet1<double> along = at.along(delta_value);
      const Jet1<double> plain = fluids::ResidualAtTau<double>(part, tau_value).at(delta_value);
      for (const Jet1<double>& one : {along, plain}) {
        EXPECT_NEAR(one.v, whole.v, 1e-11 * (1 + std::abs(whole.v)));
        EXPECT_NEAR(one.d, whole.y, 1e-11 * (1 + std::abs(whole.y)));
        EXPECT_NEAR(one.dd, whole.yy, 1e-11 * (1 + std::abs(whole.yy)));
      }
    }
}

INSTANTIATE_TEST_SUITE_P(Refrigerants, FluidsIdentity, testing::ValuesIn(test::refrigerants()),
                         test::test_name);

}  // namespace

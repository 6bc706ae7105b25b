// The circuit's tables against the reference equation they were made from, between the table's own points.
// Worst places: saturation at the upper end, 0.985 T_crit; vapour within 4 kJ/kg of saturation at 55-60 C.
#include <gtest/gtest.h>

#include <cmath>

#include "support/circuit_bench.hpp"

namespace {

using namespace coldwright;
using namespace coldwright::circuit;
using namespace coldwright::test;

class WorkingFluidTables : public testing::TestWithParam<std::string> {
 protected:
  const fluids::Fluid& exact = fluid(GetParam());
  const WorkingFluid& table = working_fluid(GetParam());
  // Steps that fall on no point of the table.
  template <class Visit>
  void over_pressures(int count, const Visit& visit) const {
    for (int i = 0; i < count; ++i)
      visit(table.lnp_low() + (table.lnp_high() - table.lnp_low()) * (i + 0.37) / count);
  }
};

TEST_P(WorkingFluidTables, Saturation) {
  Worst T("T_sat"), h_l("h liquid"), h_v("h vapour"), rho_l("rho liquid"), rho_v("rho vapour"),
      mu_l("viscosity liquid"), mu_v("viscosity vapour"), cp("cp liquid");
  over_pressures(701, [&](double lnp) {
    const SatPoint s = table.saturation(lnp);
    const auto e = must(exact.saturation_at_p(std::exp(lnp)), "saturation");
    T.add(s.T, e.vapour.T, e.vapour.T, e.liquid.rho);
    h_l.add(s.h_l, e.liquid.h, e.vapour.T, e.liquid.rho, 1e5);
    h_v.add(s.h_v, e.vapour.h, e.vapour.T, e.vapour.rho, 1e5);
    rho_l.add(s.rho_l, e.liquid.rho, e.vapour.T, e.liquid.rho);
    rho_v.add(s.rho_v, e.vapour.rho, e.vapour.T, e.vapour.rho);
    mu_l.add(s.mu_l, must(exact.transport(e.liquid), "liquid").viscosity, e.vapour.T, e.liquid.rho);
    mu_v.add(s.mu_v, must(exact.transport(e.vapour), "vapour").viscosity, e.vapour.T, e.vapour.rho);
    cp.add(s.cp_l, e.liquid.single->cp, e.vapour.T, e.liquid.rho);
  });
  T.expect_below(2e-7);
  h_l.expect_below(3e-5);
  h_v.expect_below(3e-5);
  rho_l.expect_below(3e-5);
  rho_v.expect_below(3e-5);
  mu_l.expect_below(3e-5);
  mu_v.expect_below(3e-5);
  cp.expect_below(2e-4);
}

TEST_P(WorkingFluidTables, PressureAtTemperature) {
  Worst p("p_sat"), back("T_sat(p_sat(T))");
  for (int i = 0; i < 701; ++i) {
    const double T = table.T_low() + (table.T_high() - table.T_low()) * (i + 0.37) / 701;
    p.add(table.saturation_pressure(T), must(exact.saturation_pressure(T), "p_sat"), T, 0);
    back.add(table.saturation_temperature(table.ln_saturation_pressure(T)), T, T, 0);
  }
  p.expect_below(1e-6);
  back.expect_below(2e-7);
}

TEST_P(WorkingFluidTables, SuperheatedVapour) {
  Worst T("T"), rho("rho"), k("isentropic exponent"), cp("cp"), h("h(T), relative to its superheat");
  // Up to 60 C saturation: beyond that no machine runs, and near the critical point nothing is linear.
  const double top = table.ln_saturation_pressure(333.15);
  over_pressures(97, [&](double lnp) {
    if (lnp > top) return;
    const Isobar at = table.isobar(lnp);
    for (double dh : {1e3, 4e3, 11e3, 25e3, 60e3, 110e3, 170e3, 220e3}) {
      if (dh > table.span_h()) continue;
      const double p = std::exp(lnp);
      const auto e = must(exact.at_ph(p, at.sat.h_v + dh), "vapour");
      if (!e.single) continue;
      const VapourPoint v = at.vapour(at.sat.h_v + dh);
      T.add(v.T, e.T, e.T, e.rho);
      rho.add(v.rho, e.rho, e.T, e.rho);
      k.add(v.k, e.rho * e.single->sound_speed * e.single->sound_speed / p, e.T, e.rho);
      cp.add(v.cp, e.single->cp, e.T, e.rho);
      h.add(at.vapour_enthalpy(e.T) - at.sat.h_v, dh, e.T, e.rho, 20e3);
    }
  });
  T.expect_below(2e-4);
  rho.expect_below(1e-3);
  k.expect_below(2e-3);
  cp.expect_below(2e-2);
  h.expect_below(5e-3);
}

// An approximation of the circuit, not of the table: liquid off saturation is saturated liquid at its
// temperature. At the pressures of a cabinet that is small against what a kilogram carries.
TEST_P(WorkingFluidTables, SubcooledLiquidStandsForItself) {
  Worst h("h of subcooled liquid"), rho("rho of subcooled liquid");
  for (double T_c : {298.15, 313.15, 333.15}) {
    const double p = table.saturation_pressure(T_c);
    for (double subcooling : {2.0, 8.0, 20.0}) {
      const auto e = must(exact.at_Tp(T_c - subcooling, p), "liquid");
      const SatPoint s = table.at_temperature(T_c - subcooling);
      h.add(s.h_l, e.h, e.T, e.rho, 3e5);  // against the evaporation, about 300 kJ/kg
      rho.add(s.rho_l, e.rho, e.T, e.rho);
    }
  }
  h.expect_below(3e-3);
  rho.expect_below(1e-2);
}

// What stands outside is clamped and finite: the solver steps through it.
TEST_P(WorkingFluidTables, OutsideStaysFinite) {
  for (double lnp : {-50.0, table.lnp_low() - 1, table.lnp_high() + 1, 50.0}) {
    const SatPoint s = table.saturation(lnp);
    EXPECT_TRUE(std::isfinite(s.T + s.h_l + s.h_v + s.rho_l + s.rho_v + s.mu_l + s.mu_v + s.cp_l));
  }
  for (double T : {1.0, table.T_low() - 5, table.T_high() + 5, 2000.0})
    EXPECT_TRUE(std::isfinite(table.ln_saturation_pressure(T)));
  const Isobar at = table.isobar(table.ln_saturation_pressure(273.15));
  for (double h : {-1e6, at.sat.h_v + 2 * table.span_h(), 1e7}) {
    const VapourPoint v = at.vapour(h);
    EXPECT_TRUE(std::isfinite(v.T) && std::isfinite(v.rho) && std::isfinite(v.k) && std::isfinite(v.cp));
    EXPECT_GT(v.rho, 0);
  }
  EXPECT_NEAR(at.vapour(at.sat.h_v).T, at.sat.T, 0.03);  // two tables meet here
  EXPECT_EQ(at.density(at.sat.h_l - 1e4), at.sat.rho_l);
}

INSTANTIATE_TEST_SUITE_P(All, WorkingFluidTables, testing::ValuesIn(refrigerants()), test_name);

}  // namespace

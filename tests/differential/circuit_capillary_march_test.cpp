// The closed form of the capillary, which the circuit solves with, against the stepwise march along the tube:
// adiabatic and giving heat to the suction line, from subcooled liquid to wet and gaseous inlets, open and
// partly blocked, choked or not.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/capillary_rows.hpp"

namespace {

using namespace coldwright;
using namespace coldwright::circuit;
using namespace coldwright::test;

// Relative deviations with the places they were at.
struct Deviation {
  std::vector<std::pair<double, std::string>> all;
  void add(double ours, double other, const std::string& at) { all.emplace_back(ours / other - 1, at); }
  /// Prints and holds the median, the size that 95 % stay below, and the worst.
  void expect(const char* what, double most_median, double most_95, double most) {
    ASSERT_FALSE(all.empty());
    std::sort(all.begin(), all.end());
    const double middle = all[all.size() / 2].first;
    std::sort(all.begin(), all.end(),
              [](const auto& a, const auto& b) { return std::abs(a.first) < std::abs(b.first); });
    const double high = all[all.size() * 95 / 100].first;
    std::printf("  measured: %-32s median %+.4f, 95 %% below %.4f, worst %+.4f of %zu: %s\n", what, middle,
                std::abs(high), all.back().first, all.size(), all.back().second.c_str());
    EXPECT_LT(std::abs(middle), most_median) << what;
    EXPECT_LT(std::abs(high), most_95) << what;
    EXPECT_LT(std::abs(all.back().first), most) << what << ": " << all.back().second;
  }
};

std::string label(const std::string& name, const Capillary& tube, double T_c, double inlet, double T_e) {
  char text[120];
  std::snprintf(text, sizeof text, "%s %.2f mm x %.1f m, %.0f C in, %+.2f, %.0f C out", name.c_str(),
                tube.diameter * 1e3, tube.length, T_c - 273.15, inlet, T_e - 273.15);
  return text;
}

// `inlet`: K of subcooling when positive, minus the quality when negative.
CapillaryInlet inlet_at(const WorkingFluid& f, double T_c, double inlet) {
  return inlet_of(f, f.saturation_pressure(T_c), std::max(inlet, 0.0), std::max(-inlet, 0.0));
}

template <class Visit>
void over_tubes(const std::vector<double>& inlets, const std::vector<double>& T_out, const Visit& visit) {
  for (const std::string& name : refrigerants())
    for (double bore : {0.6e-3, 0.9e-3, 1.2e-3})
      for (double length : {1.6, 3.6})
        for (double T_c : {298.15, 313.15, 333.15})
          for (double inlet : inlets)
            for (double T_e : T_out) visit(name, Capillary{length, bore, 1}, T_c, inlet, T_e);
}

// Below this a smooth tube turns laminar, and friction no longer follows Re^-1/4 along it.
constexpr double kTurbulent = 4000;

double reynolds(const Capillary& tube, const WorkingFluid& f, const CapillaryInlet& in, double flow) {
  return 4 * flow / (std::numbers::pi * tube.diameter * f.saturation(in.lnp).mu_l);
}

TEST(CapillaryMarch, Adiabatic) {
  Deviation subcooled, wet, gaseous, slow;
  over_tubes({1, 5, 15, -0.02, -0.1, -0.3, -0.8}, {248.15, 268.15, 288.15},
             [&](const std::string& name, const Capillary& tube, double T_c, double inlet, double T_e) {
               const WorkingFluid& f = working_fluid(name);
               const CapillaryInlet in = inlet_at(f, T_c, inlet);
               const double lnp_out = f.ln_saturation_pressure(T_e);
               const double a = flow_through(tube, f, in, lnp_out, 0).flow;
               const double b = march_through(tube, f, in, lnp_out, 0, 0, 1).flow;
               Deviation& d = inlet < -0.2                            ? gaseous
                              : reynolds(tube, f, in, b) < kTurbulent ? slow
                              : inlet > 0                             ? subcooled
                                                                      : wet;
               d.add(a, b, label(name, tube, T_c, inlet, T_e));
             });
  subcooled.expect("subcooled", 0.01, 0.015, 0.02);
  // Worst in the widest, shortest tube at 60 C, with the evaporator far below the choking pressure: the few
  // nodes lie far apart there.
  wet.expect("wet, up to 10 %", 0.01, 0.06, 0.12);
  gaseous.expect("30 and 80 % vapour", 0.02, 0.09, 0.16);
  slow.expect("nearly laminar", 0.02, 0.10, 0.15);
}

// Half of the heat seen by the metering against heat given along the middle of the tube, where it touches
// the suction line; the heat is what an exchanger of effectiveness 0.65 takes. A wet inlet that the heat
// turns back into liquid is where halving it goes most astray.
TEST(CapillaryMarch, WithHeatExchange) {
  Deviation subcooled, wet;
  over_tubes({1, 5, 15, -0.05, -0.2}, {248.15, 268.15},
             [&](const std::string& name, const Capillary& tube, double T_c, double inlet, double T_e) {
               const WorkingFluid& f = working_fluid(name);
               const CapillaryInlet in = inlet_at(f, T_c, inlet);
               const Isobar out = f.isobar(f.ln_saturation_pressure(T_e));
               const double heat = 0.65 * out.vapour(out.sat.h_v).cp * (T_c - 5 - T_e);
               const double a = flow_through(tube, f, in, out.lnp, heat).flow;
               const double b = march_through(tube, f, in, out.lnp, heat, 0.15, 0.75).flow;
               (inlet > 0 ? subcooled : wet).add(a, b, label(name, tube, T_c, inlet, T_e));
             });
  subcooled.expect("heat exchange, subcooled", 0.12, 0.17, 0.20);
  wet.expect("heat exchange, wet", 0.08, 0.45, 0.65);
}

// What the population makes of it: the bore is solved at the design point with the same formula, so a
// constant part cancels, and only how the deviation changes from there counts.
TEST(CapillaryMarch, HeatExchangeRelativeToTheDesignPoint) {
  Deviation d;
  for (const std::string& name : refrigerants()) {
    const WorkingFluid& f = working_fluid(name);
    const auto ratio = [&](double T_c, double inlet, double T_e, const Capillary& tube) {
      const CapillaryInlet in = inlet_at(f, T_c, inlet);
      const Isobar out = f.isobar(f.ln_saturation_pressure(T_e));
      const double heat = 0.65 * out.vapour(out.sat.h_v).cp * (T_c - 5 - T_e);
      return flow_through(tube, f, in, out.lnp, heat).flow /
             march_through(tube, f, in, out.lnp, heat, 0.15, 0.75).flow;
    };
    for (const double length : {1.6, 3.0}) {
      const Capillary tube{length, 0.8e-3, 1};
      const double design = ratio(313.15, 5, 265.15, tube);
      for (double T_c : {298.15, 323.15})
        for (double inlet : {2.0, 10.0})
          for (double T_e : {248.15, 270.15})
            d.add(ratio(T_c, inlet, T_e, tube), design, label(name, tube, T_c, inlet, T_e));
    }
  }
  d.expect("heat exchange, to the design", 0.03, 0.06, 0.08);
}

// A blockage narrows the area that flow has, in both.
TEST(CapillaryMarch, PartlyBlocked) {
  Deviation d;
  for (const std::string& name : refrigerants()) {
    const WorkingFluid& f = working_fluid(name);
    for (double open : {0.9, 0.5, 0.2, 0.05}) {
      const Capillary tube{2.5, 0.8e-3, open};
      const CapillaryInlet in = inlet_at(f, 313.15, 5);
      const double lnp_out = f.ln_saturation_pressure(253.15);
      d.add(flow_through(tube, f, in, lnp_out, 0).flow, march_through(tube, f, in, lnp_out, 0, 0, 1).flow,
            label(name, tube, 313.15, 5, 253.15));
    }
  }
  d.expect("partly blocked", 0.01, 0.015, 0.015);
}

// One pass with the flow that is there is the iterated answer: what an operating point relies on.
TEST(CapillaryMarch, OnePassAtTheFlowItselfIsTheIteratedOne) {
  Deviation d;
  over_tubes({5, -0.1}, {253.15},
             [&](const std::string& name, const Capillary& tube, double T_c, double inlet, double T_e) {
               const WorkingFluid& f = working_fluid(name);
               const CapillaryInlet in = inlet_at(f, T_c, inlet);
               const double lnp_out = f.ln_saturation_pressure(T_e);
               double flow = flow_through(tube, f, in, lnp_out, 30e3).flow;
               for (int i = 0; i < 12; ++i) flow = flow_through(tube, f, in, lnp_out, 30e3, flow).flow;
               d.add(flow_through(tube, f, in, lnp_out, 30e3).flow, flow, label(name, tube, T_c, inlet, T_e));
             });
  d.expect("iterated to its fixed point", 1e-3, 2e-3, 0.01);  // worst near the laminar corner
}

}  // namespace

// Transport by residual entropy scaling: the C++ against the same method written apart in
// tools/transport_method.py, and both against reference correlations and measured blends, within the stated
// uncertainty. Rows by tools/make_transport_rows.py.
#include <numbers>

#include "support/transport_rows.hpp"

namespace {

using namespace coldwright;
using fluids::Estimate;
using fluids::ScaledPart;
using test::Row;
using test::Worst;

// Two programs, the same formulas: rounding, which expm1 of the curve and differences of Omega magnify.
constexpr double same_method = 1e-11;

// Stated for 95 % of the states of a component's region; the rows are a quarter of them.
constexpr double share_within = 0.94;

const std::map<std::string, std::vector<std::string>> blends{{"R404A", {"R125", "R143a", "R134a"}},
                                                             {"R407C", {"R32", "R125", "R134a"}},
                                                             {"R410A", {"R32", "R125"}},
                                                             {"R507A", {"R125", "R143a"}}};

/// Counts how many references lie within what we state.
class Within {
 public:
  void add(const Estimate& ours, double reference, const std::string& where) {
    if (std::isnan(reference)) return;
    ++all_;
    const double part = std::abs(ours.value / reference - 1);
    sum_ += part;
    if (part <= ours.uncertainty) ++within_;
    // Nothing may lie far out even among the remaining 5 %.
    EXPECT_LT(part, 2 * ours.uncertainty + 0.02)
        << where << ": ours " << ours.value << ", reference " << reference;
  }
  void expect(int at_least, double share, const char* what) const {
    std::printf("  measured: %s: %d of %d within the stated uncertainty, mean deviation %.1f %%\n", what,
                within_, all_, 100 * sum_ / all_);
    EXPECT_GE(all_, at_least);
    EXPECT_GE(within_, share * all_);
  }

 private:
  int all_ = 0, within_ = 0;
  double sum_ = 0;
};

std::string place(const std::string& name, const Row& row) {
  return name + " at " + std::to_string(row.at("T")) + " K, " + std::to_string(row.at("rho")) + " mol/m3";
}

/// Rows against the separately written method, and against the reference within what is stated.
struct Seen {
  Worst viscosity{"viscosity"}, conductivity{"conductivity"};
  Within viscosity_within, conductivity_within;

  void add(std::span<const ScaledPart> parts, const std::string& name, const test::Row& row) {
    const auto& tables = test::scaling_tables();
    const auto state = test::scaled_state(row);
    const auto near = test::near_critical(row);
    const auto eta = test::must(fluids::scaled_viscosity(parts, tables.blends, state), "viscosity");
    const auto lambda =
        test::must(fluids::scaled_conductivity(parts, tables.blends, state, &near), "conductivity");
    viscosity.add(eta.value, row.at("our_viscosity"), state.T, state.rho);
    conductivity.add(lambda.value, row.at("our_conductivity"), state.T, state.rho);
    viscosity_within.add(eta, row.at("reference_viscosity"), place(name, row));
    conductivity_within.add(lambda, row.at("reference_conductivity"), place(name, row));
  }

  void expect(int viscosities, int conductivities) const {
    viscosity.expect_below(same_method);
    conductivity.expect_below(same_method);
    viscosity_within.expect(viscosities, share_within, "viscosity");
    conductivity_within.expect(conductivities, share_within, "conductivity");
  }
};

TEST(TransportScaling, PureFluids) {
  const auto rows = test::read_named_rows("transport_pure.csv");
  ASSERT_GE(rows.size(), 900u);
  Seen seen;
  for (const auto& [name, row] : rows) {
    const std::array part{ScaledPart{&test::scaling_component(name), 1.0, row.at("cp0")}};
    seen.add(part, name, row);
  }
  seen.expect(500, 600);
}

TEST(TransportScaling, MeasuredBlends) {
  const auto rows = test::read_named_rows("transport_blends.csv");
  ASSERT_EQ(rows.size(), 80u);
  Seen seen;
  for (const auto& [name, row] : rows) {
    std::vector<ScaledPart> parts;
    for (const std::string& part : blends.at(name)) {
      const std::string i = std::to_string(parts.size() + 1);
      parts.push_back({&test::scaling_component(part), row.at("x" + i), row.at("cp0_" + i)});
    }
    seen.add(parts, name, row);
  }
  seen.expect(80, 80);
}

TEST(TransportScaling, SurfaceTensionOfMeasuredBlends) {
  const auto& tables = test::scaling_tables();
  Worst same("surface tension");
  Within within;
  std::map<std::string, std::vector<ScaledPart>> compositions;
  for (const auto& [name, row] : test::read_named_rows("transport_blends.csv"))
    if (compositions[name].empty())
      for (const std::string& part : blends.at(name))
        compositions[name].push_back(
            {&test::scaling_component(part), row.at("x" + std::to_string(compositions[name].size() + 1)), 0});
  for (const auto& [name, row] : test::read_named_rows("transport_blend_tension.csv")) {
    const auto& parts = compositions.at(name);
    std::vector<double> y;
    for (const auto& part : parts) y.push_back(part.x);
    const auto ours = test::must(fluids::scaled_surface_tension(parts, y, tables.blends, row.at("T"),
                                                                row.at("rho_liquid"), row.at("rho_vapour")),
                                 "surface tension");
    same.add(ours.value, row.at("our_tension"), row.at("T"), row.at("rho_liquid"));
    within.add(ours, row.at("reference_tension"), name);
  }
  same.expect_below(same_method);
  within.expect(36, share_within, "surface tension");
}

// The default for R290, R600a and R134a stays their own correlation; the scaling agrees with it as stated.
TEST(TransportScaling, AgreesWithOurOwnCorrelations) {
  const auto& tables = test::scaling_tables();
  Within viscosity, conductivity;
  for (const std::string& name : test::refrigerants()) {
    const auto& fluid = test::fluid(name);
    const auto& component = test::scaling_component(name);
    const double M = fluid.limits().M, R = fluid.data().R, thin = 1e-7;
    for (double T_r = 0.65; T_r < 0.93; T_r += 0.02) {
      const auto ends = test::must(fluid.saturation_at_T(T_r * fluid.limits().T_crit), "saturation");
      for (const fluids::State* state : {&ends.liquid, &ends.vapour}) {
        const auto gas = test::must(fluid.at_Trho(state->T, thin), "thin gas");
        const double s_ideal = gas.s * M - R * std::log(state->rho / thin);
        const std::array part{ScaledPart{&component, 1.0, gas.single->cp * M}};
        const fluids::ScaledState at{state->T, state->rho / M, (s_ideal - state->s * M) / R};
        const auto own = test::must(fluid.transport(*state), "transport");
        viscosity.add(test::must(fluids::scaled_viscosity(part, tables.blends, at), name), own.viscosity,
                      name);
        conductivity.add(test::must(fluids::scaled_conductivity(part, tables.blends, at), name),
                         own.conductivity, name);
      }
    }
  }
  viscosity.expect(80, 0.9, "viscosity");
  conductivity.expect(80, 0.9, "conductivity");  // without the enhancement
}

}  // namespace

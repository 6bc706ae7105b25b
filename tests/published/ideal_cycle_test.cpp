// Ideal vapour-compression cycles at rating conditions, against rows computed with an independent library
// from the published equations; the rows and where they come from stand in tests/data/ideal_cycles.csv.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <optional>
#include <ostream>
#include <sstream>
#include <string>
#include <vector>

#include "service/refrigerant_loader.hpp"

namespace {

using coldwright::Result;
using coldwright::fluids::Fluid;
using coldwright::fluids::Saturation;
using coldwright::fluids::State;

constexpr double kZeroCelsius = 273.15;  // K

// Rows are printed with three to five digits; our equations are the same, so what is left is their rounding.
constexpr double kRelative = 0.002;
constexpr double kDischargeKelvin = 0.1;

struct Row {
  std::string refrigerant;
  double evaporating, condensing;         // K
  std::optional<double> suction, liquid;  // K, absent: saturated
  double p_e, p_c;                        // Pa
  double pressure_ratio;
  double q_e, work;  // J/kg
  double cop;
  double discharge;            // K
  double suction_density;      // kg/m3
  double volumetric_capacity;  // J/m3
};

std::ostream& operator<<(std::ostream& out, const Row& row) {
  return out << row.refrigerant << " " << row.evaporating - kZeroCelsius << "/"
             << row.condensing - kZeroCelsius << " C";
}

std::vector<Row> read_rows() {
  std::ifstream file(TEST_DATA_DIR "/ideal_cycles.csv");
  std::vector<Row> rows;
  std::string line;
  while (std::getline(file, line)) {
    if (line.empty() || line.starts_with("#") || line.starts_with("refrigerant,")) continue;
    std::vector<std::string> cells;
    std::stringstream stream(line);
    for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
    if (cells.size() != 14) return {};
    const auto number = [&](std::size_t i) { return std::atof(cells[i].c_str()); };
    const auto kelvin = [&](std::size_t i) -> std::optional<double> {
      if (cells[i].empty()) return std::nullopt;
      return number(i) + kZeroCelsius;
    };
    rows.push_back({cells[0], *kelvin(1), *kelvin(2), kelvin(3), kelvin(4), number(5) * 1e3, number(6) * 1e3,
                    number(7), number(8) * 1e3, number(9) * 1e3, number(10), *kelvin(11), number(12),
                    number(13) * 1e3});
  }
  return rows;
}

/// The value of a result, or the end of the test with the problem told: without exceptions, which the same
/// test hasn't under WebAssembly.
template <class T>
T take(Result<T> result) {
  if (!result) {
    std::fprintf(stderr, "%s\n", coldwright::to_text(result.problem()).c_str());
    std::abort();
  }
  return std::move(result).value();
}

/// The state at T beside a saturation line: on it when T is the saturation temperature itself.
State beside(const Fluid& fluid, double T, double p, double saturation_T, const State& saturated) {
  return T == saturation_T ? saturated : take(fluid.at_Tp(T, p));
}

class IdealCycle : public testing::TestWithParam<Row> {};

TEST_P(IdealCycle, AgreesWithTheRow) {
  const Row& row = GetParam();
  const Fluid fluid = take(coldwright::service::load_fluid(row.refrigerant));
  const Saturation low = take(fluid.saturation_at_T(row.evaporating));
  const Saturation high = take(fluid.saturation_at_T(row.condensing));
  const State suction =
      beside(fluid, row.suction.value_or(row.evaporating), low.vapour.p, row.evaporating, low.vapour);
  const State liquid =
      beside(fluid, row.liquid.value_or(row.condensing), high.vapour.p, row.condensing, high.liquid);
  const State discharge = take(fluid.at_ps(high.vapour.p, suction.s));

  const double q_e = suction.h - liquid.h;
  const double work = discharge.h - suction.h;
  const auto close = [](double ours, double theirs) { return std::abs(ours / theirs - 1) <= kRelative; };
  EXPECT_PRED2(close, low.vapour.p, row.p_e);
  EXPECT_PRED2(close, high.vapour.p, row.p_c);
  EXPECT_PRED2(close, high.vapour.p / low.vapour.p, row.pressure_ratio);
  EXPECT_PRED2(close, q_e, row.q_e);
  EXPECT_PRED2(close, work, row.work);
  EXPECT_PRED2(close, q_e / work, row.cop);
  EXPECT_PRED2(close, suction.rho, row.suction_density);
  EXPECT_PRED2(close, suction.rho * q_e, row.volumetric_capacity);
  if (discharge.quality) {
    // The entropy of saturated isobutane vapour rises with temperature, so compressing it ends wet, at the
    // condensing temperature. The row follows the vapour branch past its end instead, hence a bit colder.
    EXPECT_EQ(row.refrigerant, "R600a");
    EXPECT_NEAR(discharge.T, row.condensing, 1e-6);
    EXPECT_GT(*discharge.quality, 0.98);
    EXPECT_LT(row.discharge, row.condensing);
  } else {
    EXPECT_NEAR(discharge.T, row.discharge, kDischargeKelvin);
  }
}

TEST(IdealCycleRows, AreAllRead) { EXPECT_EQ(read_rows().size(), 27u); }

INSTANTIATE_TEST_SUITE_P(ReferenceRows, IdealCycle, testing::ValuesIn(read_rows()), [](const auto& row) {
  return row.param.refrigerant + "_" + std::to_string(row.index);
});

}  // namespace

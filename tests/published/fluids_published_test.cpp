// Our states against rows printed in the papers of the equations: each at the table's own rounding.
// A failure prints paper, table, refrigerant, temperature and column. Rows:
// tests/data/fluids/published_*.csv, whose first lines tell where they were read.
#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <sstream>

#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;

/// Cells as printed, so that the number of digits is known. A blank cell is absent.
using Printed = std::map<std::string, std::string>;

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> out(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"')
      quoted = !quoted;
    else if (c == ',' && !quoted)
      out.emplace_back();
    else
      out.back().push_back(c);
  }
  return out;
}

std::vector<Printed> read_printed(const std::string& file) {
  std::ifstream in(std::string(TEST_DATA_DIR) + "/fluids/" + file);
  std::vector<std::string> names;
  std::vector<Printed> rows;
  std::string line;
  while (std::getline(in, line)) {
    if (line.empty() || line[0] == '#') continue;
    const auto cells = cells_of(line);
    if (names.empty()) {
      names = cells;
      continue;
    }
    Printed row;
    for (std::size_t i = 0; i < names.size() && i < cells.size(); ++i)
      if (!cells[i].empty()) row[names[i]] = cells[i];
    rows.push_back(row);
  }
  return rows;
}

double number(const Printed& row, const std::string& column) { return std::stod(row.at(column)); }

/// One unit of the last printed digit.
double last_digit(const std::string& printed) {
  const auto point = printed.find('.');
  if (point == std::string::npos) return 1;
  return std::pow(10.0, -static_cast<double>(printed.size() - point - 1));
}

void expect_printed(const Printed& row, const std::string& column, double ours) {
  const auto found = row.find(column);
  if (found == row.end()) return;
  const bool truncated = row.at("source").starts_with("tillnerroth1994");
  const double tolerance = (truncated ? 1.001 : 0.501) * last_digit(found->second);
  EXPECT_NEAR(ours, std::stod(found->second), tolerance) << row.at("source") << ", " << row.at("refrigerant")
                                                         << " at " << row.at("T") << " K, column " << column;
}

/// Enthalpy and entropy as the paper counts them: without our shift to the IIR reference state.
struct PaperZero {
  double h, s;  // J/kg, J/(kg K), to be taken off ours
};
PaperZero paper_zero(const fluids::Fluid& fluid) {
  const auto& data = fluid.data();
  const double R = data.R / data.M;
  return {R * data.T_reducing * data.ideal.shift_a2, -R * data.ideal.shift_a1};
}

void expect_state(const Printed& row, const std::string& prefix, const fluids::Fluid& fluid,
                  const fluids::State& state) {
  const PaperZero zero = paper_zero(fluid);
  ASSERT_TRUE(state.single);
  expect_printed(row, prefix + "rho", state.rho);
  expect_printed(row, prefix + "u", (state.u - zero.h) / 1e3);
  expect_printed(row, prefix + "h", (state.h - zero.h) / 1e3);
  expect_printed(row, prefix + "s", (state.s - zero.s) / 1e3);
  expect_printed(row, prefix + "cv", state.single->cv / 1e3);
  expect_printed(row, prefix + "cp", state.single->cp / 1e3);
  expect_printed(row, prefix + "w", state.single->sound_speed);
}

/// Table 5 of the paper follows from theta = u/T_c with u = 393, 1237, 1984 and 4351 K, while the
/// theta in circulation, and in our data, are rounded to seven digits. That is 4e-8 of cv, visible in this
/// table of eight digits alone: we meet it with the unrounded ones.
fluids::Fluid with_unrounded_theta() {
  fluids::FluidData data = test::fluid("R290").data();
  const double u[] = {393, 1237, 1984, 4351};
  for (std::size_t i = 0; i < data.ideal.einstein.size(); ++i) {
    const double theta = u[i] / data.T_reducing;
    EXPECT_NEAR(data.ideal.einstein[i].theta, theta, 0.6e-6);
    data.ideal.einstein[i].theta = theta;
  }
  return *fluids::Fluid::make(data);
}

TEST(FluidsPublished, StatePoints) {
  const auto rows = read_printed("published_state_points.csv");
  ASSERT_EQ(rows.size(), 21u);
  const fluids::Fluid unrounded = with_unrounded_theta();
  for (const Printed& row : rows) {
    const bool table5 = row.at("source") == "lemmon2009, Table 5";
    const auto& fluid = table5 ? unrounded : test::fluid(row.at("refrigerant"));
    const double T = number(row, "T"), M = fluid.limits().M;
    if (row.contains("rho_molar")) {
      const auto state = test::must(fluid.at_Trho(T, number(row, "rho_molar") * 1e3 * M), "at_Trho");
      expect_state(row, "", fluid, state);
      expect_printed(row, "p", state.p / 1e6);
      expect_printed(row, "cv_molar", state.single->cv * M);
      expect_printed(row, "cp_molar", state.single->cp * M);
    } else {
      expect_state(row, "", fluid, test::must(fluid.at_Tp(T, number(row, "p") * 1e6), "at_Tp"));
    }
  }
}

TEST(FluidsPublished, Saturation) {
  const auto rows = read_printed("published_saturation.csv");
  ASSERT_EQ(rows.size(), 14u);
  for (const Printed& row : rows) {
    const auto& fluid = test::fluid(row.at("refrigerant"));
    const auto ends = test::must(fluid.saturation_at_T(number(row, "T")), "saturation_at_T");
    expect_printed(row, "p", ends.vapour.p / 1e6);
    expect_state(row, "l_", fluid, ends.liquid);
    expect_state(row, "v_", fluid, ends.vapour);
  }
}

// Critical points as published. The equation's own one differs by less than the papers' uncertainty:
// 0.03 K [lemmon2009], 0.05 K [buecker2006], 0.01 K [tillnerroth1994] (from memory).
TEST(FluidsPublished, CriticalPoints) {
  struct Published {
    const char* name;
    double T, p, rho, T_uncertainty;
  };
  for (const Published& at :
       {Published{"R290", 369.89, 4.2512e6, 220.48, 0.03}, Published{"R600a", 407.81, 3.629e6, 225.5, 0.05},
        Published{"R134a", 374.21, 4.05928e6, 511.9, 0.01}}) {
    const auto& limits = test::fluid(at.name).limits();
    EXPECT_NEAR(limits.T_crit, at.T, at.T_uncertainty) << at.name;
    EXPECT_NEAR(limits.p_crit, at.p, 2e-4 * at.p) << at.name;
    EXPECT_NEAR(limits.rho_crit, at.rho, 0.1) << at.name;
  }
}

// R134a in the technician's units: psia from the refrigerant tables of the ASHRAE Handbook of
// Fundamentals, from memory, hence the tolerance of 0.05 psi; the equation there is the same.
TEST(FluidsPublished, FieldUnitRows) {
  struct FieldRow {
    double fahrenheit, psia;
  };
  const auto& r134a = test::fluid("R134a");
  for (const FieldRow& row :
       {FieldRow{-20, 12.885}, FieldRow{0, 21.17}, FieldRow{20, 33.13}, FieldRow{40, 49.74},
        FieldRow{60, 72.09}, FieldRow{80, 101.4}, FieldRow{100, 138.83}}) {
    const double T = (row.fahrenheit + 459.67) / 1.8;
    EXPECT_NEAR(test::must(r134a.saturation_pressure(T), "p") / 6894.757293168, row.psia, 0.05)
        << row.fahrenheit << " F";
  }
}

}  // namespace

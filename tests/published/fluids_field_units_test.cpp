// Saturation in the technician's units, bubble and dew: auxiliary equations published for four blends,
// printed tables, and the boiling points of the designation standard.
#include <fstream>

#include "fluids/blend_model.hpp"
#include "support/fluid_rows.hpp"

namespace {

using namespace coldwright;

constexpr double psi = 6894.757293168, atmosphere = 14.69595;  // Pa, psia

double kelvin(double fahrenheit) { return (fahrenheit + 459.67) / 1.8; }

/// ln(p/p_c) = T_c/T sum n (1 - T/T_c)^t
struct Auxiliary {
  const char* name;
  bool bubble;
  double T_c, p_c;  // K, Pa
  double n[4], t[4];

  double psig(double fahrenheit) const {
    const double T = kelvin(fahrenheit);
    double sum = 0;
    for (int i = 0; i < 4; ++i) sum += n[i] * std::pow(1 - T / T_c, t[i]);
    return p_c * std::exp(T_c / T * sum) / psi - atmosphere;
  }
};

// [lemmon2003], the equations for bubble and dew pressure; the numbers through CoolProp [bell2014].
constexpr Auxiliary auxiliaries[] = {
    {"R404A", true, 345.27, 3.7348e6, {0.061067, -6.5646, -3.6162, -3.9771}, {0.54, 0.965, 3.7, 9}},
    {"R404A", false, 345.27, 3.7348e6, {-0.00026863, -6.5757, -4.1802, -7.9102}, {0.1, 0.972, 3.8, 9}},
    {"R407C", true, 359.345, 4.6317e6, {0.48722, -6.6959, -1.4165, -2.5109}, {0.54, 0.925, 2.7, 4.7}},
    {"R407C", false, 359.345, 4.6317e6, {-0.086077, -6.6364, -2.4648, -3.4776}, {0.4, 0.965, 3.1, 5}},
    {"R410A", true, 344.494, 4.9012e6, {-7.2818, 2.5093, -3.2695, -2.8022}, {1, 1.8, 2.4, 4.9}},
    {"R410A", false, 344.494, 4.9012e6, {-7.4411, 1.9883, -2.4925, -3.2633}, {1, 1.6, 2.4, 5}},
    {"R507A", true, 343.765, 3.7049e6, {-7.4853, 2.0115, -2.0141, -3.7763}, {1, 1.5, 2.2, 4.6}},
    {"R507A", false, 343.765, 3.7049e6, {-7.5459, 2.338, -2.237, -4.1535}, {1, 1.5, 2.1, 4.7}},
};

// The auxiliary equations follow the blends' own equation to a few hundredths of a percent, which follows the
// measured pressures to 0.1 to 0.5 % (from memory). Ours is the mixture model that the blends' own equation
// was fitted beside: 0.03 % measured from -60 to 150 F.
TEST(FluidsFieldUnits, BlendsFollowTheirPublishedEquations) {
  double worst = 0;
  for (const Auxiliary& equation : auxiliaries)
    for (int fahrenheit = -60; fahrenheit <= 150; fahrenheit += 10) {
      const auto& fluid = test::fluid(equation.name);
      const double T = kelvin(fahrenheit);
      if (T > fluid.T_two_phase_max()) continue;
      const double ours =
          test::must(equation.bubble ? fluid.bubble_pressure(T) : fluid.dew_pressure(T), equation.name) / psi;
      const double printed = equation.psig(fahrenheit) + atmosphere;
      worst = std::max(worst, std::abs(ours / printed - 1));
      EXPECT_NEAR(ours, printed, 5e-4 * printed + 0.005)
          << equation.name << (equation.bubble ? " bubble" : " dew") << " at " << fahrenheit << " F";
    }
  std::printf("  measured: %.2e\n", worst);
}

struct Printed {
  std::string name;
  double fahrenheit, psig, last_digit;
};

std::vector<Printed> printed_pressures() {
  std::ifstream in(std::string(TEST_DATA_DIR) + "/fluids/published_field_pressures.csv");
  std::vector<Printed> out;
  std::string line, name, fahrenheit, psig;
  while (std::getline(in, line)) {
    std::istringstream cells(line);
    std::getline(cells, name, ',');
    std::getline(cells, fahrenheit, ',');
    std::getline(cells, psig, ',');
    if (line[0] == '#' || name == "refrigerant") continue;
    out.push_back(
        {name, std::stod(fahrenheit), std::stod(psig), psig.find('.') == std::string::npos ? 1 : 0.1});
  }
  return out;
}

// Pure fluids: the row's own rounding and half of it more, since it is recalled and not read. Blends: the
// card's single value lies somewhere between dew and bubble, and is made from older equations, 1 % away
// (R507A).
TEST(FluidsFieldUnits, PrintedPressures) {
  int rows = 0;
  for (const Printed& row : printed_pressures()) {
    const auto& fluid = test::fluid(row.name);
    const double T = kelvin(row.fahrenheit);
    const double bubble = test::must(fluid.bubble_pressure(T), row.name) / psi - atmosphere;
    const double dew = test::must(fluid.dew_pressure(T), row.name) / psi - atmosphere;
    const double older = fluid.is_blend() ? 0.01 * (row.psig + atmosphere) : 0;
    const double tolerance = 0.75 * row.last_digit + older;
    EXPECT_LE(dew - tolerance, row.psig) << row.name << " at " << row.fahrenheit << " F";
    EXPECT_GE(bubble + tolerance, row.psig) << row.name << " at " << row.fahrenheit << " F";
    ++rows;
  }
  EXPECT_EQ(rows, 54);
}

// The standard's values are those of each applicant's model. Where every pair of ours has published
// parameters they agree within 1.2 K. Pairs without are fitted to these same rows by tools/fit_pairs.cpp, so
// for their blends this holds the fit, within 1.1 K, and no prediction (that tool prints what a blend left
// out would have been: up to 1.4 K, 2.9 K where nothing else knew the pair). Two blends with R218 beside a
// hydrocarbon could not be fitted and lie up to 4 K off: such pairs mix as if their components were alike.
TEST(FluidsFieldUnits, BoilingPointsOfTheStandard) {
  enum Kind { published, fitted, alike };
  constexpr double within[] = {1.3, 1.1, 4.2};  // K
  double worst[3] = {0, 0, 0};
  int count[3] = {0, 0, 0};
  for (const auto& [name, row] : test::read_named_rows("published_boiling_points.csv")) {
    const auto& fluid = test::fluid(name);
    Kind kind = published;
    for (const fluids::PairData& pair : fluid.data().blend->mixture.pairs())
      if (pair.estimated) kind = std::max(kind, pair.estimated_by.starts_with("fitted") ? fitted : alike);
    const double bubble = test::must(fluid.bubble_temperature(101325), name) - 273.15;
    const double dew = test::must(fluid.dew_temperature(101325), name) - 273.15;
    for (const auto& [ours, column] : {std::pair{bubble, "bubble"}, std::pair{dew, "dew"}}) {
      worst[kind] = std::max(worst[kind], std::abs(ours - row.at(column)));
      EXPECT_NEAR(ours, row.at(column), within[kind]) << name << " " << column;
    }
    ++count[kind];
  }
  std::printf(
      "  measured: %d blends of published pairs within %.2f K, %d with a fitted one %.2f K, %d others %.2f "
      "K\n",
      count[published], worst[published], count[fitted], worst[fitted], count[alike], worst[alike]);
  EXPECT_GT(count[published], 25);
  EXPECT_GT(count[fitted], 10);
}

}  // namespace

// What the fluid tests share: the refrigerants and blends, reference rows from tests/data/fluids, and a
// record of the worst deviation together with where it was.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "service/catalogue.hpp"
#include "service/refrigerant_loader.hpp"

namespace coldwright::test {

/// The three with transport correlations and full grids of reference rows of their own.
inline const std::vector<std::string>& refrigerants() {
  static const std::vector<std::string> names{"R290", "R600a", "R134a"};
  return names;
}

/// Every pure fluid that is carried, those three included.
inline const std::vector<std::string>& all_pure() {
  static const std::vector<std::string> names = service::known_refrigerants();
  return names;
}

/// Those with a published equation that the library carries too. R1132a is our own estimate.
inline const std::vector<std::string>& compared_pure() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> out = all_pure();
    std::erase(out, "R1132a");
    return out;
  }();
  return names;
}

inline const service::Catalogue& catalogue() {
  static const auto loaded = service::Catalogue::load();
  if (!loaded) std::abort();
  return *loaded;
}

/// Every blend of the catalogue whose components are all carried.
inline const std::vector<std::string>& all_blends() {
  static const std::vector<std::string> names = [] {
    const auto carried = [](const service::CatalogueComponent& component) {
      return std::find(all_pure().begin(), all_pure().end(), component.designation) != all_pure().end();
    };
    std::vector<std::string> out;
    for (const service::CatalogueEntry& entry : catalogue().entries())
      if (entry.blend && std::all_of(entry.components.begin(), entry.components.end(), carried))
        out.push_back(entry.designation);
    return out;
  }();
  return names;
}

/// Loaded once a test program.
inline const fluids::Fluid& fluid(const std::string& name) {
  static std::map<std::string, fluids::Fluid> loaded;
  auto found = loaded.find(name);
  if (found == loaded.end()) {
    auto made = service::load_fluid(name);
    if (!made) {
      std::fprintf(stderr, "%s: %s\n", name.c_str(), to_text(made.problem()).c_str());
      std::abort();
    }
    found = loaded.emplace(name, *made).first;
  }
  return found->second;
}

/// A value or a failed test that tells the problem.
template <class T>
T must(const Result<T>& result, const std::string& what) {
  if (result) return *result;
  ADD_FAILURE() << what << ": " << to_text(result.problem());
  return T{};
}

using Row = std::map<std::string, double>;

/// Rows of tests/data/fluids/<file>: comment lines, a line of names, then a name (if `named`) and numbers
/// ("nan": none).
inline std::vector<std::pair<std::string, Row>> read_named_rows(const std::string& file, bool named = true) {
  std::ifstream in(std::string(TEST_DATA_DIR) + "/fluids/" + file);
  std::vector<std::string> columns;
  std::vector<std::pair<std::string, Row>> rows;
  std::string line, cell;
  while (std::getline(in, line)) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream cells(line);
    std::string name;
    if (named) std::getline(cells, name, ',');
    if (columns.empty()) {
      while (std::getline(cells, cell, ',')) columns.push_back(cell);
      continue;
    }
    Row row;
    for (const std::string& column : columns) {
      std::getline(cells, cell, ',');
      row[column] = std::stod(cell);
    }
    rows.emplace_back(std::move(name), std::move(row));
  }
  return rows;
}

/// The same where one refrigerant has the file to itself.
inline std::vector<Row> read_rows(const std::string& file) {
  std::vector<Row> out;
  for (auto& [name, row] : read_named_rows(file, false)) out.push_back(std::move(row));
  return out;
}

/// Those of one refrigerant among the named ones.
inline std::vector<Row> rows_of(const std::string& name, const std::string& file) {
  static std::map<std::string, std::vector<std::pair<std::string, Row>>> read;
  if (!read.contains(file)) read[file] = read_named_rows(file);
  std::vector<Row> out;
  for (const auto& [whose, row] : read[file])
    if (whose == name) out.push_back(row);
  return out;
}

inline bool has_full_grid(const std::string& name) {
  return std::find(refrigerants().begin(), refrigerants().end(), name) != refrigerants().end();
}

/// Reference rows of a pure fluid: over 2,000 states of those with a full grid, about 60 of every other one.
inline std::vector<Row> single_phase_rows(const std::string& name) {
  return has_full_grid(name) ? read_rows(name + "_single_phase.csv") : rows_of(name, "pure_single_phase.csv");
}
inline std::vector<Row> saturation_rows(const std::string& name) {
  return has_full_grid(name) ? read_rows(name + "_saturation.csv") : rows_of(name, "pure_saturation.csv");
}

/// Keeps the largest relative deviation of one property and says where it was.
class Worst {
 public:
  explicit Worst(std::string what) : what_(std::move(what)) {}

  /// Relative to the larger of |expected| and `scale`; `who` where it is of several refrigerants.
  void add(double ours, double expected, double T, double rho, double scale = 0,
           const std::string& who = "") {
    const double part = std::abs(ours - expected) / std::max(std::abs(expected), scale);
    if (part <= largest_) return;  // NaN falls through and stays
    largest_ = part;
    char text[240];
    std::snprintf(text, sizeof text, "%s %.2e at %s T = %.9g K, rho = %.9g kg/m3: ours %.17g, expected %.17g",
                  what_.c_str(), part, who.c_str(), T, rho, ours, expected);
    where_ = text;
  }

  void expect_below(double tolerance) const {
    std::printf("  measured: %s\n", where_.c_str());
    EXPECT_LT(largest_, tolerance) << where_;
  }

 private:
  std::string what_, where_;
  double largest_ = -1;
};

/// "R1233zd(E)" as "R1233zd_E_".
inline std::string test_name(const testing::TestParamInfo<std::string>& row) {
  std::string out = row.param;
  for (char& c : out)
    if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
  return out;
}

}  // namespace coldwright::test

// What the fluid tests share: the three refrigerants, reference rows from tests/data/fluids, and a
// record of the worst deviation together with where it was.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "service/refrigerant_loader.hpp"

namespace coldwright::test {

inline const std::vector<std::string>& refrigerants() {
  static const std::vector<std::string> names{"R290", "R600a", "R134a"};
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

/// Rows of tests/data/fluids/<file>: comment lines, a line of names, numbers.
inline std::vector<Row> read_rows(const std::string& file) {
  std::ifstream in(std::string(TEST_DATA_DIR) + "/fluids/" + file);
  std::vector<std::string> names;
  std::vector<Row> rows;
  std::string line, cell;
  while (std::getline(in, line)) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream cells(line);
    if (names.empty()) {
      while (std::getline(cells, cell, ',')) names.push_back(cell);
      continue;
    }
    Row row;
    for (const std::string& name : names) {
      std::getline(cells, cell, ',');
      row[name] = std::stod(cell);
    }
    rows.push_back(row);
  }
  return rows;
}

/// Keeps the largest relative deviation of one property and says where it was.
class Worst {
 public:
  explicit Worst(std::string what) : what_(std::move(what)) {}

  /// Relative to the larger of |expected| and `scale`.
  void add(double ours, double expected, double T, double rho, double scale = 0) {
    const double part = std::abs(ours - expected) / std::max(std::abs(expected), scale);
    if (part <= largest_) return;  // NaN falls through and stays
    largest_ = part;
    char text[160];
    std::snprintf(text, sizeof text, "%s %.2e at T = %.9g K, rho = %.9g kg/m3: ours %.17g, expected %.17g",
                  what_.c_str(), part, T, rho, ours, expected);
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

inline std::string test_name(const testing::TestParamInfo<std::string>& row) { return row.param; }

}  // namespace coldwright::test

// What the tests of transport by residual entropy scaling share: the tables, and rows whose first cell is a
// name.
#pragma once

#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "service/transport_loader.hpp"
#include "support/fluid_rows.hpp"

namespace coldwright::test {

inline const fluids::ScalingTables& scaling_tables() {
  static const fluids::ScalingTables tables = must(service::load_scaling_tables(), "transport.json");
  return tables;
}

inline const fluids::ScalingComponent& scaling_component(const std::string& designation) {
  const auto* found = scaling_tables().find(designation);
  if (found == nullptr) {
    std::fprintf(stderr, "no transport data for %s\n", designation.c_str());
    std::abort();
  }
  return *found;
}

/// Rows of tests/data/fluids/<file>: comment lines, a line of names, then a name and numbers ("nan": none).
inline std::vector<std::pair<std::string, Row>> read_named_rows(const std::string& file) {
  std::ifstream in(std::string(TEST_DATA_DIR) + "/fluids/" + file);
  std::vector<std::string> columns;
  std::vector<std::pair<std::string, Row>> rows;
  std::string line, cell;
  while (std::getline(in, line)) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream cells(line);
    std::string name;
    std::getline(cells, name, ',');
    if (columns.empty()) {
      while (std::getline(cells, cell, ',')) columns.push_back(cell);
      continue;
    }
    Row row;
    for (const std::string& column : columns) {
      std::getline(cells, cell, ',');
      row[column] = std::stod(cell);
    }
    rows.emplace_back(name, row);
  }
  return rows;
}

inline fluids::ScaledState scaled_state(const Row& row) {
  return {row.at("T"), row.at("rho"), row.at("s_plus")};
}

inline fluids::NearCritical near_critical(const Row& row) {
  return {row.at("cp"),          row.at("cv"),     row.at("drho_dp"),
          row.at("drho_dp_far"), row.at("p_crit"), row.at("rho_crit")};
}

}  // namespace coldwright::test

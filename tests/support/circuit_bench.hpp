// What the circuit tests share: working fluids built once a program, a population of machines drawn from the
// kinds of cabinet in data/cabinets.json, and rows of tests/data/circuit.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "circuit/operating_point.hpp"
#include "circuit/population.hpp"
#include "service/knowledge_loader.hpp"
#include "support/fluid_rows.hpp"

namespace coldwright::test {

/// Tabulated once a test program.
inline const circuit::WorkingFluid& working_fluid(const std::string& name) {
  static std::map<std::string, circuit::WorkingFluid> made;
  auto found = made.find(name);
  if (found == made.end()) {
    auto table = circuit::WorkingFluid::make(fluid(name));
    if (!table) {
      std::fprintf(stderr, "%s: %s\n", name.c_str(), to_text(table.problem()).c_str());
      std::abort();
    }
    found = made.emplace(name, std::move(*table)).first;
  }
  return found->second;
}

inline const diagnosis::Knowledge& knowledge() {
  static const auto loaded = service::load_knowledge();
  if (!loaded) {
    std::fprintf(stderr, "%s\n", to_text(loaded.problem()).c_str());
    std::abort();
  }
  return *loaded;
}

inline const circuit::Archetype& cabinet(const std::string& id) {
  for (const circuit::Archetype& kind : knowledge().archetypes)
    if (kind.id == id) return kind;
  std::fprintf(stderr, "no cabinet %s\n", id.c_str());
  std::abort();
}

/// A machine with its refrigerant and its own box temperature at rest.
struct Drawn {
  circuit::Machine machine;
  const circuit::WorkingFluid* fluid;
  const circuit::Archetype* kind;
};

/// The first `count` machines of this kind that its archetype admits.
inline std::vector<Drawn> draw_machines(const circuit::Archetype& kind, int count, std::uint64_t seed) {
  std::vector<Drawn> all;
  RandomStream random(seed);
  const circuit::WorkingFluid& table = working_fluid(kind.refrigerant);
  circuit::Nameplate plate;
  plate.archetype = kind.id;
  for (int tried = 0; static_cast<int>(all.size()) < count && tried < 3 * count; ++tried) {
    auto machine = circuit::machine_from(circuit::draw_latents(random), plate, kind, table);
    if (machine) all.push_back({std::move(*machine), &table, &kind});
  }
  EXPECT_EQ(static_cast<int>(all.size()), count) << kind.id;
  return all;
}

inline double median(std::vector<double> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

using Cells = std::map<std::string, std::string>;

/// Rows of tests/data/circuit/<file> as text: comment lines, a line of names, cells.
inline std::vector<Cells> read_cells(const std::string& file) {
  std::ifstream in(std::string(TEST_DATA_DIR) + "/circuit/" + file);
  std::vector<std::string> names;
  std::vector<Cells> rows;
  std::string line, cell;
  while (std::getline(in, line)) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream cells(line);
    if (names.empty()) {
      while (std::getline(cells, cell, ',')) names.push_back(cell);
      continue;
    }
    Cells row;
    for (const std::string& name : names) {
      std::getline(cells, cell, ',');
      row[name] = cell;
    }
    rows.push_back(row);
  }
  return rows;
}

}  // namespace coldwright::test

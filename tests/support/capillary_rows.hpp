// The capillary rows of tests/data/circuit and the states they start from.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "circuit/capillary.hpp"
#include "support/circuit_bench.hpp"

namespace coldwright::test {

constexpr double kPerHour = 3600;  // kg/s to kg/h

struct TubeRow {
  std::string refrigerant;
  circuit::Capillary tube;
  double p_in;                      // Pa
  double subcooling, quality;       // K; kg/kg, one of them zero
  double correlation, homogeneous;  // kg/s
  double choke;                     // Pa, zero where the row has none
};

inline std::vector<TubeRow> read_tubes(const std::string& file) {
  std::vector<TubeRow> rows;
  for (const Cells& c : read_cells(file)) {
    const auto number = [&](const char* name) { return c.contains(name) ? std::stod(c.at(name)) : 0.0; };
    rows.push_back({c.at("refrigerant"),
                    {number("length"), number("diameter") * 1e-3, 1},
                    number("p_in") * 1e3,
                    number("subcooling"),
                    number("quality"),
                    number("correlation") / kPerHour,
                    number("homogeneous") / kPerHour,
                    number("choke") * 1e3});
  }
  return rows;
}

/// Inlet at p_in, subcooled (liquid taken as saturated at its temperature, as the circuit does) or two-phase.
inline circuit::CapillaryInlet inlet_of(const circuit::WorkingFluid& table, double p_in, double subcooling,
                                        double quality) {
  const double lnp = std::log(p_in);
  const circuit::SatPoint sat = table.saturation(lnp);
  if (quality > 0) return {lnp, sat.h_l + quality * (sat.h_v - sat.h_l)};
  return {lnp, table.at_temperature(sat.T - subcooling).h_l};
}

inline circuit::CapillaryInlet inlet_of(const TubeRow& row) {
  return inlet_of(working_fluid(row.refrigerant), row.p_in, row.subcooling, row.quality);
}

}  // namespace coldwright::test

// What the tests of transport by residual entropy scaling share: the tables, and their rows.
#pragma once

#include <string>

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

inline fluids::ScaledState scaled_state(const Row& row) {
  return {row.at("T"), row.at("rho"), row.at("s_plus")};
}

inline fluids::NearCritical near_critical(const Row& row) {
  return {row.at("cp"),          row.at("cv"),     row.at("drho_dp"),
          row.at("drho_dp_far"), row.at("p_crit"), row.at("rho_crit")};
}

}  // namespace coldwright::test

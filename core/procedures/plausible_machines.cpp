#include "procedures/plausible_machines.hpp"

#include <cmath>
#include <optional>
#include <utility>

namespace coldwright::procedures {

Result<std::vector<circuit::Machine>> plausible_machines(const circuit::Nameplate& plate,
                                                         const circuit::Archetype& kind,
                                                         const circuit::WorkingFluid& table, int count,
                                                         std::uint64_t seed) {
  std::vector<circuit::Machine> machines;
  std::optional<Problem> last;
  RandomStream random(seed);
  for (int tried = 0; static_cast<int>(machines.size()) < count && tried < 4 * count; ++tried) {
    auto machine = circuit::machine_from(circuit::draw_latents(random), plate, kind, table);
    if (machine)
      machines.push_back(std::move(*machine));
    else
      last = machine.problem();
  }
  if (2 * static_cast<int>(machines.size()) < count && last) return *last;
  return machines;
}

double high_volume(const circuit::Machine& m) { return m.condenser.volume + m.vessels.liquid_line; }
double low_volume(const circuit::Machine& m) { return m.evaporator.volume + m.vessels.shell; }

DesignPoint design_point(const circuit::Machine& m, const circuit::WorkingFluid& table, double subcooling) {
  const double T_c = m.design_ambient + m.split0;
  const circuit::Isobar suction = table.isobar(m.lnp_e0 + std::log(1 - m.suction_drop));
  const double heat = circuit::exchange(m.suction, suction, m.h_eo0, T_c - subcooling, m.design_ambient).heat;
  return {table.saturation_pressure(T_c), std::exp(m.lnp_e0), subcooling, heat};
}

}  // namespace coldwright::procedures

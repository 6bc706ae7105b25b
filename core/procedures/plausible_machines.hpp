// The machines that a nameplate leaves plausible (circuit/population.hpp), for what nobody measured: the
// capillary's bore and length, the refrigerant flow it was made for, and the volumes on either side of it.
#pragma once

#include <cstdint>
#include <vector>

#include "circuit/machine.hpp"
#include "circuit/population.hpp"
#include "procedures/spread.hpp"
#include "procedures/tube_sizing.hpp"

namespace coldwright::procedures {

/// `count` of them, always the same for the same seed. Problem when the plate contradicts itself: the last
/// draw's, when fewer than half could be made out of four times as many tries.
Result<std::vector<circuit::Machine>> plausible_machines(const circuit::Nameplate& plate,
                                                         const circuit::Archetype& kind,
                                                         const circuit::WorkingFluid& table, int count,
                                                         std::uint64_t seed = 1);

/// m3. High: condenser, liquid line and drier. Low: evaporator and what the compressor's shell holds of gas.
/// Suction and discharge lines aren't counted.
double high_volume(const circuit::Machine& machine);
double low_volume(const circuit::Machine& machine);

/// The design point of this machine as its capillary sees it, with this subcooling (K) at the inlet.
DesignPoint design_point(const circuit::Machine& machine, const circuit::WorkingFluid& table,
                         double subcooling);

}  // namespace coldwright::procedures

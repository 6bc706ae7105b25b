#include "procedures/missing_charge.hpp"

#include <algorithm>

#include "circuit/operating_point.hpp"
#include "diagnosis/findings.hpp"

namespace coldwright::procedures {

Result<MissingCharge> missing_charge(const circuit::Nameplate& plate, const circuit::Archetype& kind,
                                     const circuit::WorkingFluid& fluid, const Surroundings& around,
                                     double missing, int count, std::uint64_t seed) {
  const double usual = plate.charge.value_or(kind.charge.median);
  if (!(missing > 0) || !(missing < 0.5 * usual))
    return Problem{"missing charge", std::to_string(missing * 1e3) + " g",
                   "above zero and below half of the charge", "with more gone it is another machine"};
  std::vector<diagnosis::Weighted> superheat, pressure, capacity, charge, suction, head;
  const RandomStream random(seed);
  for (int i = 0; i < count; ++i) {
    RandomStream own = random.fork(static_cast<std::uint64_t>(i));
    const auto machine = circuit::machine_from(circuit::draw_latents(own), plate, kind, fluid);
    if (!machine || missing > 0.5 * machine->charge) continue;
    const circuit::Conditions c{around.ambient, around.box, machine->compressor.rated_voltage,
                                circuit::air_density_ratio(around.site_pressure)};
    const circuit::OperatingPoint whole = circuit::operate(*machine, fluid, c, {});
    if (whole.summary.status != circuit::Status::converged) continue;
    circuit::Departure lacking;
    lacking.charge = 1 - missing / machine->charge;
    const circuit::OperatingPoint less = circuit::operate(*machine, fluid, c, lacking, &whole.solution);
    if (less.summary.status != circuit::Status::converged) continue;
    superheat.push_back({(less.superheat - whole.superheat) / missing, 1});
    pressure.push_back({(less.p_suction - whole.p_suction) / missing, 1});
    capacity.push_back({(less.capacity / whole.capacity - 1) / missing, 1});
    charge.push_back({machine->charge, 1});
    suction.push_back({whole.p_suction, 1});
    head.push_back({whole.p_discharge, 1});
  }
  if (charge.empty())
    return Problem{"cabinet", kind.id, "a machine that runs in these surroundings",
                   "none of the machines drawn has a steady state there"};
  const int solved = static_cast<int>(charge.size());
  return MissingCharge{diagnosis::interval_of(std::move(superheat)),
                       diagnosis::interval_of(std::move(pressure)),
                       diagnosis::interval_of(std::move(capacity)),
                       diagnosis::interval_of(std::move(charge)),
                       diagnosis::interval_of(std::move(suction)),
                       diagnosis::interval_of(std::move(head)),
                       solved};
}

}  // namespace coldwright::procedures

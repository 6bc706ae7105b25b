// The plausible machines behind a nameplate.
//
// A machine is drawn as a vector of independent standard normals, each standing for one thing nobody told us
// (see Latent). Components come first; then evaporator TD, condenser split, superheat and subcooling are
// imposed at a design point, and compressor size, coil conductances, capillary bore and coil volumes are
// solved so that this machine, with exactly the nameplate charge, sits on that design point. Small production
// spreads of capillary and charge are applied last. So every drawn machine is a plausible critically charged
// one, and the same vector always gives the same machine. Ranges: our estimates after the feasibility study,
// and common practice; none is a maker's data.
#pragma once

#include <array>

#include "base/normal.hpp"
#include "base/result.hpp"
#include "circuit/machine.hpp"
#include "circuit/nameplate.hpp"
#include "circuit/working_fluid.hpp"

namespace coldwright::circuit {

enum class Latent {
  size,  // running current against the plate, or capacity where the plate is silent
  design_ambient,
  evaporator_td,
  condenser_split,
  superheat,
  subcooling,
  efficiency,
  clearance,
  fill,
  suction_heating,
  friction,
  shell_loss,
  magnetising,
  copper,
  condenser_vapour,
  condenser_liquid,
  evaporator_vapour,
  condenser_transfer,
  evaporator_transfer,
  exchange,
  pick_up,
  capillary_length,
  condenser_hold_up,
  evaporator_hold_up,
  shell_volume,
  oil,
  solubility,
  coil_ratio,
  liquid_line,
  capillary_spread,
  charge_spread,
  load,
  trip,
  charge_unknown,
};
inline constexpr int kMachineLatents = 34;
using MachineLatents = std::array<double, kMachineLatents>;

/// How far the population may sit from the one described here; all ones by default. Only the evaluation uses
/// others, to draw machines from a world that differs from the one the diagnosis believes in.
struct Shift {
  double evaporator_td = 1,
         condenser_split = 1;       // factors on the design differences (coils smaller or larger)
  double hold_up = 1;               // factor on liquid hold-up
  double exchange = 1;              // factor on suction exchanger effectiveness
  double plate_current_spread = 1;  // factor on the spread of running against plate current
};

MachineLatents draw_latents(RandomStream& random);

/// The machine of these latents. Problem when the plate contradicts itself for this archetype (a charge too
/// small to fill any coil) or the design point lies outside the fluid's tables.
Result<Machine> machine_from(const MachineLatents& z, const Nameplate& plate, const Archetype& kind,
                             const WorkingFluid& fluid, const Shift& shift = {});

}  // namespace coldwright::circuit

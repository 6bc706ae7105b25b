// The vapour-compression cycle as a line to draw: four states and the way between them.
#pragma once

#include <array>
#include <optional>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "drawing/trace.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::drawing {

/// Where a state stands on a diagram.
inline Sample sample(const fluids::State& state) { return {state.p, state.T, state.h}; }

struct CycleGiven {
  double p_low = 0, p_high = 0;       // Pa
  double superheat = 0;               // K above the dew point, entering the compressor
  double subcooling = 0;              // K below the bubble point, leaving the condenser
  double efficiency = 1;              // isentropic, 0..1
  std::optional<double> T_discharge;  // K, where it is known; then the efficiency isn't used
};

/// compressor in (1), compressor out (2), liquid (3), into the coil (4).
struct Cycle {
  fluids::State compressor_in, compressor_out, liquid, coil_in;
  std::vector<Sample> way;                      // 1 to 2 to 3 to 4 and back to 1
  std::optional<double> superheat, subcooling;  // K, as given
};

/// The four corners in the order of the flow, each with the key of its name.
std::array<std::pair<const char*, const fluids::State*>, 4> corners(const Cycle& cycle);

/// Refuses what the refrigerant's equation doesn't reach. The way of the compression keeps one isentropic
/// efficiency at every pressure. Some 100 states: 2 ms for a pure refrigerant, 50 ms for a blend.
Result<Cycle> make_cycle(const fluids::Fluid& fluid, const CycleGiven& given);

}  // namespace coldwright::drawing

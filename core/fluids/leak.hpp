// What a leak does to a blend's composition: the phase that leaves carries more of some components than the
// whole, so what stays drifts.
#pragma once

#include <vector>

#include "base/result.hpp"
#include "fluids/fluid_data.hpp"

namespace coldwright::fluids {

enum class LeakFrom { vapour, liquid };

struct LeakQuestion {
  LeakFrom from = LeakFrom::vapour;
  double T = 0;             // K, held: a slow leak takes its heat from the surroundings
  double liquid_share = 0;  // of the volume, at the start: 0 to 1
  double lost = 0;          // of the mass: 0 to most_lost
};
inline constexpr double most_lost = 0.95;

/// The contents when this share of the first mass has gone.
struct LeakStep {
  double lost = 0;
  double p = 0;                       // Pa, in the system
  std::vector<double> left, leaving;  // mass fractions of all that is left, and of what leaves just now
  bool liquid_left = true;
};

struct LeakCourse {
  std::vector<LeakStep> steps;    // from 0 to `lost`, evenly
  std::vector<double> topped_up;  // what is left, filled up to the first mass with the blend as sold
};

/// Both phases in equilibrium at T in a rigid volume; the named phase leaves. Once the liquid has gone,
/// vapour of the whole composition leaves, whichever was named. Exact in the limit of many steps; these keep
/// the mass of each component to a part in 1e5. Refuses a pure refrigerant, a temperature off the blend's
/// lines, a share out of range.
Result<LeakCourse> leak(const FluidData& blend, const LeakQuestion& question);

/// Bubble and dew pressure at T of the blend's components in these mass fractions.
struct LensPressures {
  double bubble = 0, dew = 0;  // Pa
};
Result<LensPressures> lens_pressures(const FluidData& blend, const std::vector<double>& mass_fractions,
                                     double T);

}  // namespace coldwright::fluids

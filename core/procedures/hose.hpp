// What a service hose holds: its bore's volume full of vapour, or of liquid.
#pragma once

#include "base/result.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::procedures {

struct HoseContents {
  double volume;     // m3
  double vapour;     // kg when full of vapour
  double liquid;     // kg when full of liquid
  bool superheated;  // the vapour is warmer than its dew point at this pressure
};

/// A round bore (m) of this length (m).
double hose_volume(double bore, double length);

/// At pressure p (Pa absolute) and temperature T (K) of the hose. Vapour as superheated as T makes it, at its
/// dew point when T lies below; liquid at its bubble point at T.
Result<HoseContents> hose_contents(const fluids::Fluid& fluid, double volume, double p, double T);

}  // namespace coldwright::procedures

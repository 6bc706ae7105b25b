// A condenser in three zones by area: cooling vapour, condensing, cooling liquid. Closed form: the heat
// exchange of each zone is known per share of area, so the shares follow one after the other and what is
// left over subcools. Wet inlet and incomplete condensation come out of the same steps.
#pragma once

#include "circuit/working_fluid.hpp"

namespace coldwright::circuit {

struct Condenser {
  double volume = 0;        // m3 inside
  double vapour_ratio = 0;  // conductance of the desuperheating zone relative to the condensing one
  double liquid_ratio = 0;  // same for the subcooling zone
  double hold_up = 1;       // liquid hold-up over Zivi's
};

struct CondenserPoint {
  double h_out, T_out;
  double share_vapour, share_two_phase, share_liquid;  // of the area, sum 1
  double x_out;                                        // quality leaving; 0 when subcooled
  double heat;                                         // W
  double mass;                                         // kg of refrigerant inside
  double T_middle;                                     // K, tube at half of the area
};

/// K: conductance per air_point(); `at` the condensing isobar, that of the refrigerant's own partial
/// pressure; flow > 0.
CondenserPoint condense(const Condenser& coil, const Isobar& at, double K, double T_air, double flow,
                        double h_in, double T_in);

}  // namespace coldwright::circuit

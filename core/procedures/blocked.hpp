// How far a capillary is blocked, from the nitrogen that it passes.
//
// What is compared is a flow (or the time that a vessel before the tube takes to fall) with that of the clear
// tube (gas_through_tube.hpp): open share s = flow/flow of the clear tube = time of the clear tube/time.
// Neither the tube nor the conditions are known exactly, so the clear tube is computed for draws from their
// spreads (spread.hpp). A bore off by 0.02 mm in 0.8 mm changes the flow by about 7 %. Whether it is clear
// follows by Bayes from each draw c_i of ln(flow of the clear tube), d_i = ln(measured) - c_i and the spread
// e of the reading itself: the evidence for "clear" is the mean of N(d_i; 0, e), that for "blocked, by any
// share alike" the mean of Int_0^1 N(d_i; ln s, e) ds. Both have the prior one half [our-estimate]. Left out:
// a vessel that empties within seconds cools and reads low (its walls are taken to keep it at T).
#pragma once

#include <optional>
#include <vector>

#include "base/result.hpp"
#include "diagnosis/answer.hpp"
#include "procedures/gas_through_tube.hpp"
#include "procedures/spread.hpp"

namespace coldwright::procedures {

/// A tube that may be the one: bore and length in m, each with its standard deviation.
struct LikelyTube {
  Known bore, length;
  double roughness = 1.5e-6;  // m, drawn copper [idelchik2005]
};

struct NitrogenSupply {
  Known pressure;     // Pa absolute before the tube
  double p_to;        // Pa absolute behind it
  Known temperature;  // K
};

struct MeasuredFlow {
  NitrogenSupply supply;
  Known flow;  // kg/s; zero when nothing came
};

/// The supply valve was shut and the side before the tube fell from one pressure to another.
struct MeasuredFall {
  NitrogenSupply supply;  // its pressure is where the fall starts
  double p_end;           // Pa absolute
  double gauge_sigma;     // Pa, of each of both readings
  Known seconds, volume;  // s, m3
};

struct Blockage {
  diagnosis::Interval blocked;     // 1 - s; below zero when more passed than should
  diagnosis::Interval clear_flow;  // of the clear tube: kg/s, or s of the fall
  double probability_clear;
  double smallest_shown;  // the share blocked that a check with these spreads shows 19 times of 20
  double spread;          // standard deviation of ln(measured/clear)
};

/// `tubes`: one, or the plausible ones, each counting alike. Problem when nothing could flow, a dimension
/// isn't above zero, the vessel doesn't fall, or a spread is negative.
Result<Blockage> blocked_by_flow(const fluids::Fluid& nitrogen, const std::vector<LikelyTube>& tubes,
                                 const MeasuredFlow& measured);
Result<Blockage> blocked_by_fall(const fluids::Fluid& nitrogen, const std::vector<LikelyTube>& tubes,
                                 const MeasuredFall& measured);

/// Bore (m) over the whole length that would pass this flow (kg/s), and the bore of a single sharp hole
/// before the clear tube that would. The hole is absent when the clear tube passes no more than that.
struct Remaining {
  double bore;
  std::optional<double> hole;
};
Result<Remaining> remaining_bore(const Gas& gas, const Tube& tube, double p_from, double T, double p_to,
                                 double flow);

/// Flow of a sharp round hole: isentropic nozzle, choking included, discharge coefficient 0.8 [our-estimate].
double flow_of_hole(const Gas& gas, double bore, double p_from, double T, double p_to);

/// The clear tube at rising supply pressures.
struct ClearFlow {
  double p_from;
  GasFlow flow;
};
Result<std::vector<ClearFlow>> clear_flow_table(const fluids::Fluid& nitrogen, const Tube& tube, double T,
                                                double p_to, const std::vector<double>& p_from);
/// Supply pressure (Pa absolute) above which the clear tube chokes at its end; none up to `highest`.
Result<std::optional<double>> chokes_from(const Gas& gas, const Tube& tube, double T, double p_to,
                                          double highest);

}  // namespace coldwright::procedures

// What a plate on the cabinet says, and what kind of cabinet it is when the plate says little.
#pragma once

#include <optional>
#include <string>

namespace coldwright::circuit {

enum class CondenserKind { finned_fan, wire_tube_natural, wire_tube_fan };

/// A spread: a median and a one-standard-deviation ratio (lognormal) around it.
struct Spread {
  double median = 0;
  double ratio = 1;  // e.g. 1.25 means +-25 % (one standard deviation of ln)
};

/// A kind of cabinet: what is plausible when the nameplate is unreadable. Loaded from data/cabinets.json;
/// all numbers are our estimates or common practice, as the file says.
struct Archetype {
  std::string id;           // "reach_in_cooler"
  std::string label;        // "reach-in cooler"
  std::string refrigerant;  // usual one
  double set_point_K = 0;   // box air at the set point
  double design_ambient_low_K = 0, design_ambient_high_K = 0;
  double evaporator_td_low = 0, evaporator_td_high = 0;      // K, design
  double condenser_split_low = 0, condenser_split_high = 0;  // K, design
  Spread charge;                                             // kg
  Spread rated_current;                                      // A at rated_voltage
  double rated_voltage = 0;                                  // V
  CondenserKind condenser = CondenserKind::finned_fan;
  double running_share_low = 0, running_share_high = 0;  // healthy duty at the design ambient
};

/// What could be read off this unit. Everything optional but the archetype.
struct Nameplate {
  std::string archetype;  // id in the archetype table
  std::optional<std::string> refrigerant;
  std::optional<double> charge;         // kg
  std::optional<double> rated_current;  // A, compressor or whole machine as printed
  std::optional<double> rated_voltage;  // V
  std::optional<double> frequency;      // Hz
  std::optional<double> displacement;   // m3 per revolution, when the compressor is known
  std::optional<double> set_point;      // K, box air
  std::optional<CondenserKind> condenser;
};

}  // namespace coldwright::circuit

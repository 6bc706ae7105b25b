#include "judge/sets.hpp"

#include <algorithm>
#include <iterator>

namespace coldwright::judge {

using circuit::ReadingKind;

std::vector<ReadingSet> reading_sets() {
  using enum ReadingKind;
  const std::vector<ReadingKind> amps{compressor_current};
  const auto plus = [](std::vector<ReadingKind> a, std::initializer_list<ReadingKind> b) {
    a.insert(a.end(), b);
    return a;
  };
  const auto B = plus(amps, {suction_pressure}), C = plus(amps, {condenser_middle_temp, liquid_line_temp});
  const auto D = plus(B, {condenser_middle_temp, liquid_line_temp}),
             E = plus(D, {discharge_line_temp, suction_line_temp});
  const auto F = plus(E, {discharge_pressure, evaporator_inlet_temp, evaporator_outlet_temp,
                          evaporator_air_out_temp, condenser_air_out_temp});
  const auto G =
      plus(C, {discharge_line_temp, suction_line_temp, evaporator_inlet_temp, evaporator_outlet_temp});
  const auto H = plus(D, {supply_voltage, terminal_voltage, run_winding_ohms, start_winding_ohms});
  const auto I = plus(G, {supply_voltage, terminal_voltage, run_winding_ohms, start_winding_ohms});
  const auto J =
      plus(F, {supply_voltage, terminal_voltage, run_winding_ohms, start_winding_ohms, standing_pressure});
  return {{'0', "amps, no looking", false, amps},
          {'A', "looking, amps", true, amps},
          {'B', "A + suction pressure", true, B},
          {'C', "A + two condenser clamps", true, C},
          {'D', "B + C", true, D},
          {'E', "D + discharge, suction clamps", true, E},
          {'F', "both pressures, all temperatures", true, F},
          {'G', "no gauge, six clamps", true, G},
          {'H', "D + volts and ohms", true, H},
          {'I', "G + volts and ohms", true, I},
          {'J', "everything", true, J},
          {'K', "G, everything seen and asked", true, G, true},
          {'P', "a part of J, another by each technician", true, J, true, true}};
}

ReadingSet part_of(ReadingSet set, const diagnosis::Knowledge& knowledge, RandomStream random) {
  if (!set.in_part) return set;
  const double clamps = random.uniform();
  std::erase_if(set.readings, [&](ReadingKind kind) {
    const circuit::ReadingInfo& row = circuit::info(kind);
    const bool temperature = row.quantity == circuit::QuantityKind::temperature;
    const double share = kind == ReadingKind::compressor_current ? 0.9
                         : row.opens_circuit                     ? 0.15
                         : temperature                           ? clamps
                                                                 : 0.2;
    return random.uniform() > share;
  });
  for (const diagnosis::ObservationModel& m : knowledge.observations) {
    const bool looked_at =
        std::find(std::begin(kLookedAt), std::end(kLookedAt), m.subject) != std::end(kLookedAt);
    if (random.uniform() > (looked_at ? 0.85 : 0.25)) set.left_out.push_back(m.subject);
  }
  return set;
}

}  // namespace coldwright::judge

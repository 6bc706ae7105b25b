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
          {'P', "much of J, by each technician another part", true, J, true, Part::much},
          {'Q', "little of J, by each technician another part", true, J, true, Part::little}};
}

ReadingSet part_of(ReadingSet set, const diagnosis::Knowledge& knowledge, RandomStream random) {
  if (set.part == Part::all) return set;
  const bool much = set.part == Part::much;
  const double clamps = much ? random.uniform() : 0.5 * random.uniform();
  const double current = much ? 0.9 : random.uniform(), meters = much ? 0.2 : 0.1,
               opening = much ? 0.15 : 0.03;
  const double looks = much ? 0.85 : random.uniform(), questions = much ? 0.25 : random.uniform();
  std::erase_if(set.readings, [&](ReadingKind kind) {
    const circuit::ReadingInfo& row = circuit::info(kind);
    const bool temperature = row.quantity == circuit::QuantityKind::temperature;
    const double share = kind == ReadingKind::compressor_current ? current
                         : row.opens_circuit                     ? opening
                         : temperature                           ? clamps
                                                                 : meters;
    return random.uniform() > share;
  });
  for (const diagnosis::ObservationModel& m : knowledge.observations) {
    const bool looked_at =
        std::find(std::begin(kLookedAt), std::end(kLookedAt), m.subject) != std::end(kLookedAt);
    if (random.uniform() > (looked_at ? looks : questions)) set.left_out.push_back(m.subject);
  }
  return set;
}

}  // namespace coldwright::judge

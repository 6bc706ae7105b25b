// The places on a small cabinet where a technician can read something, and the names the whole
// project uses for them. One table; every other module refers to it.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "base/field_units.hpp"

namespace coldwright::circuit {

enum class ReadingKind {
  suction_pressure,         // at the process/service stub of the compressor, running
  discharge_pressure,       // high side, running
  standing_pressure,        // all pressures equal, machine long off, condenser at ambient
  evaporator_inlet_temp,    // clamp on the tube where the capillary enters the coil
  evaporator_outlet_temp,   // clamp where the suction line leaves the coil
  suction_line_temp,        // clamp on the suction line near the compressor
  discharge_line_temp,      // clamp 100-150 mm from the compressor
  condenser_middle_temp,    // clamp on a return bend half-way through the condenser
  liquid_line_temp,         // clamp after the condenser, before the drier
  shell_temp,               // compressor dome
  evaporator_air_out_temp,  // air leaving the evaporator
  condenser_air_out_temp,   // air leaving the condenser
  compressor_current,       // clamp on the compressor lead alone
  supply_voltage,           // at the plug, machine trying to run
  terminal_voltage,         // across common and run at the compressor
  run_winding_ohms,         // disconnected, cold
  start_winding_ohms,       // disconnected, cold
};
inline constexpr int kReadingKinds = 17;

enum class QuantityKind { pressure, temperature, current, voltage, resistance };

/// Its place in the one table of units.
base::Dimension dimension_of(QuantityKind kind);

struct ReadingInfo {
  ReadingKind kind;
  std::string_view id;     // "suction_pressure": the word in call files
  std::string_view label;  // "suction pressure"
  QuantityKind quantity;
  double minutes;           // usual time to take it (common practice)
  double grams_lost;        // refrigerant lost or trapped by taking it, order of magnitude
  bool opens_circuit;       // needs a piercing valve or a connection to the sealed circuit
  std::string_view hazard;  // one short caution; empty when none beyond the usual
};

const std::array<ReadingInfo, kReadingKinds>& reading_table();
const ReadingInfo& info(ReadingKind kind);
std::optional<ReadingKind> reading_from_id(std::string_view id);

}  // namespace coldwright::circuit

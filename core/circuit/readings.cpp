#include "circuit/readings.hpp"

namespace coldwright::circuit {
namespace {

using enum ReadingKind;
using enum QuantityKind;

// Minutes and grams are common practice / our estimate: a clamp takes about two minutes, a piercing valve
// with purging and later sealing about a quarter of an hour; grams are hose vapour plus the purge.
constexpr std::array<ReadingInfo, kReadingKinds> kTable{{
    {suction_pressure, "suction_pressure", "suction pressure", pressure, 15, 1.5, true,
     "opening_flammable_circuit"},
    {discharge_pressure, "discharge_pressure", "discharge pressure", pressure, 20, 8, true,
     "opening_flammable_circuit"},
    {standing_pressure, "standing_pressure", "standing pressure", pressure, 45, 1.5, true,
     "opening_flammable_circuit"},
    {evaporator_inlet_temp, "evaporator_inlet_temp", "evaporator inlet temperature", temperature, 6, 0, false,
     "fan_blades"},
    {evaporator_outlet_temp, "evaporator_outlet_temp", "evaporator outlet temperature", temperature, 6, 0,
     false, "fan_blades"},
    {suction_line_temp, "suction_line_temp", "suction line temperature", temperature, 2, 0, false, ""},
    {discharge_line_temp, "discharge_line_temp", "discharge line temperature", temperature, 2, 0, false,
     "hot_pipe"},
    {condenser_middle_temp, "condenser_middle_temp", "condenser middle temperature", temperature, 3, 0, false,
     "fan_blades"},
    {liquid_line_temp, "liquid_line_temp", "liquid line temperature", temperature, 2, 0, false, ""},
    {shell_temp, "shell_temp", "compressor shell temperature", temperature, 2, 0, false, "hot_pipe"},
    {evaporator_air_out_temp, "evaporator_air_out_temp", "air leaving the evaporator", temperature, 3, 0,
     false, "fan_blades"},
    {condenser_air_out_temp, "condenser_air_out_temp", "air leaving the condenser", temperature, 2, 0, false,
     "fan_blades"},
    {compressor_current, "compressor_current", "compressor current", current, 3, 0, false, "live_parts"},
    {supply_voltage, "supply_voltage", "supply voltage", voltage, 2, 0, false, "live_parts"},
    {terminal_voltage, "terminal_voltage", "voltage at the compressor terminals", voltage, 4, 0, false,
     "live_parts"},
    {run_winding_ohms, "run_winding_ohms", "run winding resistance", resistance, 8, 0, false,
     "isolate_and_discharge"},
    {start_winding_ohms, "start_winding_ohms", "start winding resistance", resistance, 8, 0, false,
     "isolate_and_discharge"},
}};

}  // namespace

const std::array<ReadingInfo, kReadingKinds>& reading_table() { return kTable; }

base::Dimension dimension_of(QuantityKind kind) {
  switch (kind) {
    case QuantityKind::pressure:
      return base::Dimension::pressure;
    case QuantityKind::temperature:
      return base::Dimension::temperature;
    case QuantityKind::current:
      return base::Dimension::current;
    case QuantityKind::voltage:
      return base::Dimension::voltage;
    case QuantityKind::resistance:
      return base::Dimension::resistance;
  }
  return base::Dimension::resistance;
}

const ReadingInfo& info(ReadingKind kind) { return kTable[static_cast<std::size_t>(kind)]; }

std::optional<ReadingKind> reading_from_id(std::string_view id) {
  for (const ReadingInfo& row : kTable)
    if (row.id == id) return row.kind;
  return std::nullopt;
}

}  // namespace coldwright::circuit

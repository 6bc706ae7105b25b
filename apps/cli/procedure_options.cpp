#include "procedure_options.hpp"

namespace coldwright::cli {

std::span<const ProcedureOptions> procedure_options() {
  static const std::vector<ProcedureOptions> table = {
      {"evacuation",
       {{"refrigerant", "that was in the circuit"},
        {"pump_speed", "at the pump's inlet: 2.5 cfm"},
        {"pump_ultimate", "with its inlet closed: 20 micron"},
        {"bore", "of the hose, inside"},
        {"length", "of the hose"},
        {"cores", "in or out: the valves' cores"},
        {"sides", "one or both sides of the capillary connected"},
        {"volume", "of the connected side"},
        {"far_volume", "behind the capillary"},
        {"capillary_bore", "inside"},
        {"capillary_length", "of the capillary"},
        {"oil", "in the compressor, by mass"},
        {"water", "left in the circuit, by mass; none unless told"},
        {"water_side", "near or far: where the water is"},
        {"t", "of the circuit, 20 C unless told"},
        {"vacuum", "wanted, 500 micron unless told"},
        {"vacuums", "how many, with breaks of dry nitrogen, 2 to 6"},
        {"break_at", "the vacuum that nitrogen breaks, 1500 micron unless told"},
        {"break", "what nitrogen breaks a vacuum to; the air's pressure unless told"}},
       {"pressure"}},
      {"rise",
       {{"refrigerant", "of the circuit, for what a leak loses"},
        {"t", "of the circuit, 20 C unless told"},
        {"wet_t", "of the coldest place where water may be; t unless told"},
        {"volume", "of the circuit"},
        {"resolution", "the vacuum gauge's step: 1 micron"},
        {"service_pressure", "at which a leak would lose refrigerant; saturation at t unless told"},
        {"seed", "of the drawn futures, 0 to 9007199254740991"}},
       {"pressure"}},
      {"charging",
       {{"refrigerant", "of the plate"},
        {"charge", "the plate's; left out where the plate is gone"},
        {"stays", "never taken out of the machine"},
        {"before", "the scale before: 5250 g"},
        {"after", "the scale after"},
        {"resolution", "the scale's step, 1 g unless told"},
        {"bore", "of the hose, inside"},
        {"length", "of the hose"},
        {"hoses", "how many, 1 to 9"},
        {"hose_state", "vapour, liquid or empty: what stays in the hoses"},
        {"hose_pressure", "in the hoses; saturation at t unless told"},
        {"cabinet", "kind of cabinet, as in a call"},
        {"rated_current", "the plate's"},
        {"rated_voltage", "the plate's"},
        {"frequency", "the plate's"},
        {"set_point", "of the box"},
        {"condenser", "kind of condenser, as in a call"},
        {"t", "of the air, hoses and condenser"},
        {"box", "air in the box"},
        {"seed", "of the drawn machines, 0 to 9007199254740991"},
        {"population", "machines drawn, 10 to 2000"}},
       {"mass", "pressure", "temperature", "current"}},
      {"plan", {}, {}},
  };
  return table;
}

const ProcedureOptions* procedure_named(std::string_view name) {
  for (const ProcedureOptions& row : procedure_options())
    if (row.name == name) return &row;
  return nullptr;
}

}  // namespace coldwright::cli

#include "procedure_options.hpp"

namespace coldwright::cli {

std::span<const ProcedureOptions> procedure_options() {
  static const std::vector<ProcedureOptions> table = {
      {"flammable",
       {{"refrigerant", "one that burns, R290"},
        {"charge", "the plate's, 150g"},
        {"area", "of the floor, 12m2"},
        {"height", "of the room, 2.2m unless told"},
        {"volume", "instead of the area, 30m3"},
        {"share", "of the lower limit, 25% unless told"},
        {"t", "of the air, 68F"},
        {"bore", "of the hose it is let out through, 4.8mm unless told"},
        {"length", "of that hose, 1.52m unless told"},
        {"wind", "'2 m/s' or '5 mph', 1 m/s unless told"},
        {"changes", "air changes an hour indoors, 0.5 unless told"},
        {"pressure", "of the vapour, saturation at t unless told"},
        {"leaves", "recovered or released"}},
       {}},
      {"opening",
       {{"refrigerant", "R290"},
        {"charge", "the plate's"},
        {"cabinet", "its kind, reach_in_cooler"},
        {"set_point", "of the box"},
        {"rated_current", "of the plate"},
        {"rated_voltage", "of the plate"},
        {"hoses", "low, high or both"},
        {"low_length", "of the low-side hose"},
        {"low_bore", "of the low-side hose"},
        {"high_length", "of the high-side hose"},
        {"high_bore", "of the high-side hose"},
        {"t", "of the room"},
        {"hose_t", "of the hoses, the room's unless told"},
        {"box", "air in the box"},
        {"low_loss", "yes: fittings that shut themselves"},
        {"pulled_back", "yes: the high hose is opened to the suction before it comes off"},
        {"suction_pressure", "running"},
        {"head_pressure", "running"}},
       {}},
      {"tracer",
       {{"refrigerant", "R290"},
        {"pressure", "of the test, 145psig"},
        {"volume", "of the circuit; from the call's machines unless told"},
        {"t", "of the circuit"},
        {"coldest", "wall of it"},
        {"part", "of the largest share that burns at no dilution, 50% unless told"},
        {"share", "of refrigerant in the nitrogen, instead"},
        {"detector", "finds, '5 g/yr'"},
        {"service_pressure", "saturation at t unless told"},
        {"response", "90 % response time of the detector, 1s unless told"},
        {"tip", "of the probe, 6mm unless told"},
        {"distance", "held, 5mm unless told"},
        {"prior", "that there is a leak, before"},
        {"covered", "share of the joints searched well, 90% unless told"},
        {"above", "the leak asked about, '5 g/yr'"},
        {"worked_on", "no: nothing was worked on before"}},
       {}},
      {"bring", {{"pressure", "of the nitrogen test, 145psig unless told"}, {"t", "of the room"}}, {}},
      {"worth",
       {{"labour_rate", "an hour, '95 EUR'"},
        {"hours", "of work, 3.5h"},
        {"parts_cost", "'180 EUR'"},
        {"new_price", "of a new one in place, '2400 EUR'"},
        {"energy_price", "a kWh, '0.28 EUR'"},
        {"energy_repaired", "a year, '1600 kWh'; from the call's machines unless told"},
        {"energy_new", "a year, '1100 kWh'; three quarters of this one sound unless told"},
        {"remaining_years", "looked at, 6 unless told"},
        {"discount", "a year, 4% unless told"},
        {"age", "of the machine in years, 6 unless told"},
        {"spread", "of the prices typed, 10% unless told"},
        {"life", "years that half of such machines stand"},
        {"t", "of the room over the year"}},
       {}},
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

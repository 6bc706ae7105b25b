#include "procedure_options.hpp"

namespace coldwright::cli {

std::span<const ProcedureOptions> procedure_options() {
  static const std::vector<ProcedureOptions> table = {
      {"proof",
       {{"cabinet", "kind of cabinet, such as reach_in_cooler; a call has it"},
        {"refrigerant", "of the plate, such as R290"},
        {"charge", "of the plate, such as 3.9oz"},
        {"rated_current", "of the plate, such as 2.5A"},
        {"rated_voltage", "of the plate, such as 115V"},
        {"set_point", "of the box, such as 37F"},
        {"t", "ambient, such as 81F"},
        {"box", "temperature at the start, such as 70F, without readings"},
        {"product", "mass of what stands in the box, such as 20lb"}},
       {"box", "current", "pressure"}},
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

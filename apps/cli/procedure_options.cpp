#include "procedure_options.hpp"

namespace coldwright::cli {

std::span<const ProcedureOptions> procedure_options() {
  static const std::vector<ProcedureOptions> table = {
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

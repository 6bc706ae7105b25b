// The procedures of the repair on the command line: which request keys each takes as options. One table; what
// the core makes of them is its own.
#pragma once

#include <span>
#include <string_view>
#include <utility>
#include <vector>

namespace coldwright::cli {

struct ProcedureOptions {
  std::string_view name;                                               // of the use case
  std::vector<std::pair<std::string_view, std::string_view>> options;  // request key, help
  /// What stands in "--reading TIME, A, B": request keys of A, B; empty where the procedure takes none.
  std::vector<std::string_view> reading;
};

std::span<const ProcedureOptions> procedure_options();
const ProcedureOptions* procedure_named(std::string_view name);

}  // namespace coldwright::cli

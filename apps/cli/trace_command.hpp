// The commands "trace" and "trace_layout": logged files read in pieces, whatever their size.
#pragma once

#include <string>

#include "arguments.hpp"
#include "base/result.hpp"
#include "service/use_cases.hpp"

namespace coldwright::cli {

/// The answer of "trace" over the files of the command line.
Result<std::string> answer_trace(const Arguments& arguments, const service::Context& context);

/// The request of "trace_layout": the file's first bytes.
Result<std::string> trace_layout_request(const Arguments& arguments);

/// The call file with the answer's evidence added to its entries.
std::optional<Problem> add_to_call(const std::string& path, const std::string& answer_json);

}  // namespace coldwright::cli

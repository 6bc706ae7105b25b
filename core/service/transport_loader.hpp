// data/transport.json as plain values: what transport by residual entropy scaling needs of each component.
#pragma once

#include <string_view>

#include "base/result.hpp"
#include "fluids/transport_scaling.hpp"

namespace coldwright::service {

/// The tables carried inside the program, about 75 kB of JSON: load once and keep.
Result<fluids::ScalingTables> load_scaling_tables();

/// From a text, for tests of damaged files.
Result<fluids::ScalingTables> read_scaling_tables(std::string_view text);

}  // namespace coldwright::service

// Several drawings of machines for one case, taken together: docs/theory/diagnosis.md, "Pooling".
//
// Each drawing estimates every hypothesis' evidence without bias, so their mean over all machines drawn does
// too, and its spread is that of all of them together. What the pool doesn't keep is which machine came from
// which mixture: a share's particles count by their weight in it, times the share's part of the pooled
// evidence.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "diagnosis/investigation.hpp"

namespace coldwright::diagnosis {

/// Takes `more` into `pool`; an empty pool becomes it.
void take_in(Share& pool, Share more);

/// A share as bytes, for another instance of this same program. Machines that weigh next to nothing stay
/// behind, and so do the latents of all of them, which no answer needs.
std::string to_bytes(const Share& share, const Investigation& investigation, std::uint64_t fingerprint);

/// Empty when the bytes aren't a share of this case made by this program, as the fingerprint tells.
std::optional<Share> from_bytes(std::string_view bytes, const Investigation& investigation,
                                std::uint64_t fingerprint);

}  // namespace coldwright::diagnosis

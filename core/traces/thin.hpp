// A column thinned for a picture: least and most in each stretch. For showing only; nothing is inferred from
// it.
#pragma once

#include <vector>

#include "traces/trace.hpp"

namespace coldwright::traces {

struct Thin {
  double at = 0;              // s, the bucket's middle
  float least = 0, most = 0;  // SI
};
std::vector<Thin> thinned(const Trace& trace, const Series& series, std::size_t buckets);

}  // namespace coldwright::traces

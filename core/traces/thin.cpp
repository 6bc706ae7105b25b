#include "traces/thin.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::traces {

std::vector<Thin> thinned(const Trace& trace, const Series& series, std::size_t buckets) {
  std::vector<Thin> out;
  if (trace.t.empty() || buckets == 0) return out;
  const double width = std::max(trace.t.back() / static_cast<double>(buckets), 1e-9);
  double edge = -1;
  for (std::size_t i = 0; i < trace.t.size(); ++i) {
    const float v = series.value[i];
    if (std::isnan(v)) continue;
    if (trace.t[i] >= edge) {
      const double begin = std::floor(trace.t[i] / width) * width;
      edge = std::max(begin + width, trace.t[i] + 1e-9);
      out.push_back({std::min(begin + 0.5 * width, trace.t.back()), v, v});
    }
    out.back().least = std::min(out.back().least, v);
    out.back().most = std::max(out.back().most, v);
  }
  return out;
}

}  // namespace coldwright::traces

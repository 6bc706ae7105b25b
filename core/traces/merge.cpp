// Another file's columns beside the first one's.
#include <algorithm>
#include <cmath>

#include "traces/align.hpp"

namespace coldwright::traces {

void merge_into(Trace& first, const Trace& other, const Clock& clock) {
  const double shift = (first.dated && other.dated ? other.start - first.start : 0) + clock.offset;
  const double middle = 0.5 * first.t.back();
  const double hold = std::max(1.5 * other.interval, 0.6 * first.interval);
  for (const Series& series : other.series) {
    Series merged = series;
    merged.column = -1;
    merged.value.assign(first.t.size(), kNothing);
    std::size_t k = 0;
    for (std::size_t i = 0; i < first.t.size(); ++i) {
      // The other clock's own time at this moment.
      const double at = first.t[i] - shift - clock.drift * (first.t[i] - middle) / 86400;
      while (k + 1 < other.t.size() && other.t[k + 1] <= at) ++k;
      if (other.t[k] <= at && at - other.t[k] <= hold) merged.value[i] = series.value[k];
    }
    first.series.push_back(std::move(merged));
  }
}

}  // namespace coldwright::traces

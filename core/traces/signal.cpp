// Which column speaks of running.
#include <algorithm>
#include <array>
#include <cmath>

#include "traces/phases.hpp"

namespace coldwright::traces {
namespace {

/// How much of a trace a value stands for; 0 for one that hardly moves.
double swing_of(const Series& series) {
  std::vector<float> v;
  const std::size_t every = std::max<std::size_t>(1, series.value.size() / 20000);
  for (std::size_t i = 0; i < series.value.size(); i += every)
    if (!std::isnan(series.value[i])) v.push_back(series.value[i]);
  if (v.size() < 10) return 0;
  std::sort(v.begin(), v.end());
  return v[v.size() * 98 / 100] - v[v.size() * 2 / 100];
}

/// Power before current before pressures before temperatures; of several the one that moves most.
constexpr std::array kOrder = {What::power,
                               What::current,
                               What::suction_pressure,
                               What::discharge_pressure,
                               What::discharge_line_temp,
                               What::evaporator_inlet_temp,
                               What::coil_temp,
                               What::evaporator_outlet_temp,
                               What::evaporator_air_out_temp,
                               What::condenser_middle_temp,
                               What::suction_line_temp,
                               What::box_temp};

}  // namespace

bool tells_running(const Trace& trace) {
  return std::any_of(trace.series.begin(), trace.series.end(), [](const Series& one) {
    const auto kind = std::find(kOrder.begin(), kOrder.end(), one.what);
    return kind != kOrder.end() &&
           std::any_of(one.value.begin(), one.value.end(), [](float v) { return !std::isnan(v); });
  });
}

std::optional<int> signal_of(const Trace& trace) {
  for (const What what : kOrder) {
    int best = -1;
    double most = 0;
    for (std::size_t s = 0; s < trace.series.size(); ++s) {
      if (trace.series[s].what != what) continue;
      const double swing = swing_of(trace.series[s]);
      std::size_t filled = 0;
      for (const float v : trace.series[s].value) filled += !std::isnan(v);
      const bool enough = filled * 5 > trace.t.size() || trace.series.size() > 1;
      // What was measured goes before what was made of an energy.
      const bool derived = best >= 0 && trace.series[static_cast<std::size_t>(best)].derived;
      const bool better = best < 0 || (derived == trace.series[s].derived ? swing > most : derived);
      if (enough && filled > 3 && better) {
        most = swing;
        best = static_cast<int>(s);
      }
    }
    if (best >= 0) return best;
  }
  return std::nullopt;
}

}  // namespace coldwright::traces

#include "procedures/opening.hpp"

#include <algorithm>
#include <numeric>

namespace coldwright::procedures {

Result<HoseCost> hose_cost(const fluids::Fluid& fluid, const HoseUse& use) {
  if (!(use.bore > 0) || !(use.length > 0))
    return Problem{"hose", std::to_string(use.bore) + " m by " + std::to_string(use.length) + " m",
                   "above zero", "a hose has a bore and a length"};
  const double volume = hose_volume(use.bore, use.length);
  const auto contents = hose_contents(fluid, volume, use.p, use.T);
  if (!contents) return contents.problem();
  HoseCost out{*contents, !contents->superheated, {}, {}};
  const double vapour_density = contents->vapour / volume, liquid_density = contents->liquid / volume;
  double most = out.condenses ? contents->liquid : contents->vapour;
  diagnosis::Interval held{contents->vapour, 0.5 * (contents->vapour + most), most};
  double dense = out.condenses ? liquid_density : vapour_density;
  if (use.pulled_back) {
    const auto after = hose_contents(fluid, volume, use.p_suction, use.T);
    if (!after) return after.problem();
    held = {after->vapour, after->vapour, after->vapour};
    dense = after->vapour / volume;
  }
  out.missing = held;
  const double thin = use.pulled_back ? dense : vapour_density;
  out.released = use.low_loss ? diagnosis::Interval{std::min(kFittingLow * thin, held.low),
                                                    std::min(kFittingMid * 0.5 * (thin + dense), held.mid),
                                                    std::min(kFittingHigh * dense, held.high)}
                              : held;
  return out;
}

diagnosis::Interval sum_of(const std::vector<diagnosis::Interval>& parts) {
  diagnosis::Interval sum{0, 0, 0};
  for (const diagnosis::Interval& part : parts) {
    sum.low += part.low;
    sum.mid += part.mid;
    sum.high += part.high;
  }
  return sum;
}

std::vector<std::size_t> search_order(const std::vector<Joint>& joints) {
  std::vector<std::size_t> order(joints.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return joints[a].weight * joints[b].minutes > joints[b].weight * joints[a].minutes;
  });
  return order;
}

}  // namespace coldwright::procedures

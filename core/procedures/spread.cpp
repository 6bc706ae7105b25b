#include "procedures/spread.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/normal.hpp"

namespace coldwright::procedures {
namespace {

constexpr std::array<int, kSpreadDimensions> kBase{2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37};
constexpr int kSkipped = 20;  // the first points of large bases run in step with each other

}  // namespace

double spread_normal(int i, int dimension) {
  const int base = kBase[static_cast<std::size_t>(dimension)];
  double u = 0, part = 1;
  for (int n = i + 1 + kSkipped; n > 0; n /= base) {
    part /= base;
    u += part * (n % base);
  }
  return normal_quantile(std::clamp(u, 1e-6, 1 - 1e-6));
}

double drawn(const Known& known, double z) {
  return std::max(known.value + known.sigma * z, 0.1 * known.value);
}

diagnosis::Interval spread_interval(std::vector<double> values) {
  if (values.empty()) return {0, 0, 0};
  std::sort(values.begin(), values.end());
  const auto at = [&](double q) {
    const double place = q * static_cast<double>(values.size()) - 0.5;
    const double below = std::clamp(std::floor(place), 0.0, static_cast<double>(values.size() - 1));
    const auto i = static_cast<std::size_t>(below);
    const std::size_t j = std::min(i + 1, values.size() - 1);
    return values[i] + std::clamp(place - below, 0.0, 1.0) * (values[j] - values[i]);
  };
  return {at(0.05), at(0.5), at(0.95)};
}

}  // namespace coldwright::procedures

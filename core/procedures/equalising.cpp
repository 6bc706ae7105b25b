#include "procedures/equalising.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace coldwright::procedures {
namespace {

constexpr int kCourseSteps = 96;

// Piecewise straight through rising x.
double straight(const std::vector<double>& x, const std::vector<double>& y, double at) {
  const auto after = std::upper_bound(x.begin() + 1, x.end() - 1, at);
  const auto i = static_cast<std::size_t>(after - x.begin());
  return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
}

}  // namespace

Result<Equalising> Equalising::make(const Gas& gas, const Tube& tube, const TwoSides& sides, double p_end,
                                    double T, double most, double least) {
  const auto say = [](double x, const char* unit) { return std::to_string(x) + unit; };
  if (!(sides.gauge > 0) || !(sides.other > 0))
    return Problem{"volume", say(std::min(sides.gauge, sides.other), " m3"), "above zero on both sides",
                   "gas needs somewhere to go"};
  if (!(least > 0) || !(most > least))
    return Problem{"difference", say(most, " Pa"), "above its end", "a difference falls"};
  const double w = sides.share();
  if (!(p_end - (1 - w) * most > 0))
    return Problem{"difference", say(most, " Pa"), "less than leaves nothing on the lower side",
                   "no pressure is below a perfect vacuum"};
  Equalising out;
  const double volume = 1 / (1 / sides.gauge + 1 / sides.other);
  const double per_flow = volume / (gas.gas_constant * gas.compressibility * T);
  const double h = std::log(most / least) / kCourseSteps;
  const auto rate = [&](double d) -> Result<double> {  // seconds per unit of ln d
    const auto flow = gas_flow(gas, tube, p_end + w * d, T, p_end - (1 - w) * d);
    if (!flow) return flow.problem();
    return per_flow * d / flow->flow;
  };
  double time = 0;
  auto before = rate(most);
  if (!before) return before.problem();
  out.fallen_.push_back(-std::log(most));
  out.time_.push_back(0);
  for (int i = 1; i <= kCourseSteps; ++i) {
    const double d = most * std::exp(-h * i);
    const auto middle = rate(d * std::exp(0.5 * h)), here = rate(d);
    if (!middle) return middle.problem();
    if (!here) return here.problem();
    time += h / 6 * (*before + 4 * *middle + *here);
    out.fallen_.push_back(-std::log(d));
    out.time_.push_back(time);
    before = here;
  }
  out.tail_ = *before;
  return out;
}

double Equalising::time_at(double d) const {
  const double x = -std::log(d);
  if (x <= fallen_.front()) return (x - fallen_.front()) * (time_[1] - time_[0]) / (fallen_[1] - fallen_[0]);
  if (x >= fallen_.back()) return time_.back() + (x - fallen_.back()) * tail_;
  return straight(fallen_, time_, x);
}

double Equalising::later(double d0, double seconds, double speed) const {
  if (!(d0 > 0)) return 0;
  const double at = time_at(d0) + speed * seconds;
  if (at <= 0) return std::exp(-fallen_.front() - at * (fallen_[1] - fallen_[0]) / (time_[1] - time_[0]));
  if (at >= time_.back()) return std::exp(-fallen_.back() - (at - time_.back()) / tail_);
  return std::exp(-straight(time_, fallen_, at));
}

}  // namespace coldwright::procedures

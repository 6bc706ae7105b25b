#include "procedures/pull_down.hpp"

#include <algorithm>
#include <cmath>

#include "base/normal.hpp"

namespace coldwright::procedures {
namespace {

using circuit::OperatingPoint;
using circuit::Status;

constexpr double kMassPerWatt = 75, kMassRatio = 1.7;  // J/K per W
constexpr double kProductHeat = 3500, kGoesAlong = 0.5;
constexpr double kWander = 0.7, kForgotten = 900;   // K, s
constexpr double kProbe = 0.4, kSwing = 1.5;        // K
constexpr double kMistakes = 0.01, kMistaken = 15;  // share, K

// A rate below it (K per unit time over mass, so W) counts as rest.
constexpr double kStill = 1e-9;

}  // namespace

double capacity_at(const Cooling& c, double box) {
  if (box <= c.box.front()) return c.capacity.front();
  for (std::size_t i = 1; i < c.box.size(); ++i)
    if (box <= c.box[i])
      return c.capacity[i - 1] +
             (c.capacity[i] - c.capacity[i - 1]) * (box - c.box[i - 1]) / (c.box[i] - c.box[i - 1]);
  return c.capacity.back();
}

std::optional<Cooling> cooling_of(const diagnosis::Built& built, const circuit::WorkingFluid& fluid,
                                  double low, double high, int points) {
  Cooling out;
  circuit::Conditions conditions = built.conditions;
  circuit::Solution near;
  const bool runs = built.effects.mode == diagnosis::Mode::running && built.effects.departure.pumps;
  for (int i = 0; i < points; ++i) {
    conditions.box = low + (high - low) * i / (points - 1);
    double capacity = 0;
    bool tripped = false;
    if (runs) {
      const OperatingPoint point = circuit::operate(built.machine, fluid, conditions, built.effects.departure,
                                                    near.known ? &near : nullptr);
      if (point.summary.status == Status::failed) return std::nullopt;
      tripped = point.summary.status == Status::tripped;
      if (!tripped) {
        capacity = std::max(point.capacity, 0.0);
        near = point.solution;
      }
    }
    out.box.push_back(conditions.box);
    out.capacity.push_back(capacity);
    out.tripped.push_back(tripped);
  }
  return out;
}

Course::Course(const Cooling& cooling, double load, double ambient, double start)
    : start_(start), end_(start) {
  const auto net = [&](double box) { return load * (ambient - box) - capacity_at(cooling, box); };
  const bool falls = net(start) < 0;
  // Corners on the way: the operating points beyond the start, then far out.
  std::vector<double> corners = cooling.box;
  std::sort(corners.begin(), corners.end());
  if (falls) std::reverse(corners.begin(), corners.end());
  std::erase_if(corners, [&](double box) { return falls ? box >= start : box <= start; });
  corners.push_back(falls ? std::min(start, cooling.box.front()) - 200
                          : std::max(start, cooling.box.back()) + 200);
  double time = 0, from = start;
  for (const double corner : corners) {
    const double rate = net(from), slope = (net(corner) - rate) / (corner - from);
    end_ = from;
    if (std::abs(rate) < kStill || (rate < 0) != falls) return;
    stretches_.push_back({time, from, rate, slope});
    const double at_corner = net(corner);
    if (std::abs(at_corner) < kStill || (at_corner < 0) != falls) {
      end_ = from - rate / slope;  // it comes to rest before the corner
      return;
    }
    // T(s) = from + rate (exp(slope s) - 1) / slope
    time += std::abs(slope) < 1e-12 ? (corner - from) / rate : std::log(at_corner / rate) / slope;
    from = corner;
    end_ = corner;
  }
}

double Course::at(double s) const {
  if (stretches_.empty() || s <= 0) return start_;
  std::size_t i = 0;
  while (i + 1 < stretches_.size() && stretches_[i + 1].time <= s) ++i;
  const Stretch& now = stretches_[i];
  const double x = now.slope * (s - now.time);
  const double moved = std::abs(x) < 1e-9 ? now.rate * (s - now.time) : now.rate * std::expm1(x) / now.slope;
  const double value = now.from + moved;
  return end_ < start_ ? std::max(value, end_) : std::min(value, end_);
}

std::optional<double> Course::when(double temperature) const {
  const bool falls = end_ < start_;
  if (falls ? temperature >= start_ : temperature <= start_) {
    if (temperature == start_) return 0.0;
    return falls ? std::optional<double>(0.0) : std::nullopt;
  }
  if (falls ? temperature <= end_ : temperature >= end_) return std::nullopt;
  for (std::size_t i = stretches_.size(); i-- > 0;) {
    const Stretch& s = stretches_[i];
    if (falls ? temperature > s.from : temperature < s.from) continue;
    const double moved = temperature - s.from;
    const double share = s.slope * moved / s.rate;
    return s.time + (std::abs(share) < 1e-9 ? moved / s.rate : std::log1p(share) / s.slope);
  }
  return std::nullopt;
}

double ThermalMass::of(double z) const { return median * std::exp(std::log(ratio) * z); }

ThermalMass thermal_mass(double design_capacity, std::optional<double> product) {
  return {kMassPerWatt * design_capacity + product.value_or(0) * kProductHeat * kGoesAlong, kMassRatio};
}

double log_likelihood(const std::vector<BoxReading>& readings, const std::vector<double>& course,
                      const std::vector<bool>& settled) {
  // Kalman filter of the wandering d: forgets exp(-dt / kForgotten) of itself, seen through the probe. The
  // first reading is where the course starts, so that d is known to the probe then.
  double mean = 0, variance = kProbe * kProbe * kWander * kWander / (kProbe * kProbe + kWander * kWander);
  double sum = 0;
  for (std::size_t i = 1; i < readings.size(); ++i) {
    const double keep = std::exp(-(readings[i].seconds - readings[i - 1].seconds) / kForgotten);
    mean *= keep;
    variance = keep * keep * variance + (1 - keep * keep) * kWander * kWander;
    const double noise = kProbe * kProbe + (settled[i] ? kSwing * kSwing : 0);
    const double off = readings[i].box - course[i] - mean, seen = variance + noise;
    const double right =
        std::log(1 - kMistakes) + normal_log_density(off / std::sqrt(seen)) - 0.5 * std::log(seen);
    const double wide = kMistaken * kMistaken + seen;
    const double wrong =
        std::log(kMistakes) + normal_log_density(off / std::sqrt(wide)) - 0.5 * std::log(wide);
    const double top = std::max(right, wrong);
    sum += top + std::log(std::exp(right - top) + std::exp(wrong - top));
    const double trust = 1 / (1 + std::exp(wrong - right));  // that it is no mistake
    const double gain = trust * variance / seen;
    mean += gain * off;
    variance *= 1 - gain;
  }
  return sum;
}

}  // namespace coldwright::procedures

#include "procedures/pressure_test.hpp"

#include <algorithm>
#include <cmath>

#include "procedures/constants.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kYear = 365.25 * 86400;  // s

std::optional<Problem> check(const std::vector<TightnessReading>& readings) {
  if (readings.size() < 2)
    return Problem{"test readings", std::to_string(readings.size()), "two or more",
                   "a fall needs a beginning and an end"};
  for (std::size_t i = 1; i < readings.size(); ++i)
    if (!(readings[i].time > readings[i - 1].time))
      return Problem{"test reading " + std::to_string(i + 1), std::to_string(readings[i].time) + " s",
                     "later than the reading before it",
                     "times have to rise: which of the two is the slip? Nothing was dropped"};
  return std::nullopt;
}

}  // namespace

Result<double> allowed_test_pressure(const std::vector<Side>& sides) {
  std::optional<double> least;
  for (const Side& side : sides) {
    if (!side.connected) continue;
    if (!side.plate_pressure)
      return Problem{side.name, "no pressure on the plate", "the plate's pressure, or the side taken off",
                     "what a side was made for can't be guessed"};
    least = std::min(least.value_or(*side.plate_pressure), *side.plate_pressure);
  }
  if (!least) return Problem{"sides", "none connected", "one or more", "there is nothing to test"};
  return *least;
}

std::optional<Problem> check_test_pressure(const std::vector<Side>& sides, double wanted) {
  const auto allowed = allowed_test_pressure(sides);
  if (!allowed) return allowed.problem();
  if (wanted <= *allowed) return std::nullopt;
  for (const Side& side : sides)
    if (side.connected && side.plate_pressure == *allowed)
      return Problem{"test pressure", std::to_string(wanted) + " Pa",
                     "up to " + std::to_string(*allowed) + " Pa, the plate's for the " + side.name,
                     "the weakest part that is connected sets it"};
  return std::nullopt;
}

Result<double> pressure_at(const fluids::Fluid& nitrogen, double p1, double T1, double T2) {
  const auto start = nitrogen.at_Tp(T1, p1);
  if (!start) return start.problem();
  const auto end = nitrogen.at_Trho(T2, start->rho);
  if (!end) return end.problem();
  return end->p;
}

Result<Tightness> judge_tightness(const fluids::Fluid& nitrogen,
                                  const std::vector<TightnessReading>& readings, const TightnessGauge& gauge,
                                  double volume, double wanted) {
  if (const auto problem = check(readings)) return *problem;
  if (!(volume > 0) || !(wanted > 0))
    return Problem{"volume", std::to_string(volume) + " m3", "above zero, with a leak above zero to rule out",
                   "without a volume a fall is no leak"};
  const double n = static_cast<double>(readings.size());
  double mean_t = 0, mean_p = 0;
  std::vector<double> level;
  for (const TightnessReading& r : readings) {
    const auto p = pressure_at(nitrogen, r.pressure, r.temperature, readings.front().temperature);
    if (!p) return p.problem();
    level.push_back(*p);
    mean_t += r.time / n;
    mean_p += *p / n;
  }
  double tt = 0, tp = 0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double dt = readings[i].time - mean_t;
    tt += dt * dt;
    tp += dt * (level[i] - mean_p);
  }
  const double p0 = level.front();
  const double each = std::hypot(gauge.resolution / std::sqrt(12.0),
                                 p0 * gauge.temperature_sigma / readings.front().temperature);
  const double leak = -volume * tp / tt, sigma = volume * each / std::sqrt(tt);
  Tightness out{};
  out.leak = {leak - kOneSided * sigma, leak, leak + kOneSided * sigma};
  out.smallest_shown = 2 * kOneSided * sigma;
  // with the same number of readings over a longer time the spread of the slope falls as 1/t
  const double span = readings.back().time - readings.front().time;
  out.seconds_needed = span * out.smallest_shown / wanted;
  return out;
}

double kilograms_a_year(double leak, double M, double T) { return leak * M / (kGasConstant * T) * kYear; }

Result<YearlyLoss> yearly_loss(const fluids::Fluid& nitrogen, const fluids::Fluid& refrigerant, double leak,
                               double p_test, double p_service, double T, double p_air) {
  if (!(p_test > p_air) || !(p_service > p_air)) return YearlyLoss{0, 0};
  const auto thin = [T](const fluids::Fluid& fluid, double p) -> Result<double> {
    const auto state = fluid.at_Tp(T, p);
    if (!state) return state.problem();
    const auto transport = fluid.transport(*state);
    if (!transport) return transport.problem();
    return transport->viscosity;
  };
  // Viscosity as thin gas: between the two pressures it changes by a few percent.
  const auto mu_n = thin(nitrogen, p_air), mu_r = thin(refrigerant, std::min(p_air, 0.5 * p_service));
  if (!mu_n) return mu_n.problem();
  if (!mu_r) return mu_r.problem();
  const double M_n = nitrogen.limits().M, M_r = refrigerant.limits().M;
  const double squares = (p_service * p_service - p_air * p_air) / (p_test * p_test - p_air * p_air);
  const double straight = (p_service - p_air) / (p_test - p_air);
  return YearlyLoss{kilograms_a_year(leak * squares * *mu_n / *mu_r, M_r, T),
                    kilograms_a_year(leak * straight * std::sqrt(M_n / M_r), M_r, T)};
}

}  // namespace coldwright::procedures

#include "procedures/vacuum_line.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

namespace coldwright::procedures {
namespace {
// Water vapour at room temperature: R from its molar mass, viscosity 9.7e-6 Pa s, from memory.
constexpr Gas kWaterVapour{461.52, 1.33, 9.7e-6};
}  // namespace

Gas air() { return {287.05, 1.40, 18.2e-6}; }

double conductance(const Line& line, const Gas& gas, double T, double p) {
  const double RT = gas.gas_constant * T, d = line.bore;
  const double viscous = std::numbers::pi * std::pow(d, 4) * p / (128 * gas.viscosity * line.length);
  const double molecular =
      std::sqrt(2 * std::numbers::pi * RT) / 6 * d * d * d / line.length / (1 + 4 * d / (3 * line.length));
  const double b = d * p / (gas.viscosity * std::sqrt(RT));
  return viscous + molecular * (1 + b) / (1 + 1.24 * b);
}

double effective_speed(const Pump& pump, const std::vector<Line>& lines, const Gas& gas, double T, double p) {
  double inverse = 1 / pump.speed;
  for (const Line& line : lines) inverse += 1 / conductance(line, gas, T, p);
  return 1 / inverse;
}

double throughput(const std::vector<Line>& lines, const Gas& gas, double T, double p_from, double p_to) {
  if (p_from < p_to) return -throughput(lines, gas, T, p_to, p_from);
  const double mean = 0.5 * (p_from + p_to), g = gas.heat_ratio;
  double resistance = 0, narrowest = lines.empty() ? 0 : lines.front().bore;
  for (const Line& line : lines) {
    resistance += 1 / conductance(line, gas, T, mean);
    narrowest = std::min(narrowest, line.bore);
  }
  const double choked =
      std::sqrt(g * gas.gas_constant * T) * std::pow(2 / (g + 1), 0.5 * (g + 1) / (g - 1));  // m/s
  const double most = 0.25 * std::numbers::pi * narrowest * narrowest * choked * p_from;
  return std::min((p_from - p_to) / resistance, most);
}

Result<double> pump_down_time(const Pump& pump, const std::vector<Line>& lines, double volume, double T,
                              double p_start, double p_end) {
  if (!(p_end > pump.ultimate))
    return Problem{"vacuum", std::to_string(p_end) + " Pa", "above the pump's ultimate",
                   "this pump can't get there"};
  if (!(p_start > p_end)) return 0.0;
  // dt = V dp / (S_eff (p - ultimate)), over ln(p - ultimate) by Simpson's rule
  constexpr int kSteps = 400;
  const double from = std::log(p_end - pump.ultimate);
  const double h = (std::log(p_start - pump.ultimate) - from) / kSteps;
  double sum = 0;
  for (int i = 0; i <= kSteps; ++i) {
    const double p = pump.ultimate + std::exp(from + h * i);
    const double weight = i == 0 || i == kSteps ? 1 : i % 2 == 1 ? 4 : 2;
    sum += weight / effective_speed(pump, lines, air(), T, 0.5 * (p + pump.ultimate));
  }
  return volume * sum * h / 3;
}

Result<double> drying_time(const Pump& pump, const std::vector<Line>& lines, double water,
                           double vapour_pressure, double T) {
  if (!(vapour_pressure > pump.ultimate))
    return Problem{"vacuum", std::to_string(pump.ultimate) + " Pa", "below the water's vapour pressure",
                   "at this temperature the pump's ultimate is above it, so nothing boils"};
  const double mean = 0.5 * (vapour_pressure + pump.ultimate);
  const double speed = effective_speed(pump, lines, kWaterVapour, T, mean);
  const double throughput = speed * (vapour_pressure - pump.ultimate);  // Pa m3/s
  return water * kWaterVapour.gas_constant * T / throughput;
}

}  // namespace coldwright::procedures

#include "circuit/air_side.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::circuit {

double still_air_coefficient(double T_panel, double T_air) {
  const double dT = std::max(T_panel - T_air, 0.3);
  const double H = 0.6, d_t = 0.005, d_w = 0.0015, p_t = 0.05, p_w = 0.006;
  const double s_t = (p_t - d_t) / d_t, s_w = (p_w - d_w) / d_w;
  const double T_film = 0.5 * (T_panel + T_air);
  // Air at the film temperature, ideal gas and power laws (from memory, 1 % between 250 and 350 K).
  const double k = 0.0257 * std::pow(T_film / 293.15, 0.86);
  const double nu = 1.51e-5 * std::pow(T_film / 293.15, 1.75), alpha = nu / 0.71;
  const double Ra = 9.81 / T_film * dT * H * H * H / (nu * alpha);
  const double phi = std::pow(28.2 / H, 0.4) * std::pow(s_w, 0.9) / s_t +
                     std::pow(28.2 / H, 0.8) * std::sqrt(264 / dT) * std::pow(s_w, -1.5) / std::sqrt(s_t);
  const double Nu =
      0.66 * std::pow(Ra * H / d_t, 0.25) * (1 - (1 - 0.45 * std::pow(d_t / H, 0.25)) * std::exp(-s_w / phi));
  const double radiation = 0.9 * 5.670374e-8 * (T_panel * T_panel + T_air * T_air) * (T_panel + T_air);
  return Nu * k / H + radiation;
}

AirPoint air_point(const AirSide& side, const AirFault& fault, double density_ratio, double difference) {
  if (side.still_air) {
    const double ratio = still_air_coefficient(300 + std::max(difference, 0.5), 300) /
                         still_air_coefficient(300 + side.design_difference, 300);
    return {
        side.conductance * fault.surface * std::min(fault.flow, 1.0) * std::pow(density_ratio, 0.5) * ratio,
        0};
  }
  const double flow = std::max(fault.flow * density_ratio, 0.01);
  const double C = side.capacity_rate * flow;
  const double UA =
      side.conductance * fault.surface * std::pow(flow, 0.45);  // h ~ flow^0.5..0.6 on the air side only
  return {C * (1 - std::exp(-UA / C)), C};
}

}  // namespace coldwright::circuit

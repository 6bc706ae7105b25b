#include "procedures/water.hpp"

#include <cmath>
#include <string>

namespace coldwright::procedures {
namespace {

// ln(p/pc) = (Tc/T) sum a_i tau^(b_i), tau = 1 - T/Tc  [wagner1993, equation 1]
double over_liquid(double T) {
  constexpr double kTc = 647.096, kPc = 22.064e6;
  const double tau = 1 - T / kTc;
  const double sum = -7.85951783 * tau + 1.84408259 * std::pow(tau, 1.5) - 11.7866497 * std::pow(tau, 3) +
                     22.6807411 * std::pow(tau, 3.5) - 15.9618719 * std::pow(tau, 4) +
                     1.80122502 * std::pow(tau, 7.5);
  return kPc * std::exp(kTc / T * sum);
}

// ln(p/pt) = sum a_i theta^(b_i) / theta, theta = T/Tt  [wagner2011sublimation, equation 4]
double over_ice(double T) {
  const double theta = T / kTriplePoint;
  const double sum = -0.212144006e2 * std::pow(theta, 0.333333333e-2) +
                     0.273203819e2 * std::pow(theta, 1.20666667) -
                     0.610598130e1 * std::pow(theta, 1.70333333);
  return kTriplePressure * std::exp(sum / theta);
}

double either(double T) { return T < kTriplePoint ? over_ice(T) : over_liquid(T); }

}  // namespace

Result<double> water_pressure(double T) {
  if (T >= kColdestIce && T <= kHottestWater) return either(T);
  return Problem{"temperature", std::to_string(T) + " K", "150 K to 473.15 K",
                 "beyond it water's vapour pressure has no use in a circuit"};
}

Result<double> water_temperature(double p) {
  double low = kColdestIce, high = kHottestWater;
  if (!(p >= either(low)) || !(p <= either(high)))
    return Problem{"pressure", std::to_string(p) + " Pa", "6.1e-6 Pa to 1.55 MPa",
                   "water boils at it nowhere between 150 K and 473.15 K"};
  while (high - low > 1e-10 * high) {
    const double mid = 0.5 * (low + high);
    (either(mid) < p ? low : high) = mid;
  }
  return 0.5 * (low + high);
}

}  // namespace coldwright::procedures

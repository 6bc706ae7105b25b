#include "procedures/tube_sizing.hpp"

#include <cmath>
#include <string>

#include "circuit/capillary_correlation.hpp"

namespace coldwright::procedures {
namespace {

constexpr double kShortest = 0.3, kLongest = 12;  // m, what is ever fitted (our estimate)

std::optional<Problem> check(const DesignPoint& at, double bore, double length) {
  const auto say = [](double x, const char* unit) { return std::to_string(x) + unit; };
  if (!(at.p_out > 0) || !(at.p_in > at.p_out))
    return Problem{"condensing pressure", say(at.p_in, " Pa"), "above the evaporating pressure",
                   "refrigerant flows from the higher pressure to the lower"};
  if (!(at.subcooling > 0))
    return Problem{"subcooling", say(at.subcooling, " K"), "above zero",
                   "a tube is sized for liquid at its inlet"};
  if (!(bore > 0)) return Problem{"bore", say(bore, " m"), "above zero", "refrigerant needs a way"};
  if (!(length > 0)) return Problem{"length", say(length, " m"), "above zero", "a tube has length"};
  return std::nullopt;
}

double homogeneous(const circuit::WorkingFluid& f, double bore, double length, const DesignPoint& at) {
  const circuit::SatPoint sat = f.saturation(std::log(at.p_in));
  const double h = f.at_temperature(sat.T - at.subcooling).h_l;
  return circuit::flow_through({length, bore, 1}, f, {std::log(at.p_in), h}, std::log(at.p_out),
                               at.heat_removed)
      .flow;
}

std::optional<double> correlated(const fluids::Fluid& fluid, double bore, double length,
                                 const DesignPoint& at) {
  const auto flow = circuit::correlated_flow(fluid, bore, length, at.p_in, at.subcooling, 0);
  if (!flow) return std::nullopt;
  return *flow;
}

// The flow falls with the length: bisection on its logarithm.
template <class Flow>
std::optional<double> length_where(Flow&& flow, double wanted, double shortest, double longest) {
  if (flow(shortest) < wanted || flow(longest) > wanted) return std::nullopt;
  double low = shortest, high = longest;
  for (int i = 0; i < 50 && high - low > 1e-7 * high; ++i) {
    const double mid = std::sqrt(low * high);
    (flow(mid) > wanted ? low : high) = mid;
  }
  return std::sqrt(low * high);
}

}  // namespace

Result<TwoFlows> design_flow(const fluids::Fluid& fluid, const circuit::WorkingFluid& table, double bore,
                             double length, const DesignPoint& at) {
  if (const auto problem = check(at, bore, length)) return *problem;
  return TwoFlows{homogeneous(table, bore, length, at), correlated(fluid, bore, length, at)};
}

Result<SizedTube> length_for_flow(const fluids::Fluid& fluid, const circuit::WorkingFluid& table, double bore,
                                  double bore_tolerance, const DesignPoint& at, const TwoFlows& wanted) {
  if (const auto problem = check(at, bore - bore_tolerance, 1)) return *problem;
  if (!(wanted.homogeneous > 0) || (wanted.correlated && !(*wanted.correlated > 0)))
    return Problem{"flow", std::to_string(wanted.homogeneous) + " kg/s", "above zero",
                   "a tube is there to pass some"};
  const auto by_homogeneous = [&](double d) {
    return length_where([&](double L) { return homogeneous(table, d, L, at); }, wanted.homogeneous, kShortest,
                        kLongest);
  };
  SizedTube out{bore, by_homogeneous(bore), std::nullopt, by_homogeneous(bore - bore_tolerance),
                by_homogeneous(bore + bore_tolerance)};
  constexpr double kFrom = 0.5, kTo = 10;  // m, the correlation's range
  if (wanted.correlated && correlated(fluid, bore, kFrom, at))
    out.correlated = length_where([&](double L) { return correlated(fluid, bore, L, at).value_or(0); },
                                  *wanted.correlated, kFrom, kTo);
  return out;
}

double length_ratio_by_similarity(double bore_ratio) {
  // m ~ d mu pi8, pi1 = L/d, pi2, pi4, pi5 ~ d^2: exponents of the subcooled correlation
  constexpr double of_length = 0.484;
  constexpr double of_bore = 1 + of_length + 2 * (-0.824 + 1.369 + 0.0187);
  return std::pow(bore_ratio, of_bore / of_length);
}

}  // namespace coldwright::procedures

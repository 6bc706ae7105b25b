// Fits the saturation line of a refrigerant's own equation of state and writes the curves beside its
// coefficients: fit_saturation data/refrigerants/R290.json -> data/refrigerants/R290.saturation.json
//
// The phase equilibrium is solved with 113-bit numbers from the equation's own critical point down to
// the triple point, and interpolated at Chebyshev points in x = sqrt(1 - T/T_crit), in which an
// analytic equation is smooth up to and including x = 0.
#include <boost/math/constants/constants.hpp>
#include <boost/multiprecision/cpp_bin_float.hpp>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "fluids/expansion.hpp"
#include "fluids/expansion_fit.hpp"
#include "fluids/phase_equilibrium.hpp"
#include "service/refrigerant_loader.hpp"

template <>
inline constexpr bool coldwright::is_plain_number<boost::multiprecision::cpp_bin_float_quad> = true;

namespace {

using namespace coldwright;
using fluids::FluidData;
using fluids::PiecewiseChebyshev;
using Real = boost::multiprecision::cpp_bin_float_quad;

double rounded(const Real& value) { return value.convert_to<double>(); }

constexpr int pieces = 20;
constexpr int terms = 16;

struct Node {
  Real x, p, rho_liquid, rho_vapour;
};

/// The converged saturation line, followed from the critical point down.
class SaturationLine {
 public:
  explicit SaturationLine(const FluidData& fluid) : fluid_(fluid) {
    if (scaled_critically()) {
      critical_ = {Real(fluid.T_reducing), Real(0), Real(fluid.rho_reducing * fluid.M), true};
      critical_.p = fluids::isotherm_point<Real>(fluid, critical_.T, critical_.rho).p;
    } else {
      critical_ = fluids::own_critical_point<Real>(fluid, Real(fluid.T_reducing),
                                                   Real(fluid.rho_reducing * fluid.M), tolerance);
    }
    x_max_ = sqrt(1 - Real(fluid.T_triple) / critical_.T);
    if (scaled_critically()) {
      follow();
      return;
    }
    const auto at =
        fluids::isotherm_point(fluid, Jet<Real>::first(critical_.T), Jet<Real>::second(critical_.rho));
    // To leading order rho = rho_c +- slope x, slope^2 = 6 T_c p_rhoT / p_rhorhorho.
    slope_ = sqrt(6 * critical_.T * at.dp_drho.x / at.dp_drho.yy);
    follow();
  }

  const fluids::CriticalPoint<Real>& critical() const { return critical_; }
  Real x_max() const { return x_max_; }
  bool complete() const { return complete_; }

  Node solve(Real x) const {
    if (x == 0) return {0, critical_.p, critical_.rho, critical_.rho};
    return x < first_x ? from_critical(x) : from_table(x);
  }

 private:
  const Real first_x = 0.02;
  const Real tolerance = 1e-22;
  static constexpr int steps = 400;

  /// Terms made for the critical region: the published critical point is exact, and no series in x leaves it.
  bool scaled_critically() const { return !fluid_.residual.non_analytic.empty(); }

  /// From the critical point: the series, or where the equation leaves none, the usual widths of the dome
  /// there.
  Node from_critical(Real x) const {
    const Real T = critical_.T * (1 - x * x);
    for (const Real& away : starts(x)) {
      const auto pair =
          fluids::equal_phases<Real>(fluid_, T, critical_.rho + away, critical_.rho - away, tolerance);
      if (pair.converged && pair.rho_liquid - pair.rho_vapour > 0.2 * away)
        return {x, pair.p, pair.rho_liquid, pair.rho_vapour};
    }
    std::fprintf(stderr, "%s: no convergence at T = %.6f K\n", fluid_.designation.c_str(), rounded(T));
    return {x, critical_.p, critical_.rho, critical_.rho};
  }

  std::vector<Real> starts(Real x) const {
    std::vector<Real> out;
    if (!scaled_critically() && slope_ > 0 && slope_ * x < 0.9 * critical_.rho) out.push_back(slope_ * x);
    for (const double width : {1.8, 1.5, 2.2, 1.2, 2.6, 3.2, 4.0}) {
      const Real away = width * critical_.rho * pow(x, Real(0.67));
      if (away < 0.9 * critical_.rho) out.push_back(away);
    }
    return out;
  }

  Node from(Real x, Real rho_liquid, Real rho_vapour) const {
    const Real T = critical_.T * (1 - x * x);
    const auto pair = fluids::equal_phases(fluid_, T, rho_liquid, rho_vapour, tolerance);
    if (!pair.converged)
      std::fprintf(stderr, "%s: no convergence at T = %.6f K\n", fluid_.designation.c_str(), rounded(T));
    return {x, pair.p, pair.rho_liquid, pair.rho_vapour};
  }

  Real table_x(int i) const { return first_x + (x_max_ - first_x) * i / steps; }

  Node from_table(Real x) const {
    const int i = static_cast<int>(std::lround(rounded((x - first_x) / (x_max_ - first_x)) * steps));
    const Node& near = table_[static_cast<std::size_t>(std::min(i, steps))];
    return from(x, near.rho_liquid, near.rho_vapour);
  }

  void follow() {
    Node last = from_critical(first_x);
    table_.push_back(last);
    for (int i = 1; i <= steps; ++i) {
      last = from(table_x(i), last.rho_liquid, last.rho_vapour);
      table_.push_back(last);
    }
    complete_ = critical_.converged;
  }

  const FluidData& fluid_;
  fluids::CriticalPoint<Real> critical_;
  Real x_max_ = 0, slope_ = 0;
  std::vector<Node> table_;
  bool complete_ = false;
};

template <class F>
PiecewiseChebyshev interpolate(Real low, Real high, F&& f) {
  const fluids::ExpansionShape shape{pieces, terms};
  const Real pi = boost::math::constants::pi<Real>();
  std::vector<Real> values;
  for (const Real& x : fluids::expansion_points(low, high, shape, pi)) values.push_back(f(x));
  return fluids::expansion_through(low, high, shape, values, pi);
}

/// T where the fitted ln p takes the value ln p_crit - z^2, by bisection in 1 - T/T_crit.
Real temperature_at(const fluids::SaturationCurves& curves, Real z) {
  Real low = 0, high = Real(curves.ln_p.high) * Real(curves.ln_p.high);
  if (z == 0) return curves.T_crit;
  const Real ln_p = log(Real(curves.p_crit)) - z * z;
  for (int i = 0; i < 120; ++i) {
    const Real middle = (low + high) / 2;
    (Real(evaluate(curves.ln_p, rounded(sqrt(middle)))) > ln_p ? low : high) = middle;
  }
  return curves.T_crit * (1 - (low + high) / 2);
}

fluids::SaturationCurves fit(const SaturationLine& line) {
  fluids::SaturationCurves out;
  out.T_crit = rounded(line.critical().T);
  out.p_crit = rounded(line.critical().p);
  out.rho_crit = rounded(line.critical().rho);
  out.ln_p = interpolate(0, line.x_max(), [&](Real x) { return log(line.solve(x).p); });
  out.rho_liquid = interpolate(0, line.x_max(), [&](Real x) { return line.solve(x).rho_liquid; });
  out.ln_rho_vapour = interpolate(0, line.x_max(), [&](Real x) { return log(line.solve(x).rho_vapour); });
  const Real z_max = sqrt(log(line.critical().p / line.solve(line.x_max()).p));
  out.T_of_z = interpolate(0, z_max, [&](Real z) { return temperature_at(out, z); });
  return out;
}

struct Errors {
  double p = 0, rho_liquid = 0, rho_vapour = 0, T = 0;
  double largest() const { return std::max({p, rho_liquid, rho_vapour, T}); }
};

/// Largest relative differences between curves and converged solution on points between the nodes.
Errors measure(const SaturationLine& line, const fluids::SaturationCurves& curves) {
  Errors out;
  constexpr int points = 2001;
  for (int i = 0; i < points; ++i) {
    // Squared: densest towards the critical point.
    const Real x = Real(1e-4) + (line.x_max() - Real(1e-4)) * i * i / Real((points - 1) * (points - 1));
    const double T = rounded(line.critical().T * (1 - x * x));
    const double x_seen = std::sqrt(1 - T / curves.T_crit);
    const Node exact = line.solve(sqrt(1 - Real(T) / line.critical().T));
    const auto worse = [](double& worst, Real value) { worst = std::max(worst, rounded(abs(value))); };
    worse(out.p, Real(evaluate(curves.ln_p, x_seen)) - log(exact.p));
    worse(out.rho_liquid, Real(evaluate(curves.rho_liquid, x_seen)) / exact.rho_liquid - 1);
    worse(out.rho_vapour, Real(evaluate(curves.ln_rho_vapour, x_seen)) - log(exact.rho_vapour));
    const double z_seen = std::sqrt(std::log(curves.p_crit / rounded(exact.p)));
    worse(out.T, Real(evaluate(curves.T_of_z, z_seen)) / Real(T) - 1);
  }
  return out;
}

std::string exact(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.17g", value);
  return text;
}

void write_curve(std::ostream& out, const char* name, const PiecewiseChebyshev& f, const char* after) {
  out << "  \"" << name << "\": { \"low\": " << exact(f.low) << ", \"high\": " << exact(f.high)
      << ", \"terms\": " << f.terms << ", \"pieces\": [\n";
  for (int piece = 0; piece < f.pieces(); ++piece) {
    out << "    [";
    for (int k = 0; k < f.terms; ++k)
      out << (k ? ", " : "") << exact(f.coefficients[static_cast<std::size_t>(piece * f.terms + k)]);
    out << (piece + 1 < f.pieces() ? "],\n" : "]\n");
  }
  out << "  ] }" << after << "\n";
}

void write(std::ostream& out, const FluidData& fluid, const fluids::SaturationCurves& curves,
           const Errors& errors) {
  // The next power of ten above twice the largest, so that the statement survives another compiler's last
  // bits.
  char stated[20];
  std::snprintf(stated, sizeof stated, "1e%d", static_cast<int>(std::ceil(std::log10(2 * errors.largest()))));
  out << "{\n  \"designation\": \"" << fluid.designation << "\",\n"
      << "  \"made_by\": \"tools/fit_saturation.cpp from the equation of state in " << fluid.designation
      << ".json\",\n  \"x\": \"sqrt(1 - T/T_crit), T_crit the equation's own\",\n"
      << "  \"z\": \"sqrt(ln(p_crit/p))\",\n"
      << "  \"own_critical_point\": { \"T_K\": " << exact(curves.T_crit)
      << ", \"p_Pa\": " << exact(curves.p_crit) << ", \"rho_kg_per_m3\": " << exact(curves.rho_crit)
      << " },\n"
      << "  \"stated_relative_error\": " << stated << ",\n";
  write_curve(out, "ln_p_of_x", curves.ln_p, ",");
  write_curve(out, "rho_liquid_of_x", curves.rho_liquid, ",");
  write_curve(out, "ln_rho_vapour_of_x", curves.ln_rho_vapour, ",");
  write_curve(out, "T_of_z", curves.T_of_z, "");
  out << "}\n";
}

int fit_file(const std::string& path) {
  std::ifstream in(path);
  std::stringstream text;
  text << in.rdbuf();
  const auto data = service::read_refrigerant(path, text.str(), "");
  if (!data) {
    std::fprintf(stderr, "%s\n", to_text(data.problem()).c_str());
    return 1;
  }
  const SaturationLine line(*data);
  if (!line.complete()) return 1;
  const auto curves = fit(line);
  const Errors errors = measure(line, curves);
  std::printf("%s  T_crit %.9f K  errors: p %.1e  rho_liquid %.1e  rho_vapour %.1e  T %.1e\n",
              data->designation.c_str(), curves.T_crit, errors.p, errors.rho_liquid, errors.rho_vapour,
              errors.T);
  std::ofstream out(path.substr(0, path.rfind(".json")) + ".saturation.json");
  write(out, *data, curves, errors);
  return out ? 0 : 1;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::fprintf(stderr, "usage: fit_saturation data/refrigerants/R290.json ...\n");
    return 2;
  }
  int status = 0;
  for (int i = 1; i < argc; ++i) status |= fit_file(argv[i]);
  return status;
}

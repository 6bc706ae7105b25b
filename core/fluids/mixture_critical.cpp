#include "fluids/mixture_critical.hpp"

#include <Eigen/Eigenvalues>
#include <cmath>

namespace coldwright::fluids {
namespace {

struct Weakest {
  double stability = 0;  // smallest eigenvalue of d ln f_k/d ln rho_j, made symmetric; zero on the spinodal
  Amounts direction;     // change of rho_k along it
};

Weakest weakest(const Mixture& mixture, double T, const Amounts& rho) {
  const MixturePoint at = mixture.at(T, rho);
  const Amounts root = rho.cwiseSqrt();
  Pairs b = Pairs::Identity(rho.size(), rho.size());
  b += root.asDiagonal() * at.ln_f_k * root.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<Pairs> solver(b);
  Amounts v = solver.eigenvectors().col(0);
  if (v.sum() < 0) v = -v;
  return {solver.eigenvalues()(0), (root.array() * v.array()).matrix()};
}

struct Conditions {
  double stability, inflection;
};

Conditions conditions(const Mixture& mixture, double T, const Amounts& rho) {
  constexpr double part = 1e-4;
  const Weakest here = weakest(mixture, T, rho);
  const Amounts step = part * std::sqrt(rho.sum()) * here.direction;
  const double above = weakest(mixture, T, rho + step).stability,
               below = weakest(mixture, T, rho - step).stability;
  return {here.stability, (above - below) / (2 * part)};
}

}  // namespace

MixtureCriticalPoint critical_point(const Mixture& mixture, const Amounts& z) {
  const Mixture::Reducing start = mixture.reducing(z);
  MixtureCriticalPoint out{start.T, 0, start.rho, false};
  constexpr double nudge = 1e-5;
  for (int i = 0; i < 60; ++i) {
    const Conditions here = conditions(mixture, out.T, out.rho * z);
    const Conditions warm = conditions(mixture, out.T * (1 + nudge), out.rho * z);
    const Conditions dense = conditions(mixture, out.T, out.rho * (1 + nudge) * z);
    const double a = (warm.stability - here.stability) / nudge,
                 b = (dense.stability - here.stability) / nudge;
    const double c = (warm.inflection - here.inflection) / nudge,
                 d = (dense.inflection - here.inflection) / nudge;
    const double determinant = a * d - b * c;
    double dT = (-here.stability * d + b * here.inflection) / determinant;
    double drho = (-a * here.inflection + c * here.stability) / determinant;
    if (!std::isfinite(dT + drho)) return out;
    const double largest = std::max(std::abs(dT) / 0.03, std::abs(drho) / 0.1);
    if (largest > 1) {
      dT /= largest;
      drho /= largest;
    }
    out.T *= 1 + dT;
    out.rho *= 1 + drho;
    if (std::abs(dT) < 1e-9 && std::abs(drho) < 1e-7) {
      out.p = mixture.at(out.T, out.rho * z).p;
      out.converged = out.p > 0;
      return out;
    }
  }
  return out;
}

}  // namespace coldwright::fluids

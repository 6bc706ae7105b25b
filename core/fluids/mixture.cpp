#include "fluids/mixture.hpp"

#include <cmath>

namespace coldwright::fluids {
// Outside the unnamed namespace, since Mixture::Sums, which the header names, holds it.
/// A sum over components and pairs of partial densities, with its slopes and curvatures in each of them.
struct Quadratic {
  double value = 0;
  Amounts slope;
  Pairs curve;
  explicit Quadratic(Eigen::Index n) : slope(Amounts::Zero(n)), curve(Pairs::Zero(n, n)) {}

  void add_square(Eigen::Index i, double c, double a) {
    value += c * a * a;
    slope(i) += 2 * c * a;
    curve(i, i) += 2 * c;
  }
  void add_pair(Eigen::Index i, Eigen::Index j, const Jet<double>& term) {
    value += term.v;
    slope(i) += term.x;
    slope(j) += term.y;
    curve(i, i) += term.xx;
    curve(i, j) += term.xy;
    curve(j, i) += term.xy;
    curve(j, j) += term.yy;
  }

  /// Q / rho^power with its derivatives, rho the sum of all.
  void divide(double rho, int power) {
    const auto ones = Amounts::Ones(slope.size());
    const double scale = std::pow(rho, -power), r = 1 / rho;
    const Pairs cross = slope * ones.transpose();
    curve = scale * (curve - power * r * (cross + cross.transpose()) +
                     Pairs::Constant(slope.size(), slope.size(), power * (power + 1) * r * r * value));
    slope = scale * (slope - power * r * value * ones);
    value *= scale;
  }
};

namespace {

/// 2 beta gamma c (a b (a + b))/(beta^2 a + b), of two partial densities.
Jet<double> pair_term(double scale, double beta, double a, double b) {
  const auto x = Jet<double>::first(a), y = Jet<double>::second(b);
  if (beta == 1) return scale * (x * y);
  return (beta * scale) * (x * y * (x + y) / ((beta * beta) * x + y));
}

/// Terms of one component or pair, weighted, to those of the whole.
template <class Term>
void append(std::vector<Term>& whole, const std::vector<Term>& terms, double weight) {
  for (Term term : terms) {
    term.n *= weight;
    whole.push_back(term);
  }
}

}  // namespace

/// psi's parts at one point: tau and delta with their derivatives, and the weighted sums of the terms.
struct Mixture::Sums {
  Quadratic tau, delta;
  double rho = 0;
  Jet<double> all;                  // sum of rho_i a_i + w_ij a_ij, derivatives in (tau, delta)
  Amounts own, own_tau, own_delta;  // d/drho_k at constant tau and delta
  Pairs curve;                      // of the weights w_ij
  explicit Sums(Eigen::Index n)
      : tau(n),
        delta(n),
        own(Amounts::Zero(n)),
        own_tau(Amounts::Zero(n)),
        own_delta(Amounts::Zero(n)),
        curve(Pairs::Zero(n, n)) {}
};

Mixture::Mixture(std::vector<FluidData> components, std::vector<PairData> pairs)
    : components_(std::move(components)), pairs_(std::move(pairs)) {
  for (const PairData& pair : pairs_) {
    const FluidData &a = components_[pair.i], &b = components_[pair.j];
    T_pair_.push_back(2 * pair.gamma_T * std::sqrt(a.T_reducing * b.T_reducing));
    const double v = std::cbrt(1 / a.rho_reducing) + std::cbrt(1 / b.rho_reducing);
    v_pair_.push_back(2 * pair.gamma_v * v * v * v / 8);
  }
}

Mixture::Sums Mixture::sums(double T, const Amounts& rho, bool second_order) const {
  const auto n = static_cast<Eigen::Index>(size());
  Sums out(n);
  out.rho = rho.sum();
  for (Eigen::Index k = 0; k < n; ++k) {
    const FluidData& fluid = components_[static_cast<std::size_t>(k)];
    out.tau.add_square(k, fluid.T_reducing / T, rho(k));
    out.delta.add_square(k, 1 / fluid.rho_reducing, rho(k));
  }
  for (std::size_t at = 0; at < pairs_.size(); ++at) {
    const PairData& pair = pairs_[at];
    const auto i = static_cast<Eigen::Index>(pair.i), j = static_cast<Eigen::Index>(pair.j);
    if (rho(i) + rho(j) <= 0) continue;
    out.tau.add_pair(i, j, pair_term(T_pair_[at] / T, pair.beta_T, rho(i), rho(j)));
    out.delta.add_pair(i, j, pair_term(v_pair_[at], pair.beta_v, rho(i), rho(j)));
  }
  out.tau.divide(out.rho, 2);    // tau = T_r / T
  out.delta.divide(out.rho, 1);  // delta = rho / rho_r
  const auto tau = Jet1<double>::variable(out.tau.value);
  for (Eigen::Index k = 0; k < n; ++k) {
    const Jet<double> a = ResidualAtTau<Jet1<double>>(components_[static_cast<std::size_t>(k)].residual, tau)
                              .both(out.delta.value);
    out.all += rho(k) * a;
    out.own(k) += a.v;
    out.own_tau(k) += a.x;
    out.own_delta(k) += a.y;
  }
  for (const PairData& pair : pairs_) {
    if (pair.F == 0) continue;
    const auto i = static_cast<Eigen::Index>(pair.i), j = static_cast<Eigen::Index>(pair.j);
    const Jet<double> a = pair.F * ResidualAtTau<Jet1<double>>(pair.departure, tau).both(out.delta.value);
    Quadratic weight(n);  // w = rho_i rho_j / rho
    weight.add_pair(i, j, Jet<double>::first(rho(i)) * Jet<double>::second(rho(j)));
    weight.divide(out.rho, 1);
    out.all += weight.value * a;
    out.own += a.v * weight.slope;
    out.own_tau += a.x * weight.slope;
    out.own_delta += a.y * weight.slope;
    if (second_order) out.curve += a.v * weight.curve;
  }
  return out;
}

MixturePoint Mixture::at(double T, const Amounts& rho) const {
  const Sums s = sums(T, rho, true);
  const double gas = mixture_gas_constant * T;
  MixturePoint out;
  out.rho = s.rho;
  const Amounts psi_k = s.own + s.all.x * s.tau.slope + s.all.y * s.delta.slope;
  const Pairs by_tau = s.own_tau * s.tau.slope.transpose(),
              by_delta = s.own_delta * s.delta.slope.transpose();
  const Pairs mixed = s.tau.slope * s.delta.slope.transpose();
  out.ln_f_k = s.curve + s.all.x * s.tau.curve + s.all.y * s.delta.curve +
               s.all.xx * (s.tau.slope * s.tau.slope.transpose()) + s.all.xy * (mixed + mixed.transpose()) +
               s.all.yy * (s.delta.slope * s.delta.slope.transpose()) + by_tau + by_tau.transpose() +
               by_delta + by_delta.transpose();
  out.ln_f = rho.array().log().matrix() + psi_k;
  // At constant rho_k only tau moves with T.
  const double tau_T = -s.tau.value / T;
  out.ln_f_T =
      tau_T * (s.own_tau + s.all.xx * s.tau.slope + s.all.xy * s.delta.slope) - s.all.x / T * s.tau.slope;
  out.p = gas * (s.rho + rho.dot(psi_k) - s.all.v);
  out.p_T = out.p / T + gas * (rho.dot(out.ln_f_T) - s.all.x * tau_T);
  out.p_k = gas * (Amounts::Ones(rho.size()) + out.ln_f_k * rho);
  return out;
}

MolarCaloric Mixture::caloric(double T, const Amounts& rho) const {
  const Sums s = sums(T, rho, false);
  const double R = mixture_gas_constant;
  // Of the ideal gas: what depends on temperature alone with each component's own gas constant, as published;
  // what depends on the densities with the mixture's, as its pressure rho R T does.
  double u = 0, entropy = 0;
  for (std::size_t k = 0; k < size(); ++k) {
    const double part = rho(static_cast<Eigen::Index>(k)) / s.rho;
    if (part <= 0) continue;
    const FluidData& fluid = components_[k];
    const double tau = fluid.T_reducing / T;
    const Jet1<double> a0 = alpha_ideal_of_tau(fluid.ideal, Jet1<double>::variable(tau));
    u += part * fluid.R * T * tau * a0.d;
    entropy += part * (fluid.R * (tau * a0.d - a0.v) - R * std::log(part * s.rho / fluid.rho_reducing));
  }
  // u = -T^2 d(a/T)/dT, s = -da/dT of psi R T / rho
  const double psi = s.all.v / s.rho, psi_tau = s.all.x / s.rho;
  u += R * T * s.tau.value * psi_tau;
  entropy += R * (s.tau.value * psi_tau - psi);
  const double psi_delta = s.all.y / s.rho;
  return {u + R * T * (1 + s.delta.value * psi_delta), entropy};
}

Mixture::Reducing Mixture::reducing(const Amounts& x) const {
  double T = 0, v = 0;
  for (std::size_t k = 0; k < size(); ++k) {
    const double part = x(static_cast<Eigen::Index>(k));
    T += part * part * components_[k].T_reducing;
    v += part * part / components_[k].rho_reducing;
  }
  for (std::size_t at = 0; at < pairs_.size(); ++at) {
    const PairData& pair = pairs_[at];
    const double a = x(static_cast<Eigen::Index>(pair.i)), b = x(static_cast<Eigen::Index>(pair.j));
    if (a + b <= 0) continue;
    T += pair_term(T_pair_[at], pair.beta_T, a, b).v;
    v += pair_term(v_pair_[at], pair.beta_v, a, b).v;
  }
  return {T, 1 / v};
}

Formula Mixture::at_composition(const Amounts& x) const {
  const Reducing reduced = reducing(x);
  Formula out;
  out.R = mixture_gas_constant;
  out.T_reducing = reduced.T;
  out.rho_reducing = reduced.rho;
  const auto add = [&](const ResidualPart& part, double weight) {
    append(out.residual.power, part.power, weight);
    append(out.residual.gaussian, part.gaussian, weight);
    append(out.residual.gao, part.gao, weight);
    append(out.residual.non_analytic, part.non_analytic, weight);
  };
  for (std::size_t k = 0; k < size(); ++k) {
    const double part = x(static_cast<Eigen::Index>(k));
    if (part <= 0) continue;
    const FluidData& fluid = components_[k];
    out.M += part * fluid.M;
    add(fluid.residual, part);
    // alpha0 of the component at its own tau and delta, in terms of the mixture's.
    const double stretch = fluid.T_reducing / reduced.T, weight = part * fluid.R / out.R;
    const IdealPart& own = fluid.ideal;
    out.ideal.a1 += weight * (own.a1 + own.shift_a1 + own.log_tau * std::log(stretch)) +
                    part * std::log(part * reduced.rho / fluid.rho_reducing);
    out.ideal.a2 += weight * (own.a2 + own.shift_a2) * stretch;
    out.ideal.log_tau += weight * own.log_tau;
    for (const auto& term : own.power)
      out.ideal.power.push_back({weight * term.n * std::pow(stretch, term.t), term.t});
    for (const auto& term : own.einstein)
      out.ideal.einstein.push_back({weight * term.m, term.theta * stretch});
  }
  for (const PairData& pair : pairs_)
    if (pair.F != 0)
      add(pair.departure,
          pair.F * x(static_cast<Eigen::Index>(pair.i)) * x(static_cast<Eigen::Index>(pair.j)));
  out.residual.arrange();
  return out;
}

}  // namespace coldwright::fluids

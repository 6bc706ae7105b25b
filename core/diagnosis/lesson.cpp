#include "diagnosis/lesson.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>

#include "diagnosis/laplace.hpp"

namespace coldwright::diagnosis {
namespace {

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Vector = Eigen::VectorXd;

constexpr double kShared = 0.7;  // rho above
constexpr double kUnexplained =
    3.0;  // residual, in standard deviations, beyond which a reading teaches nothing
// What may have changed since: coils fouled and cleaned, another place in the shop. In latent standard
// deviations, our estimate.
constexpr double kDrift = 0.15;

const double kAgreed = std::log(3.0);  // odds from which a model is believed to have a mean of its own

Matrix slopes_of(const Lesson& l) {
  return Eigen::Map<const Matrix>(l.slope.data(), static_cast<Eigen::Index>(l.value.size()), kLatents);
}
Vector values_of(const Lesson& l) {
  return Eigen::Map<const Vector>(l.value.data(), static_cast<Eigen::Index>(l.value.size()));
}
Matrix covariance_of(const Belief& b) {
  return Eigen::Map<const Matrix>(b.covariance.data(), kLatents, kLatents);
}
Vector vector_of(const Latents& z) { return Eigen::Map<const Vector>(z.data(), kLatents); }

Belief belief_of(const Vector& mean, const Matrix& covariance) {
  Belief b;
  for (int i = 0; i < kLatents; ++i) b.mean[static_cast<std::size_t>(i)] = mean[i];
  b.covariance.resize(static_cast<std::size_t>(kLatents) * kLatents);
  const Matrix symmetric = 0.5 * (covariance + covariance.transpose());
  Eigen::Map<Matrix>(b.covariance.data(), kLatents, kLatents) = symmetric;
  return b;
}

// All lessons of one unit as one set of rows, each scaled by the root of its weight.
struct Rows {
  Matrix A;
  Vector b;
};
Rows rows_of(std::span<const Lesson> lessons) {
  Eigen::Index count = 0;
  for (const Lesson& l : lessons) count += static_cast<Eigen::Index>(l.value.size());
  const double root = std::sqrt(1 / (1 + kShared * (static_cast<double>(lessons.size()) - 1)));
  Rows r{Matrix(count, kLatents), Vector(count)};
  Eigen::Index at = 0;
  for (const Lesson& l : lessons) {
    const auto n = static_cast<Eigen::Index>(l.value.size());
    r.A.middleRows(at, n) = root * slopes_of(l);
    r.b.segment(at, n) = root * values_of(l);
    at += n;
  }
  return r;
}

Matrix identity(Eigen::Index n) { return Matrix::Identity(n, n); }

double log_det(const Eigen::LLT<Matrix>& of) {
  double sum = 0;
  const Matrix& l = of.matrixLLT();
  for (Eigen::Index i = 0; i < l.rows(); ++i) sum += 2 * std::log(l(i, i));
  return sum;
}

// One value of t: the model's mean given all units, and the evidence.
struct Hierarchy {
  Vector mean;
  Matrix covariance;  // of a further unit
  double log_evidence;
  double log_evidence_without;  // of a model whose mean is the population's
};
Hierarchy at_spread(const std::vector<Rows>& units, double t) {
  Matrix information = Matrix::Zero(kLatents, kLatents);
  Vector weighted = Vector::Zero(kLatents);
  double log_evidence = 0;
  for (const Rows& u : units) {
    const Matrix V = identity(u.A.rows()) + t * t * u.A * u.A.transpose();
    const Eigen::LLT<Matrix> llt(V);
    const Matrix VA = llt.solve(u.A);
    const Vector Vb = llt.solve(u.b);
    information += u.A.transpose() * VA;
    weighted += u.A.transpose() * Vb;
    log_evidence -= 0.5 * (u.b.dot(Vb) + log_det(llt));
  }
  const double free = 1 - t * t;  // variance of the model's mean
  const Eigen::LLT<Matrix> llt(identity(kLatents) + free * information);
  const Matrix C = free * llt.solve(identity(kLatents));
  const Vector mean = C * weighted;
  const double shared = 0.5 * weighted.dot(mean) - 0.5 * log_det(llt);
  return {mean, C + t * t * identity(kLatents), log_evidence + shared, log_evidence};
}

}  // namespace

const std::array<std::string_view, kLatents>& latent_names() {
  static constexpr std::array<std::string_view, kLatents> names{
      "size",
      "design_ambient",
      "evaporator_td",
      "condenser_split",
      "superheat",
      "subcooling",
      "efficiency",
      "clearance",
      "fill",
      "suction_heating",
      "friction",
      "shell_loss",
      "magnetising",
      "copper",
      "condenser_vapour",
      "condenser_liquid",
      "evaporator_vapour",
      "condenser_transfer",
      "evaporator_transfer",
      "exchange",
      "pick_up",
      "capillary_length",
      "condenser_hold_up",
      "evaporator_hold_up",
      "shell_volume",
      "oil",
      "solubility",
      "coil_ratio",
      "liquid_line",
      "capillary_spread",
      "charge_spread",
      "load",
      "trip",
      "charge_unknown",
      "severity",
      "variant",
      "severity_2",
      "variant_2",
      "ambient_error",
      "box_error",
      "clamp_pull",
      "supply",
      "rotor",
      "doubt_td",
      "doubt_split",
      "doubt_hold_up",
      "doubt_exchange",
  };
  return names;
}

bool stays_with_the_machine(std::size_t i) {
  if (i < circuit::kMachineLatents) return i != static_cast<std::size_t>(circuit::Latent::charge_spread);
  return i >= index(Extra::doubt_td);
}

Result<Learned> learn(const Scene& scene, const Hypothesis& sound, const Evidence& all) {
  const Problem nothing{"readings", "nothing to learn from", "readings of the machine when it ran sound",
                        "no sound machine of this kind explains them"};
  Learned learned;
  Evidence e = all;
  int solves = 0;
  Linear best;
  for (;;) {
    if (e.readings.empty()) return nothing;
    best = find_mode(scene, sound, e, Latents{}, false, solves);
    if (best.ok) best = linearise(scene, sound, e, best.at, solves);
    if (!best.ok) return nothing;
    std::size_t worst = 0;
    for (std::size_t i = 0; i < best.residual.size(); ++i)
      if (std::abs(best.residual[i]) > std::abs(best.residual[worst])) worst = i;
    if (std::abs(best.residual[worst]) <= kUnexplained) break;
    const auto at = static_cast<std::ptrdiff_t>(worst);
    learned.set_aside.push_back(e.readings[worst].id);
    e.readings.erase(e.readings.begin() + at);
    e.uncertainties.erase(e.uncertainties.begin() + at);
  }
  const auto m = static_cast<Eigen::Index>(best.residual.size());
  const Matrix J = Eigen::Map<const Matrix>(best.slope.data(), m, kLatents);
  Matrix stays = Matrix::Zero(m, kLatents), visit = J;
  for (int i = 0; i < kLatents; ++i)
    if (stays_with_the_machine(static_cast<std::size_t>(i))) {
      stays.col(i) = J.col(i);
      visit.col(i).setZero();
    }
  const Vector b = Eigen::Map<const Vector>(best.residual.data(), m) + J * vector_of(best.at);
  const Eigen::LLT<Matrix> llt(identity(m) + visit * visit.transpose());
  const Matrix A = llt.matrixL().solve(stays);
  const Vector value = llt.matrixL().solve(b);
  learned.lesson.slope.assign(A.data(), A.data() + A.size());
  learned.lesson.value.assign(value.data(), value.data() + value.size());
  return learned;
}

Belief population() { return belief_of(Vector::Zero(kLatents), identity(kLatents)); }

Belief after(const Belief& before, std::span<const Lesson> lessons) {
  if (lessons.empty()) return before;
  const Rows rows = rows_of(lessons);
  // The same as the information form, without inverting P: gain K = P A^T (I + A P A^T)^-1.
  const Matrix P = covariance_of(before);
  const Matrix PA = P * rows.A.transpose();
  const Eigen::LLT<Matrix> llt(identity(rows.A.rows()) + rows.A * PA);
  const Vector m = vector_of(before.mean);
  const Vector mean = m + PA * llt.solve(rows.b - rows.A * m);
  const Matrix back = PA.transpose();
  return belief_of(mean, P - PA * llt.solve(back));
}

double spread_of(const Belief& belief, const Latents& gradient) {
  const Vector g = vector_of(gradient);
  return std::sqrt(std::max(g.dot(covariance_of(belief) * g), 0.0));
}

Belief told(const Belief& belief, const Latents& gradient, double at_mean, double value, double sigma) {
  const Matrix C = covariance_of(belief);
  const Vector Cg = C * vector_of(gradient);
  const double variance = vector_of(gradient).dot(Cg);
  if (!(variance > 1e-12)) return belief;
  const Vector mean = vector_of(belief.mean) + Cg * ((value - at_mean) / variance);
  return belief_of(mean, C + Cg * Cg.transpose() * ((sigma * sigma - variance) / (variance * variance)));
}

UnitPrior prior_of(const Belief& belief) {
  Matrix C = covariance_of(belief);
  for (int i = 0; i < kLatents; ++i)
    C(i, i) += stays_with_the_machine(static_cast<std::size_t>(i)) ? kDrift * kDrift : 0;
  const Eigen::LLT<Matrix> llt(C);
  const Matrix L = llt.matrixL();
  UnitPrior prior;
  prior.mean = belief.mean;
  prior.root.assign(L.data(), L.data() + L.size());
  return prior;
}

std::optional<ModelBelief> believe_of_model(const std::vector<std::vector<Lesson>>& by_unit) {
  if (static_cast<int>(by_unit.size()) < kFewestUnits) return std::nullopt;
  std::vector<Rows> units;
  for (const auto& lessons : by_unit) units.push_back(rows_of(lessons));
  constexpr int steps = 16;
  const auto spread_at = [](int i) { return 0.2 + 0.75 * i / (steps - 1); };
  std::vector<Hierarchy> grid;
  double top = -1e300;
  for (int i = 0; i < steps; ++i) {
    grid.push_back(at_spread(units, spread_at(i)));
    top = std::max({top, grid.back().log_evidence, grid.back().log_evidence_without});
  }
  Vector mean = Vector::Zero(kLatents);
  Matrix second = Matrix::Zero(kLatents, kLatents);
  double sum = 0, without = 0, spread = 0;
  for (int i = 0; i < steps; ++i) {
    const Hierarchy& h = grid[static_cast<std::size_t>(i)];
    const double w = std::exp(h.log_evidence - top);
    sum += w;
    without += std::exp(h.log_evidence_without - top);
    spread += w * spread_at(i);
    mean += w * h.mean;
    second += w * (h.covariance + h.mean * h.mean.transpose());
  }
  ModelBelief model;
  model.log_odds = std::log(sum / without);
  if (!(model.log_odds > kAgreed)) return std::nullopt;
  mean /= sum;
  model.belief = belief_of(mean, second / sum - mean * mean.transpose());
  model.spread = spread / sum;
  model.units = static_cast<int>(by_unit.size());
  return model;
}

}  // namespace coldwright::diagnosis

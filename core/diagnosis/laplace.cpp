#include "diagnosis/laplace.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>

namespace coldwright::diagnosis {
namespace {

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Vector = Eigen::VectorXd;

constexpr double kNudge = 0.06;   // in latent standard deviations
constexpr double kMaxSlope = 40;  // standard deviations per unit: beyond it a state switch, not a slope
constexpr double kHuber = 3.5;    // residual beyond which a reading pulls no harder
constexpr std::size_t kLoad = static_cast<std::size_t>(circuit::Latent::load);
constexpr double kLn2Pi = 1.8378770664093454836;

Eigen::Map<const Vector> as_vector(const Latents& z) { return {z.data(), kLatents}; }

Eigen::Map<const Matrix> slopes(const Linear& l) {
  return {l.slope.data(), static_cast<Eigen::Index>(l.residual.size()), kLatents};
}

double predicted_scaled(const Evidence& e, std::size_t i, const Simulated& s) {
  const Reading& r = e.readings[i];
  return scale(r.kind, s.readings[static_cast<std::size_t>(r.kind)]) / e.uncertainties[i].total;
}

// In standard deviations. What was read of a motor at rest says nothing of how it runs.
double residual(const Evidence& e, std::size_t i, const Simulated& s) {
  const Reading& r = e.readings[i];
  if (read_at_rest(r, s.readings[static_cast<std::size_t>(r.kind)])) return 0;
  return scale(r.kind, r.value) / e.uncertainties[i].total - predicted_scaled(e, i, s);
}

double total_log_likelihood(const Scene& scene, const Hypothesis& h, const Evidence& e, const Simulated& s) {
  return log_readings(e, s) + log_observations(e, h, *scene.knowledge, s) + std::log(s.complaint);
}

Latents gauss_newton(const Linear& l) {
  const auto J = slopes(l);
  Vector target(l.residual.size());
  for (std::size_t i = 0; i < l.residual.size(); ++i)
    target[static_cast<Eigen::Index>(i)] = std::clamp(l.residual[i], -kHuber, kHuber);
  target += J * as_vector(l.at);
  const Matrix S = Matrix::Identity(J.rows(), J.rows()) + J * J.transpose();
  const Vector z = J.transpose() * S.llt().solve(target);
  Latents next{};
  for (int i = 0; i < kLatents; ++i) next[static_cast<std::size_t>(i)] = std::clamp(z[i], -4.0, 4.0);
  return next;
}

// Moves the linear model to z where the machine showed s, correcting its slopes along the step (Broyden).
void advance(Linear& l, const Evidence& e, const Latents& z, const Simulated& s) {
  double norm = 0;
  Latents dz{};
  for (std::size_t j = 0; j < kLatents; ++j) {
    dz[j] = z[j] - l.at[j];
    norm += dz[j] * dz[j];
  }
  for (std::size_t i = 0; i < l.residual.size(); ++i) {
    const double now = residual(e, i, s);
    double miss = l.residual[i] - now;  // what the prediction rose by ...
    for (std::size_t j = 0; j < kLatents; ++j)
      miss -= l.slope[i * kLatents + j] * dz[j];  // ... beyond the linear model
    for (std::size_t j = 0; j < kLatents; ++j)
      l.slope[i * kLatents + j] += miss * dz[j] / std::max(norm, 1e-12);
    l.residual[i] = now;
  }
  l.at = z;
  l.solution = s.point.solution;
  l.mode = s.mode;
  l.complaint = s.complaint;
}

// The load shows in no reading, only in the complaint, whose slope the linear model doesn't have: a few
// values are tried, and the best of them taken. Without it a machine that explains every reading stays one
// that nobody would have called for.
void settle_load(const Scene& scene, const Hypothesis& h, const Evidence& e, Linear& best, double& value,
                 int& solves) {
  if (best.complaint > 0.5) return;
  for (double load : {-1.5, -0.75, 0.0, 0.75, 1.5, 2.25}) {
    Latents z = best.at;
    z[kLoad] = load;
    const Simulated s = simulate(scene, h, z, best.solution.tripped ? nullptr : &best.solution);
    ++solves;
    if (!s.ok || s.mode != best.mode) continue;
    const double v = total_log_likelihood(scene, h, e, s) + log_prior_density(z);
    if (v <= value) continue;
    value = v;
    best.at = z;
    best.complaint = s.complaint;
  }
}

}  // namespace

double log_prior_density(const Latents& z) {
  return -0.5 * as_vector(z).squaredNorm() - 0.5 * kLatents * kLn2Pi;
}

Linear linearise(const Scene& scene, const Hypothesis& h, const Evidence& e, const Latents& at, int& solves) {
  Linear l;
  l.at = at;
  const std::size_t m = e.readings.size();
  const Simulated base = simulate(scene, h, at);
  ++solves;
  l.residual.resize(m);
  l.slope.assign(m * kLatents, 0);
  if (!base.ok) return l;
  l.ok = true;
  l.solution = base.point.solution;
  l.mode = base.mode;
  l.complaint = base.complaint;
  l.log_likelihood = total_log_likelihood(scene, h, e, base);
  for (std::size_t i = 0; i < m; ++i) l.residual[i] = residual(e, i, base);
  if (m == 0) return l;
  Scene quick = scene;
  quick.not_cooling = quick.no_complaint = false;  // slopes of readings only
  for (std::size_t j = 0; j < kLatents; ++j) {
    Latents z = at;
    z[j] += z[j] > 0 ? -kNudge : kNudge;
    const Simulated moved = simulate(quick, h, z, &l.solution);
    ++solves;
    if (!moved.ok || moved.mode != base.mode) continue;
    for (std::size_t i = 0; i < m; ++i) {
      const double slope = (predicted_scaled(e, i, moved) - predicted_scaled(e, i, base)) / (z[j] - at[j]);
      l.slope[i * kLatents + j] = std::clamp(slope, -kMaxSlope, kMaxSlope);
    }
  }
  return l;
}

Linear find_mode(const Scene& scene, const Hypothesis& h, const Evidence& e, const Latents& start,
                 bool heed_complaint, int& solves) {
  Linear best = linearise(scene, h, e, start, solves);
  if (!best.ok || e.readings.empty()) return best;
  // Unless the complaint rules out much of this hypothesis, its extra solve is spent only once, at the end.
  Scene steps = scene;
  steps.not_cooling = scene.not_cooling && heed_complaint;
  steps.no_complaint = scene.no_complaint && heed_complaint;
  const auto near = [&] { return best.solution.tripped ? nullptr : &best.solution; };
  const auto worth = [&](const Simulated& s, const Latents& z) {
    return s.ok ? total_log_likelihood(scene, h, e, s) + log_prior_density(z) : -1e300;
  };
  double value = best.log_likelihood + log_prior_density(start);
  bool fresh = true;
  if (steps.not_cooling) settle_load(steps, h, e, best, value, solves);
  // A machine that doesn't run costs next to nothing to compute, and its branch has edges: look longer.
  const bool runs = best.mode == Mode::running;
  const int rounds = runs ? 6 : 10;
  for (int round = 0; round < rounds; ++round) {
    Latents aim = gauss_newton(best);
    if (steps.not_cooling) aim[kLoad] = best.at[kLoad];
    double gain = 0;
    for (double step : {1.0, 0.45, 0.15}) {
      Latents z{};
      for (std::size_t i = 0; i < kLatents; ++i) z[i] = best.at[i] + step * (aim[i] - best.at[i]);
      Simulated s = simulate(steps, h, z, near());
      ++solves;
      double v = worth(s, z);
      // Where it left the branch the rest of the step may help as well, and is tried first.
      if (s.mode != best.mode) {
        Latents within = z;
        for (Extra held : {Extra::severity, Extra::variant, Extra::severity_2, Extra::variant_2})
          within[index(held)] = best.at[index(held)];
        const Simulated stayed = simulate(steps, h, within, near());
        ++solves;
        const double v_stayed = worth(stayed, within);
        if (v_stayed > value || v <= value) {
          z = within;
          s = stayed;
          v = v_stayed;
        }
      }
      if (v <= value) continue;
      gain = v - value;
      value = v;
      advance(best, e, z, s);
      fresh = false;
      break;
    }
    if (gain > 0.3) continue;
    if (fresh || (runs && gain > 0) || round > rounds - 3) break;
    best = linearise(scene, h, e, best.at, solves);  // stuck on corrected slopes: compute them anew, once
    value = best.log_likelihood + log_prior_density(best.at);
    fresh = true;
  }
  if (steps.not_cooling) settle_load(steps, h, e, best, value, solves);
  const Simulated s = simulate(scene, h, best.at, near());
  ++solves;
  if (s.ok) best.log_likelihood = total_log_likelihood(scene, h, e, s);
  return best;
}

struct Proposal::Factor {
  Matrix J;
  Vector centre;
  Eigen::LLT<Matrix> S;
  double half_log_det;
  double width;
};

Proposal::Proposal(const Linear& l, double width) {
  auto f = std::make_unique<Factor>();
  f->J = slopes(l);
  f->centre = as_vector(l.at);
  const Matrix S = Matrix::Identity(f->J.rows(), f->J.rows()) + f->J * f->J.transpose();
  f->S.compute(S);
  f->half_log_det = 0;
  for (Eigen::Index i = 0; i < S.rows(); ++i) f->half_log_det += std::log(f->S.matrixLLT()(i, i));
  f->width = width;
  factor_ = std::move(f);
}

Proposal::~Proposal() = default;
Proposal::Proposal(Proposal&&) noexcept = default;

Latents Proposal::sample(RandomStream& random) const {
  Vector u(kLatents), v(factor_->J.rows());
  for (Eigen::Index i = 0; i < u.size(); ++i) u[i] = random.normal();
  for (Eigen::Index i = 0; i < v.size(); ++i) v[i] = random.normal();
  const Vector x = u + factor_->J.transpose() * factor_->S.solve(v - factor_->J * u);
  Latents z{};
  for (int i = 0; i < kLatents; ++i)
    z[static_cast<std::size_t>(i)] = factor_->centre[i] + factor_->width * x[i];
  return z;
}

double Proposal::log_density(const Latents& z) const {
  const Vector x = (as_vector(z) - factor_->centre) / factor_->width;
  return -0.5 * (x.squaredNorm() + (factor_->J * x).squaredNorm()) + factor_->half_log_det -
         kLatents * (0.5 * kLn2Pi + std::log(factor_->width));
}

double Proposal::half_log_det() const { return factor_->half_log_det; }

double laplace_evidence(const Linear& l) {
  return l.log_likelihood + log_prior_density(l.at) + 0.5 * kLatents * kLn2Pi - Proposal(l, 1).half_log_det();
}

LeaveOneOut leave_one_out(const Linear& l, const Evidence& e, std::size_t k) {
  // The linear model's readings have mean mu = y - r - J z* (at z = 0) and covariance I + J J^T. Conditioning
  // the k-th on the others gives its predictive and the evidence of the rest.
  const auto J = slopes(l);
  const Eigen::Index m = J.rows();
  const Matrix S = Matrix::Identity(m, m) + J * J.transpose();
  const Vector off = Eigen::Map<const Vector>(l.residual.data(), m) + J * as_vector(l.at);  // y - mu
  const Matrix P = S.llt().solve(Matrix::Identity(m, m));
  const Vector a = P * off;
  const auto i = static_cast<Eigen::Index>(k);
  LeaveOneOut out{};
  const double unit = e.uncertainties[k].total;
  out.sigma = unit / std::sqrt(P(i, i));
  out.mean = scale(e.readings[k].kind, e.readings[k].value) - unit * a[i] / P(i, i);
  double log_det = 0;
  const Eigen::LLT<Matrix> llt(S);
  for (Eigen::Index j = 0; j < m; ++j) log_det += 2 * std::log(llt.matrixLLT()(j, j));
  const double all = -0.5 * (off.dot(a) + log_det);
  const double given_rest = -0.5 * (a[i] * a[i] / P(i, i) - std::log(P(i, i)));
  out.log_evidence = all - given_rest;  // up to a constant common to all hypotheses
  return out;
}

}  // namespace coldwright::diagnosis

// A hypothesis seen as nearly linear around its best machine.
//
// Near a latent vector z* the scaled readings are y = f(z*) + J (z - z*) with unit noise and a standard
// normal prior on z. Then mode, evidence and posterior samples are closed forms that need only an m x m
// factorisation (m readings), because the prior is the identity:
//   z_next = J^T (I + J J^T)^-1 (y - f + J z*)                                        Gauss-Newton step
//   ln Z   = ln L(z*) + ln p(z*) + d/2 ln 2 pi - 1/2 ln det(I + J J^T)                 Laplace
//   sample = z* + u + J^T (I + J J^T)^-1 (v - J u),  u, v standard normal              exact draw
// [mackay2003] for the Laplace approximation. The posterior corrects it by importance weights.
#pragma once

#include <memory>
#include <vector>

#include "diagnosis/evidence.hpp"

namespace coldwright::diagnosis {

/// The model linearised at one machine. Rows are readings, in the order of the evidence.
struct Linear {
  Latents at{};
  std::vector<double> slope;     // m x kLatents, in standard deviations per unit latent
  std::vector<double> residual;  // m, (given - predicted) / sigma
  double log_likelihood = 0;     // readings and observations and complaint at `at`
  circuit::Solution solution;    // of the machine at `at`
  Mode mode = Mode::running;     // and what its motor does
  double complaint = 1;          // chance of what was said of the box
  bool ok = false;
};

/// Slopes by differences: kLatents + 1 simulations, counted in `solves`.
Linear linearise(const Scene& scene, const Hypothesis& h, const Evidence& evidence, const Latents& at,
                 int& solves);

/// From a start, a few damped Gauss-Newton steps towards the most probable machine of this hypothesis. Slopes
/// are computed at the start, corrected by what each step shows (Broyden), and computed anew only when stuck.
/// With `heed_complaint` a step that leaves the machines which would have led to the complaint is refused.
Linear find_mode(const Scene& scene, const Hypothesis& h, const Evidence& evidence, const Latents& start,
                 bool heed_complaint, int& solves);

/// Normal approximation of the posterior with a width factor, to draw from and to evaluate.
class Proposal {
 public:
  Proposal(const Linear& linear, double width);
  ~Proposal();
  Proposal(Proposal&&) noexcept;
  Latents sample(RandomStream& random) const;
  double log_density(const Latents& z) const;
  /// 1/2 ln det(I + J J^T), of width one.
  double half_log_det() const;

 private:
  struct Factor;
  std::unique_ptr<const Factor> factor_;
};

/// ln evidence of the linear model (Laplace).
double laplace_evidence(const Linear& linear);

/// Mean and variance of any linear function of the readings' predictions when reading `left_out` is ignored:
/// used for leave-one-out questions. Returned in the reading's own scale (see instruments.hpp scale()).
struct LeaveOneOut {
  double mean, sigma;   // predictive of that reading, its instrument included
  double log_evidence;  // of the other readings
};
LeaveOneOut leave_one_out(const Linear& linear, const Evidence& evidence, std::size_t left_out);

double log_prior_density(const Latents& z);

}  // namespace coldwright::diagnosis

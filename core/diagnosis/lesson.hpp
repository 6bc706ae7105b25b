// What a finished call taught about one machine, and what that makes of the next call's prior.
//
// A sound machine's readings, linearised at the most probable machine z*, are y = f(z*) + J (z - z*) with
// unit noise (laplace.hpp). What belongs to the visit alone (errors of the air temperatures, the clamps'
// pull, the supply, the gram more or less that was charged) is integrated out:
//   b = A u,  A = L^-1 J_u,  b = L^-1 (r + J z*),  L L^T = I + J_v J_v^T,  unit noise,
// u what stays with the machine, v what doesn't. These rows are a lesson: it depends on its call alone, so
// that lessons add up in any order [mackay2003, Chapter 24]:
//   C = (P^-1 + w sum A^T A)^-1,   m = C (P^-1 m0 + w sum A^T b)
// for a prior of mean m0 and covariance P: the population, or what is believed of the model. The circuit
// model errs about one machine in the same way each time, so n lessons of one unit count for w n = n / (1 +
// rho (n - 1)), rho = 0.7 (our estimate).
//
// A model's units are draws around its own mean: u_i ~ N(mu, t^2), mu ~ N(0, 1 - t^2), so that a unit of an
// unknown model is the population's. t, the share of the population's spread that lies between units of one
// model, is weighed on a grid with mu integrated out in closed form.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "diagnosis/evidence.hpp"
#include "diagnosis/unit_prior.hpp"

namespace coldwright::diagnosis {

/// Names of all latents, those of the machine as in circuit::Latent: "evaporator_td", ... "doubt_td".
const std::array<std::string_view, kLatents>& latent_names();
/// Whether a latent belongs to the machine rather than to one visit.
bool stays_with_the_machine(std::size_t latent);

/// Rows of b = A u with unit noise; slopes of latents that don't stay are zero.
struct Lesson {
  std::vector<double> slope;  // rows x kLatents
  std::vector<double> value;  // rows
};

struct Learned {
  Lesson lesson;
  std::vector<std::string> set_aside;  // ids of readings that no sound machine explains beside the others
};

/// From the readings of a sound machine. `scene` without a prior and without a complaint. Problem when no
/// machine fits, or no reading is left.
Result<Learned> learn(const Scene& scene, const Hypothesis& sound, const Evidence& evidence);

/// A normal belief about a machine's latents.
struct Belief {
  Latents mean{};
  std::vector<double> covariance;  // kLatents x kLatents
};
Belief population();
Belief after(const Belief& before, std::span<const Lesson> lessons);
/// Takes the belief about one quantity q, of this gradient and value at the mean, to `value` within `sigma`,
/// and leaves what is believed of everything else given q: a correction by hand, or something forgotten.
Belief told(const Belief& belief, const Latents& gradient, double at_mean, double value, double sigma);
/// Standard deviation of a quantity of this gradient.
double spread_of(const Belief& belief, const Latents& gradient);
/// Ready for the next call, widened for what may have drifted since.
UnitPrior prior_of(const Belief& belief);

struct ModelBelief {
  Belief belief;        // of a further unit of the model
  double spread;        // t, its posterior mean
  double log_odds = 0;  // ln evidence for a mean of its own against the population's
  int units = 0;
};
/// `by_unit`: the lessons of each unit. Empty for fewer than kFewestUnits units, and where they show no mean
/// of their own.
inline constexpr int kFewestUnits = 3;
std::optional<ModelBelief> believe_of_model(const std::vector<std::vector<Lesson>>& by_unit);

}  // namespace coldwright::diagnosis

// The box's course against what it must be: the exponential of a constant capacity, a step-by-step
// integration, the energy that went in and out, and the courses of real operating points on more of them.
#include "procedures/pull_down.hpp"

#include <cmath>

#include "support/diagnosis_desk.hpp"

namespace coldwright::test {
namespace {

using procedures::Cooling;
using procedures::Course;

Cooling linear_in_parts() {
  return {{270, 276, 284, 300}, {180, 240, 300, 330}, {false, false, false, false}};
}

// Fourth-order Runge-Kutta of C dT/dt = U (T_a - T) - Q(T), and the two energies along the way (Simpson's
// rule).
struct Stepped {
  double box, carried, leaked;
};
Stepped stepped(const Cooling& c, double mass, double load, double ambient, double start, double seconds) {
  Stepped s{start, 0, 0};
  const int n = 20000;
  const double dt = seconds / n;
  const auto rate = [&](double T) { return (load * (ambient - T) - procedures::capacity_at(c, T)) / mass; };
  for (int i = 0; i < n; ++i) {
    const double T0 = s.box, a = rate(T0), b = rate(T0 + dt / 2 * a), d = rate(T0 + dt / 2 * b),
                 e = rate(T0 + dt * d);
    s.box += dt / 6 * (a + 2 * b + 2 * d + e);
    const double half = T0 + dt / 4 * (a + b);
    s.carried += dt / 6 *
                 (procedures::capacity_at(c, T0) + 4 * procedures::capacity_at(c, half) +
                  procedures::capacity_at(c, s.box));
    s.leaked += dt / 6 * load * (6 * ambient - T0 - 4 * half - s.box);
  }
  return s;
}

TEST(PullDown, ConstantCapacityIsTheExponential) {
  const double Q = 250, U = 5, ambient = 300, start = 298, C = 25000;
  const Course course({{270, 300}, {Q, Q}, {false, false}}, U, ambient, start);
  const double rest = ambient - Q / U;  // 250 K
  for (double t : {0.0, 60.0, 600.0, 3600.0, 86400.0})
    EXPECT_NEAR(course.at(t / C), rest + (start - rest) * std::exp(-U * t / C), 1e-9) << t;
  EXPECT_NEAR(*course.when(276) * C, -C / U * std::log((276 - rest) / (start - rest)), 1e-6);
  EXPECT_FALSE(course.when(249.9));
}

TEST(PullDown, WithoutLoadItIsAStraightLine) {
  const Course course({{270, 300}, {200, 200}, {false, false}}, 0, 300, 298);
  EXPECT_NEAR(course.at(0.05), 298 - 200 * 0.05, 1e-9);
  EXPECT_NEAR(*course.when(278), 0.1, 1e-12);
}

TEST(PullDown, AStepwiseIntegrationAgreesAndEnergyIsKept) {
  const Cooling c = linear_in_parts();
  for (double load : {0.0, 4.0, 8.0, 14.0})
    for (double start : {272.0, 283.0, 305.0}) {
      const double C = 30000, ambient = 303;
      const Course course(c, load, ambient, start);
      for (double t : {300.0, 1800.0, 7200.0}) {
        const Stepped s = stepped(c, C, load, ambient, start, t);
        EXPECT_NEAR(course.at(t / C), s.box, 2e-4) << load << " W/K from " << start << " at " << t;
        const double given = C * (start - course.at(t / C));
        EXPECT_NEAR(given, s.carried - s.leaked, 1e-3 * (s.carried + s.leaked) + 10)
            << load << " " << start << " " << t;
      }
    }
}

TEST(PullDown, WhenIsTheInverseOfAt) {
  const Course course(linear_in_parts(), 5, 303, 299);
  for (double T = 298; T > 272; T -= 1.7) {
    const auto when = course.when(T);
    ASSERT_TRUE(when) << T;
    EXPECT_NEAR(course.at(*when), T, 1e-9);
  }
}

TEST(PullDown, ItComesToRestWhereLoadAndCapacityAgree) {
  const Course course(linear_in_parts(), 10, 303, 299);  // 240 W at 276 K and 270 W in: rest a little above
  const double rest = course.at(1e9);
  EXPECT_NEAR(10 * (303 - rest), procedures::capacity_at(linear_in_parts(), rest), 1e-6);
  EXPECT_FALSE(course.when(rest - 0.01));
  // A machine that carries nothing: the box warms to the ambient and never beyond.
  const Course off({{270, 300}, {0, 0}, {true, true}}, 10, 303, 280);
  EXPECT_NEAR(off.at(1e9), 303, 1e-6);
  EXPECT_FALSE(off.when(279));
  EXPECT_TRUE(off.when(290));
}

// An overload that opens on a warm box and holds on a cold one: from the warm side it never comes down.
TEST(PullDown, AnOverloadHoldsTheBoxUp) {
  const Cooling c{{270, 280, 290, 300}, {200, 250, 0, 0}, {false, false, true, true}};
  EXPECT_FALSE(Course(c, 6, 303, 298).when(275));
  EXPECT_TRUE(Course(c, 6, 303, 279).when(275));
}

// Six operating points describe a machine's cooling: sixteen give the same course.
TEST(PullDown, SixOperatingPointsAreEnough) {
  Desk desk("reach_in_cooler");
  double worst = 0;
  int machines = 0;
  for (std::uint64_t u = 1; u <= 60; ++u) {
    diagnosis::Latents z{};
    RandomStream random(u);
    for (double& x : z) x = random.normal();
    const auto built = diagnosis::build(desk.scene(), desk.hypothesis("sound"), z);
    if (!built) continue;
    const auto few = procedures::cooling_of(*built, desk.working(), 275, 300);
    const auto many = procedures::cooling_of(*built, desk.working(), 275, 300, 16);
    ASSERT_TRUE(few && many);
    if (few->tripped != std::vector<bool>(6, false) || many->tripped != std::vector<bool>(16, false))
      continue;
    ++machines;
    const double load = built->machine.load_per_kelvin, ambient = built->conditions.ambient;
    const Course a(*few, load, ambient, 298), b(*many, load, ambient, 298);
    for (double s = 0; s < 0.5; s += 0.01) worst = std::max(worst, std::abs(a.at(s) - b.at(s)));
  }
  std::printf("%d machines, worst difference %.2f K\n", machines, worst);
  EXPECT_GT(machines, 30);
  EXPECT_LT(worst, 0.3);
}

// The filter's likelihood against the whole covariance at once: wandering and probe as one multivariate
// normal. Close readings, so that mistakes play no part beyond their share.
TEST(PullDown, TheFiltersLikelihoodIsTheMultivariateNormal) {
  const std::vector<procedures::BoxReading> readings{{0, 290}, {300, 289.5}, {900, 288.2}, {1500, 287.4}};
  const std::vector<double> course{290, 289.2, 288.4, 287.6};
  const double got = procedures::log_likelihood(readings, course, {false, false, false, false});
  // Covariance of d at t1..t3 given its variance at t0, by hand.
  const double probe = 0.16, wander = 0.49, first = probe * wander / (probe + wander);
  double S[3][3];
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j) {
      const double ti = readings[static_cast<std::size_t>(i) + 1].seconds,
                   tj = readings[static_cast<std::size_t>(j) + 1].seconds;
      const double early = std::min(ti, tj), late = std::max(ti, tj);
      const double variance = first * std::exp(-2 * early / 900) + wander * (1 - std::exp(-2 * early / 900));
      S[i][j] = variance * std::exp(-(late - early) / 900) + (i == j ? probe : 0);
    }
  double L[3][3]{}, sum = 0, y[3];
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j <= i; ++j) {
      double a = S[i][j];
      for (int k = 0; k < j; ++k) a -= L[i][k] * L[j][k];
      L[i][j] = i == j ? std::sqrt(a) : a / L[j][j];
    }
    y[i] = readings[static_cast<std::size_t>(i) + 1].box - course[static_cast<std::size_t>(i) + 1];
    for (int k = 0; k < i; ++k) y[i] -= L[i][k] * y[k];
    y[i] /= L[i][i];
    sum += normal_log_density(y[i]) - std::log(L[i][i]) + std::log(0.99);
  }
  EXPECT_NEAR(got, sum, 0.02);
}

}  // namespace
}  // namespace coldwright::test

// A repeated failure is said when it is more than chance, and chance is rarely said.
#include "diagnosis/failure_rate.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <vector>

#include "base/normal.hpp"
#include "service/knowledge_loader.hpp"

namespace coldwright::test {
namespace {

using diagnosis::beta_cdf;

// Closed forms: I_x(1, b) = 1 - (1 - x)^b, I_x(a, 1) = x^a, and for whole numbers the binomial sum.
TEST(FailureRate, TheIncompleteBetaFunctionHasItsClosedForms) {
  for (double x : {0.01, 0.2, 0.5, 0.77, 0.99}) {
    EXPECT_NEAR(beta_cdf(1, 3.7, x), 1 - std::pow(1 - x, 3.7), 1e-13);
    EXPECT_NEAR(beta_cdf(2.3, 1, x), std::pow(x, 2.3), 1e-13);
    EXPECT_NEAR(beta_cdf(4.4, 9.1, x) + beta_cdf(9.1, 4.4, 1 - x), 1, 1e-13);
    double sum = 0;  // I_x(3, 5) = P(at least 3 of 7)
    for (int k = 3; k <= 7; ++k)
      sum +=
          std::tgamma(8) / std::tgamma(k + 1) / std::tgamma(8 - k) * std::pow(x, k) * std::pow(1 - x, 7 - k);
    EXPECT_NEAR(beta_cdf(3, 5, x), sum, 1e-13);
    EXPECT_NEAR(diagnosis::beta_quantile(3, 5, beta_cdf(3, 5, x)), x, 1e-9);
  }
}

// Against an independent integration of the density.
TEST(FailureRate, TheProbabilityOfBeingAboveIsTheIntegral) {
  const auto r = diagnosis::failure_rate(5, 7, 5, 0.09);
  const double a = 0.9 + 5, b = 9.1 + 2;
  double above = 0, all = 0;
  const int n = 200000;
  for (int i = 0; i < n; ++i) {
    const double x = (i + 0.5) / n, f = std::pow(x, a - 1) * std::pow(1 - x, b - 1);
    all += f;
    above += x > 0.09 ? f : 0;
  }
  EXPECT_NEAR(r.above_usual, above / all, 1e-5);
  EXPECT_TRUE(r.worth_saying);
}

TEST(FailureRate, TwoUnitsAreGossip) {
  EXPECT_FALSE(diagnosis::failure_rate(2, 2, 2, 0.03).worth_saying);
  EXPECT_FALSE(diagnosis::failure_rate(5, 5, 1, 0.03).worth_saying);   // one unit, five times
  EXPECT_FALSE(diagnosis::failure_rate(3, 20, 3, 0.14).worth_saying);  // what is usual
}

// Models whose failures are the usual ones: in few of them is anything said, of any cause. One that fails
// from a cause every other time is mostly noticed.
TEST(FailureRate, ChanceIsRarelySaid) {
  const auto knowledge = *service::load_knowledge();
  std::vector<double> share;
  double total = 0;
  for (const auto& c : knowledge.causes) total += c.id == "sound" ? 0 : c.weight;
  for (const auto& c : knowledge.causes)
    if (c.id != "sound") share.push_back(c.weight / total);
  RandomStream random(5);
  const int models = 2000;
  for (int n : {4, 8, 16, 40}) {
    int said = 0, noticed = 0;
    for (int m = 0; m < models; ++m) {
      std::vector<int> count(share.size(), 0), prone = count;
      for (int i = 0; i < n; ++i) {
        const auto draw = [&] {
          double u = random.uniform();
          std::size_t c = 0;
          while (c + 1 < share.size() && u > share[c]) u -= share[c++];
          return c;
        };
        ++count[draw()];
        ++prone[random.uniform() < 0.5 ? 4 : draw()];
      }
      bool any = false;
      for (std::size_t c = 0; c < share.size(); ++c)
        any |= diagnosis::failure_rate(count[c], n, count[c], share[c]).worth_saying;
      said += any;
      noticed += diagnosis::failure_rate(prone[4], n, prone[4], share[4]).worth_saying;
    }
    std::printf("%d failures: said by chance %.1f %%, a cause of every other noticed %.0f %%\n", n,
                100.0 * said / models, 100.0 * noticed / models);
    EXPECT_LT(said, models * 6 / 100) << n;
    if (n >= 16) {
      EXPECT_GT(noticed, models * 9 / 10) << n;
    }
  }
}

}  // namespace
}  // namespace coldwright::test

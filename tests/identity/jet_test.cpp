// Jets against finite differences and against derivatives known in closed form.
#include "base/jet.hpp"

#include <gtest/gtest.h>

namespace {

using coldwright::Jet;
using coldwright::Jet1;

template <class X, class Y>
auto sample(const X& x, const Y& y) {
  using std::exp;
  using std::log;
  using std::pow;
  using std::sqrt;
  return exp(-(x * y)) * pow(x, 1.7) * log(y + 2.0) / sqrt(x + y) + 3.0 / x - (1.0 - y) / 4.0 + y * 2.0;
}

TEST(Jets, AgreeWithDifferences) {
  const long double h = 1e-4L;
  for (const double x : {0.3, 1.0, 2.7})
    for (const double y : {0.2, 0.9, 4.0}) {
      const auto f = [&](int i, int j) {
        return sample(static_cast<long double>(x) + i * h, static_cast<long double>(y) + j * h);
      };
      const Jet<double> jet = sample(Jet<double>::first(x), Jet<double>::second(y));
      const auto close = [](double ours, long double expected, double tolerance) {
        EXPECT_NEAR(ours, static_cast<double>(expected), tolerance * (1 + std::abs(ours)));
      };
      close(jet.v, f(0, 0), 1e-14);
      close(jet.x, (8 * (f(1, 0) - f(-1, 0)) - (f(2, 0) - f(-2, 0))) / (12 * h), 1e-11);
      close(jet.y, (8 * (f(0, 1) - f(0, -1)) - (f(0, 2) - f(0, -2))) / (12 * h), 1e-11);
      close(jet.xx, (f(1, 0) - 2 * f(0, 0) + f(-1, 0)) / (h * h), 1e-5);
      close(jet.yy, (f(0, 1) - 2 * f(0, 0) + f(0, -1)) / (h * h), 1e-5);
      close(jet.xy, (f(1, 1) - f(1, -1) - f(-1, 1) + f(-1, -1)) / (4 * h * h), 1e-5);
    }
}

TEST(Jets, OfOneVariableMatchJetsOfTwo) {
  const Jet<double> two = sample(Jet<double>::first(0.8), Jet<double>(1.3));
  const Jet1<double> one = sample(Jet1<double>::variable(0.8), Jet1<double>(1.3));
  EXPECT_DOUBLE_EQ(one.v, two.v);
  EXPECT_DOUBLE_EQ(one.d, two.x);
  EXPECT_DOUBLE_EQ(one.dd, two.xx);
}

TEST(Jets, OuterProductIsTheProduct) {
  const double x = 0.7, y = 1.9;
  const Jet<double> direct = exp(Jet<double>::first(x)) * log(Jet<double>::second(y));
  const Jet<double> outer = coldwright::outer(exp(Jet1<double>::variable(x)), log(Jet1<double>::variable(y)));
  EXPECT_DOUBLE_EQ(outer.v, direct.v);
  EXPECT_DOUBLE_EQ(outer.x, direct.x);
  EXPECT_DOUBLE_EQ(outer.y, direct.y);
  EXPECT_DOUBLE_EQ(outer.xx, direct.xx);
  EXPECT_DOUBLE_EQ(outer.xy, direct.xy);
  EXPECT_DOUBLE_EQ(outer.yy, direct.yy);
}

TEST(Jets, NestForHigherOrders) {
  // f = x^3 y^2: d/dx by the outer jet, then the inner one's derivatives of it.
  using Inner = Jet<double>;
  const Inner x = Inner::first(1.5), y = Inner::second(2.0);
  const Jet1<Inner> f = Jet1<Inner>::variable(x) * Jet1<Inner>::variable(x) * Jet1<Inner>::variable(x) *
                        Jet1<Inner>(y * y, Inner(0.0), Inner(0.0));
  EXPECT_DOUBLE_EQ(f.d.v, 3 * 1.5 * 1.5 * 4);
  EXPECT_DOUBLE_EQ(f.d.xx, 6 * 4);
  EXPECT_DOUBLE_EQ(f.d.xy, 6 * 1.5 * 2 * 2);
  EXPECT_DOUBLE_EQ(coldwright::plain(f), 1.5 * 1.5 * 1.5 * 4);
}

}  // namespace

// The residual Helmholtz energy alphar(tau, delta) at one tau, ready for many delta.
//
// Every term of the published equations is A(tau) f(delta). At one tau the power terms that share the same
// decay exp(-g delta^l) add up to one short polynomial in delta, so that a further density costs little,
// however many terms or components stand behind it.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <memory>

#include "base/jet.hpp"
#include "fluids/fluid_data.hpp"
#include "fluids/vector_exp.hpp"

namespace coldwright::fluids {

/// Room for any blend here; check_terms holds the data to it.
inline constexpr std::size_t most_power_terms = 320, most_gaussians = 128, most_decays = 16;
inline constexpr int highest_d = 15, highest_l = 8;

/// Uninitialised room for values of a type that needs no destruction.
template <class S, std::size_t N>
class Scratch {
 public:
  void put(std::size_t i, const S& value) { std::construct_at(&(*this)[i], value); }
  S& operator[](std::size_t i) { return reinterpret_cast<S*>(room_)[i]; }
  const S& operator[](std::size_t i) const { return reinterpret_cast<const S*>(room_)[i]; }

 private:
  alignas(S) std::byte room_[(N + exp_block) * sizeof(S)];  // some beyond, for exp_in_place
};

/// exp of each of n values in place; plain numbers several at a time.
template <std::size_t N, class S>
void exp_each(Scratch<S, N>& x, std::size_t n) {
  using std::exp;
  if (n == 0) return;
  if constexpr (std::is_same_v<S, double>) {
    exp_in_place(&x[0], n);
  } else if constexpr (std::is_same_v<S, Jet1<double>>) {
    Scratch<double, N> plain;
    for (std::size_t i = 0; i < n; ++i) plain.put(i, x[i].v);
    exp_each(plain, n);
    for (std::size_t i = 0; i < n; ++i) x[i] = chain(x[i], plain[i], plain[i], plain[i]);
  } else {
    for (std::size_t i = 0; i < n; ++i) x[i] = exp(x[i]);
  }
}

/// The terms of CO2 and water that no product of A(tau) and f(delta) gives. N is any jet.
template <class N>
N non_analytic_sum(const ResidualPart& part, const N& tau, const N& delta) {
  N sum{};
  for (const NonAnalyticTerm& k : part.non_analytic) {
    const N off = delta - 1.0;
    // At delta = 1 the powers below have no logarithm; a part in 1e20 away they have, and the same value.
    const N squared = off * off + 1e-40;
    const N theta = (1.0 - tau) + k.A * pow(squared, 0.5 / k.beta);
    const N distance = theta * theta + k.B * pow(squared, k.a);
    const N far = tau - 1.0;
    sum = sum + k.n * (delta * pow(distance, k.b) * exp(-(k.C * squared) - k.D * (far * far)));
  }
  return sum;
}

template <class S>
class ResidualAtTau {
 public:
  /// S: a plain number of any width, or a jet in which tau is a variable.
  ResidualAtTau(const ResidualPart& part, const S& tau) : part_(part), tau_(tau) {
    using std::exp;
    using std::log;
    using std::pow;
    const S ln_tau = log(tau);
    const std::size_t powers = part.power.size();
    Scratch<S, most_power_terms> A;
    for (std::size_t i = 0; i < powers; ++i) {
      const PowerTerm& k = part.power[i];
      A.put(i, k.m == 0 ? S(k.t * ln_tau) : S(k.t * ln_tau - exp(k.m * ln_tau)));
    }
    exp_each(A, powers);
    for (std::size_t i = 0; i < powers; ++i) add_power(part.power[i], part.power[i].n * A[i]);
    std::size_t g = 0;
    for (const GaussianTerm& k : part.gaussian) {
      const S off = tau - k.gamma;
      amplitude_.put(g++, k.t * ln_tau - k.beta * (off * off));
    }
    for (const GaoTerm& k : part.gao) {
      const S off = tau - k.gamma;
      amplitude_.put(g++, k.t * ln_tau + 1.0 / (k.beta * (off * off) + k.b));
    }
    exp_each(amplitude_, g);
    g = 0;
    for (const GaussianTerm& k : part.gaussian) scale(g++, k.n);
    for (const GaoTerm& k : part.gao) scale(g++, k.n);
  }

  /// alphar with its first two derivatives in delta; S carries those in tau.
  Jet1<S> at(const S& delta) const {
    return sum_of<S>(
        delta, [](const S& c) -> const S& { return c; }, tau_);
  }

  /// For S = Jet1<double>: alphar along delta alone.
  Jet1<double> along(double delta) const {
    return sum_of<double>(
        delta, [](const S& c) { return c.v; }, tau_.v);
  }

  /// For S = Jet1<double>: alphar with every derivative to second order, tau first, delta second.
  Jet<double> both(double delta) const {
    Shapes<double> shape;
    fill(shape, delta);
    Jet<double> sum;
    for (std::size_t i = 0; i < decays_; ++i) {
      const Decay& group = decay_[i];
      const auto value = horner(group, delta, [](const S& c) { return c.v; });
      const auto slope = horner(group, delta, [](const S& c) { return c.d; });
      const auto curve = horner(group, delta, [](const S& c) { return c.dd; });
      const Jet<double> polynomial(value.v, slope.v, value.d, curve.v, slope.d, value.dd);
      const Jet1<double>& e = shape[i];
      sum += group.l == 0 ? polynomial : polynomial * Jet<double>(e.v, 0, e.d, 0, 0, e.dd);
    }
    for (std::size_t g = 0; g < bells(); ++g) sum += outer(amplitude_[g], shape[decays_ + g]);
    if (!part_.non_analytic.empty())
      sum += non_analytic_sum(part_, Jet<double>::first(tau_.v), Jet<double>::second(delta));
    return sum;
  }

 private:
  /// sum of c[d] delta^d, times exp(-g delta^l) where l > 0.
  struct Decay {
    int l = 0, degree = 0;
    double g = 1;
    Scratch<S, highest_d + 1> c;
  };

  void add_power(const PowerTerm& k, const S& amplitude) {
    if (decays_ == 0 || decay_[decays_ - 1].l != k.l || decay_[decays_ - 1].g != k.g) {
      Decay& fresh = decay_[decays_++];
      fresh.l = k.l;
      fresh.g = k.g;
      fresh.degree = -1;
    }
    Decay& group = decay_[decays_ - 1];
    while (group.degree < k.d) group.c.put(static_cast<std::size_t>(++group.degree), S(0.0));
    S& c = group.c[static_cast<std::size_t>(k.d)];
    c = c + amplitude;
  }

  void scale(std::size_t g, double n) { amplitude_[g] = n * amplitude_[g]; }

  template <class D, class Of>
  static Jet1<D> horner(const Decay& group, const D& delta, Of&& of) {
    D v = of(group.c[static_cast<std::size_t>(group.degree)]), d(0.0), half(0.0);
    for (int i = group.degree - 1; i >= 0; --i) {
      half = half * delta + d;
      d = d * delta + v;
      v = v * delta + of(group.c[static_cast<std::size_t>(i)]);
    }
    return {v, d, half + half};
  }

  /// At one delta: first each decay exp(-g delta^l), then each bell delta^d exp(-eta (delta - epsilon)^2).
  template <class D>
  using Shapes = Scratch<Jet1<D>, most_decays + most_gaussians>;

  std::size_t bells() const { return part_.gaussian.size() + part_.gao.size(); }

  template <class D>
  void fill(Shapes<D>& shape, const D& delta) const {
    const Jet1<D> x = Jet1<D>::variable(delta);
    std::size_t n = 0;
    Jet1<D> power = x;
    for (int l = 1; n < decays_; ++n) {
      for (; l < decay_[n].l; ++l) power = power * x;
      shape.put(n, decay_[n].l == 0 ? Jet1<D>(0.0) : -(decay_[n].g * power));
    }
    if (bells() > 0) {
      const Jet1<D> ln = log(x);
      const auto bell = [&](int d, double eta, double epsilon) {
        const D off = delta - epsilon;
        shape.put(n++, d * ln - eta * Jet1<D>(off * off, off + off, D(2.0)));
      };
      for (const GaussianTerm& k : part_.gaussian) bell(k.d, k.eta, k.epsilon);
      for (const GaoTerm& k : part_.gao) bell(k.d, k.eta, k.epsilon);
    }
    exp_each(shape, n);
  }

  /// The whole sum at one delta, with `of` taking from each amplitude what the caller wants of it.
  template <class D, class Of>
  Jet1<D> sum_of(const D& delta, Of&& of, const D& tau) const {
    Shapes<D> shape;
    fill(shape, delta);
    Jet1<D> sum;
    for (std::size_t i = 0; i < decays_; ++i) {
      const Jet1<D> polynomial = horner(decay_[i], delta, of);
      sum = sum + (decay_[i].l == 0 ? polynomial : polynomial * shape[i]);
    }
    for (std::size_t g = 0; g < bells(); ++g) sum = sum + of(amplitude_[g]) * shape[decays_ + g];
    if (!part_.non_analytic.empty())
      sum = sum + non_analytic_sum(part_, Jet1<D>(tau, D(0.0), D(0.0)), Jet1<D>::variable(delta));
    return sum;
  }

  const ResidualPart& part_;
  S tau_;
  std::array<Decay, most_decays> decay_;
  std::size_t decays_ = 0;
  Scratch<S, most_gaussians> amplitude_;
};

}  // namespace coldwright::fluids

// Numbers that carry their derivatives: Jet for functions of two variables, Jet1 for one, both to
// second order. A formula written once as a template then gives all its derivatives exactly, with
// no derivative written by hand. They nest (Jet1<Jet<double>>) when a higher order is needed.
#pragma once

#include <cmath>
#include <type_traits>

namespace coldwright {

/// Specialise for a number type of a library (a wider float) to let jets carry it.
template <class A>
inline constexpr bool is_plain_number = std::is_arithmetic_v<A>;
template <class A>
concept Plain = is_plain_number<A>;

/// f(x, y) with its five derivatives. Cost: about 15 multiplications for a product.
template <class S>
struct Jet {
  S v{}, x{}, y{}, xx{}, xy{}, yy{};

  Jet() = default;
  template <Plain A>
  Jet(A value) : v(static_cast<S>(value)) {}  // NOLINT: a constant is a jet without slope
  Jet(S value, S dx, S dy, S dxx, S dxy, S dyy) : v(value), x(dx), y(dy), xx(dxx), xy(dxy), yy(dyy) {}

  static Jet first(S value) { return {value, S(1), S(0), S(0), S(0), S(0)}; }
  static Jet second(S value) { return {value, S(0), S(1), S(0), S(0), S(0)}; }
};

/// f(x) with f' and f''.
template <class S>
struct Jet1 {
  S v{}, d{}, dd{};

  Jet1() = default;
  template <Plain A>
  Jet1(A value) : v(static_cast<S>(value)) {}  // NOLINT: a constant is a jet without slope
  Jet1(S value, S slope, S curve) : v(value), d(slope), dd(curve) {}

  static Jet1 variable(S value) { return {value, S(1), S(0)}; }
};

// ---- Jet ----------------------------------------------------------------------------------------

template <class S>
Jet<S> operator-(const Jet<S>& a) {
  return {-a.v, -a.x, -a.y, -a.xx, -a.xy, -a.yy};
}
template <class S>
Jet<S> operator+(const Jet<S>& a, const Jet<S>& b) {
  return {a.v + b.v, a.x + b.x, a.y + b.y, a.xx + b.xx, a.xy + b.xy, a.yy + b.yy};
}
template <class S>
Jet<S> operator-(const Jet<S>& a, const Jet<S>& b) {
  return {a.v - b.v, a.x - b.x, a.y - b.y, a.xx - b.xx, a.xy - b.xy, a.yy - b.yy};
}
template <class S>
Jet<S> operator*(const Jet<S>& a, const Jet<S>& b) {
  return {a.v * b.v,
          a.x * b.v + a.v * b.x,
          a.y * b.v + a.v * b.y,
          a.xx * b.v + (a.x * b.x + a.x * b.x) + a.v * b.xx,
          a.xy * b.v + a.x * b.y + a.y * b.x + a.v * b.xy,
          a.yy * b.v + (a.y * b.y + a.y * b.y) + a.v * b.yy};
}
template <class S, Plain A>
Jet<S> operator*(A c, const Jet<S>& a) {
  const S k = static_cast<S>(c);
  return {k * a.v, k * a.x, k * a.y, k * a.xx, k * a.xy, k * a.yy};
}
template <class S, Plain A>
Jet<S> operator+(A c, const Jet<S>& a) {
  return {static_cast<S>(c) + a.v, a.x, a.y, a.xx, a.xy, a.yy};
}

/// g(f) from g, g', g'' at f.
template <class S>
Jet<S> chain(const Jet<S>& f, S g, S g1, S g2) {
  return {g,
          g1 * f.x,
          g1 * f.y,
          g1 * f.xx + g2 * f.x * f.x,
          g1 * f.xy + g2 * f.x * f.y,
          g1 * f.yy + g2 * f.y * f.y};
}

// ---- Jet1 ---------------------------------------------------------------------------------------

template <class S>
Jet1<S> operator-(const Jet1<S>& a) {
  return {-a.v, -a.d, -a.dd};
}
template <class S>
Jet1<S> operator+(const Jet1<S>& a, const Jet1<S>& b) {
  return {a.v + b.v, a.d + b.d, a.dd + b.dd};
}
template <class S>
Jet1<S> operator-(const Jet1<S>& a, const Jet1<S>& b) {
  return {a.v - b.v, a.d - b.d, a.dd - b.dd};
}
template <class S>
Jet1<S> operator*(const Jet1<S>& a, const Jet1<S>& b) {
  return {a.v * b.v, a.d * b.v + a.v * b.d, a.dd * b.v + (a.d * b.d + a.d * b.d) + a.v * b.dd};
}
template <class S, Plain A>
Jet1<S> operator*(A c, const Jet1<S>& a) {
  const S k = static_cast<S>(c);
  return {k * a.v, k * a.d, k * a.dd};
}
template <class S, Plain A>
Jet1<S> operator+(A c, const Jet1<S>& a) {
  return {static_cast<S>(c) + a.v, a.d, a.dd};
}
template <class S>
Jet1<S> chain(const Jet1<S>& f, S g, S g1, S g2) {
  return {g, g1 * f.d, g1 * f.dd + g2 * f.d * f.d};
}

/// A constant that is itself a jet (of other variables) times a jet.
template <class S>
requires(!Plain<S>) Jet1<S>
operator*(const S& c, const Jet1<S>& a) { return {c * a.v, c * a.d, c * a.dd}; }
/// f(x) g(y) from each one's own jet.
template <class S>
Jet<S> outer(const Jet1<S>& f, const Jet1<S>& g) {
  return {f.v * g.v, f.d * g.v, f.v * g.d, f.dd * g.v, f.d * g.d, f.v * g.dd};
}

// ---- both ---------------------------------------------------------------------------------------

template <class T>
struct IsJet : std::false_type {};
template <class S>
struct IsJet<Jet<S>> : std::true_type {};
template <class S>
struct IsJet<Jet1<S>> : std::true_type {};
template <class T>
concept AnyJet = IsJet<T>::value;

template <AnyJet J, Plain A>
J operator*(const J& a, A c) {
  return c * a;
}
template <AnyJet J, Plain A>
J operator+(const J& a, A c) {
  return c + a;
}
template <AnyJet J, Plain A>
J operator-(const J& a, A c) {
  return (-c) + a;
}
template <AnyJet J, Plain A>
J operator-(A c, const J& a) {
  return c + (-a);
}
template <AnyJet J>
J& operator+=(J& a, const J& b) {
  return a = a + b;
}

template <AnyJet J>
J exp(const J& f) {
  using std::exp;
  const auto e = exp(f.v);
  return chain(f, e, e, e);
}
template <Plain A>
A reciprocal(A a) {
  return A(1) / a;
}
template <AnyJet J>
J reciprocal(const J& f) {
  const auto r = reciprocal(f.v);
  const auto r2 = r * r;
  return chain(f, r, -r2, 2 * r2 * r);
}
template <AnyJet J>
J log(const J& f) {
  using std::log;
  const auto r = reciprocal(f.v);
  return chain(f, log(f.v), r, -(r * r));
}
template <AnyJet J>
J sqrt(const J& f) {
  using std::sqrt;
  const auto root = sqrt(f.v);
  const auto g1 = 0.5 * reciprocal(root);
  return chain(f, root, g1, -(0.5 * (g1 * reciprocal(f.v))));
}
/// f to a constant power; f > 0.
template <AnyJet J, Plain A>
J pow(const J& f, A power) {
  return exp(static_cast<double>(power) * log(f));
}
template <AnyJet J>
J operator/(const J& a, const J& b) {
  return a * reciprocal(b);
}
template <AnyJet J, Plain A>
J operator/(A c, const J& b) {
  return c * reciprocal(b);
}
template <AnyJet J, Plain A>
J operator/(const J& a, A c) {
  return (A(1) / c) * a;
}

/// The plain number underneath a jet (or a jet of jets).
template <Plain A>
A plain(A a) {
  return a;
}
template <AnyJet J>
auto plain(const J& a) {
  return plain(a.v);
}

}  // namespace coldwright

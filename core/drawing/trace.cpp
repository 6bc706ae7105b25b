#include "drawing/trace.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::drawing {
namespace {

constexpr int kFirst = 8;    // pieces to begin with, so that no bend hides between two points
constexpr int kDeepest = 6;  // halvings of each

struct Follow {
  const Curve& curve;
  const Projection& shown;
  double tolerance;
  std::vector<Line> pieces{};
  bool broken = true;  // the next point starts a piece

  std::optional<Place> at(double u) const {
    const auto sample = curve(u);
    if (!sample) return std::nullopt;
    const Place place = shown(*sample);
    if (!std::isfinite(place.x) || !std::isfinite(place.y)) return std::nullopt;
    return place;
  }

  void add(Place place) {
    if (broken) pieces.emplace_back();
    broken = false;
    pieces.back().push_back(place);
  }

  bool straight(Place a, Place m, Place b) const {
    const double x = b.x - a.x, y = b.y - a.y, length = std::hypot(x, y);
    if (length < 1e-9) return std::hypot(m.x - a.x, m.y - a.y) < tolerance;
    return std::abs(x * (m.y - a.y) - y * (m.x - a.x)) / length < tolerance;
  }

  /// The last parameter towards `missing` where the curve still is.
  void edge(double there, double missing, bool leaving) {
    for (int i = 0; i < 16; ++i) {
      const double middle = (there + missing) / 2;
      (at(middle) ? there : missing) = middle;
    }
    if (const auto place = at(there)) add(*place);
    if (leaving) broken = true;
  }

  void between(double u, std::optional<Place> a, double v, std::optional<Place> b, int depth) {
    if (!a && !b) return;
    if (a && !b) return edge(u, v, true);
    if (!a) {
      edge(v, u, false);
      add(*b);
      return;
    }
    const double w = (u + v) / 2;
    const auto m = at(w);
    if (!m || (depth < kDeepest && !straight(*a, *m, *b))) {
      if (depth >= kDeepest) {
        broken = true;
        return add(*b);
      }
      between(u, a, w, m, depth + 1);
      between(w, m, v, b, depth + 1);
      return;
    }
    add(*b);
  }
};

}  // namespace

std::vector<Line> trace(const Curve& curve, double from, double to, const Projection& shown,
                        double tolerance) {
  Follow follow{curve, shown, tolerance};
  double u = from;
  auto a = follow.at(u);
  if (a) follow.add(*a);
  for (int i = 1; i <= kFirst; ++i) {
    const double v = i == kFirst ? to : from + (to - from) * i / kFirst;
    const auto b = follow.at(v);
    follow.between(u, a, v, b, 0);
    u = v;
    a = b;
  }
  std::erase_if(follow.pieces, [](const Line& piece) { return piece.size() < 2; });
  return follow.pieces;
}

}  // namespace coldwright::drawing

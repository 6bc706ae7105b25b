#include "drawing/labels.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace coldwright::drawing {
namespace {

/// Turned words as squares strung along their direction.
std::vector<Box> boxes_of(const Label& label, double width, double height) {
  const double angle = label.degrees * std::numbers::pi / 180;
  const double half = height / 2, reach = std::max(0.0, width / 2 - half);
  const int steps = std::max(1, static_cast<int>(std::ceil(2 * reach / half)));
  std::vector<Box> out;
  for (int i = 0; i <= steps; ++i) {
    const double along_it = reach * (2.0 * i / steps - 1);
    const double x = label.centre.x + along_it * std::cos(angle),
                 y = label.centre.y + along_it * std::sin(angle);
    out.push_back({x - half, y - half, x + half, y + half});
  }
  return out;
}

}  // namespace

void LabelRoom::take(const Line& line, double half_width) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    const Place a = line[i - 1], b = line[i];
    const int steps = std::max(1, static_cast<int>(std::hypot(b.x - a.x, b.y - a.y) / (2 * half_width)));
    for (int k = 0; k <= steps; ++k) {
      const double x = a.x + (b.x - a.x) * k / steps, y = a.y + (b.y - a.y) * k / steps;
      take(Box{x - half_width, y - half_width, x + half_width, y + half_width});
    }
  }
}

bool LabelRoom::is_free(const std::vector<Box>& boxes) const {
  return std::all_of(boxes.begin(), boxes.end(), [&](const Box& box) {
    if (box.left < within_.left || box.right > within_.right || box.top < within_.top ||
        box.bottom > within_.bottom)
      return false;
    return std::none_of(taken_.begin(), taken_.end(), [&](const Box& other) {
      return box.left < other.right && other.left < box.right && box.top < other.bottom &&
             other.top < box.bottom;
    });
  });
}

std::optional<Label> LabelRoom::settle(std::string_view words, double size,
                                       const std::vector<Label>& places) {
  for (const Label& place : places) {
    const auto boxes = boxes_of(place, text_width(words, size) + 2, size);
    if (!is_free(boxes)) continue;
    taken_.insert(taken_.end(), boxes.begin(), boxes.end());
    return place;
  }
  return std::nullopt;
}

std::vector<Label> along(const Line& line, double share) {
  std::vector<double> lengths = {0};
  for (std::size_t i = 1; i < line.size(); ++i)
    lengths.push_back(lengths.back() + std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y));
  std::vector<Label> out;
  if (line.size() < 2 || lengths.back() < 30) return out;
  std::vector<double> shares;
  for (double s = 0.06; s < 0.95; s += 0.04) shares.push_back(s);
  std::sort(shares.begin(), shares.end(),
            [&](double a, double b) { return std::abs(a - share) < std::abs(b - share); });
  for (const double s : shares) {
    const double want = s * lengths.back();
    const auto end = std::upper_bound(lengths.begin(), lengths.end(), want);
    const auto i =
        static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(end - lengths.begin(), 1, std::ssize(line) - 1));
    const Place a = line[i - 1], b = line[i];
    const double piece = std::max(lengths[i] - lengths[i - 1], 1e-9), t = (want - lengths[i - 1]) / piece;
    double degrees = std::atan2(b.y - a.y, b.x - a.x) * 180 / std::numbers::pi;
    if (degrees > 90) degrees -= 180;
    if (degrees <= -90) degrees += 180;
    out.push_back({{a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)}, degrees});
  }
  return out;
}

std::vector<Label> around(Place point, double radius, double width, double height, Place towards) {
  const double x = radius + width / 2, y = radius + height / 2;
  std::vector<Place> ways = {{1, -0.6}, {-1, -0.6}, {1, 0.6}, {-1, 0.6}, {0, -1}, {0, 1}, {1, 0}, {-1, 0}};
  const auto fit = [&](Place way) {
    return (way.x * towards.x + way.y * towards.y) / std::hypot(way.x, way.y);
  };
  std::stable_sort(ways.begin(), ways.end(), [&](Place a, Place b) { return fit(a) > fit(b); });
  std::vector<Label> out;
  for (const double far : {1.0, 1.5, 2.2, 3.0})
    for (const Place& way : ways) out.push_back({{point.x + far * way.x * x, point.y + far * way.y * y}, 0});
  return out;
}

}  // namespace coldwright::drawing

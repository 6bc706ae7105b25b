// Where words may stand: what is taken, and the first of several places that is still free.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "drawing/svg.hpp"

namespace coldwright::drawing {

struct Box {
  double left = 0, top = 0, right = 0, bottom = 0;
};

/// Words centred at a place and turned by an angle.
struct Label {
  Place centre;
  double degrees = 0;
};

class LabelRoom {
 public:
  explicit LabelRoom(Box within) : within_(within) {}

  void take(Box box) { taken_.push_back(box); }
  /// A line or a curve that no words should cross.
  void take(const Line& line, double half_width);
  /// Takes the first of the places where words of this size stand free and inside; none when there is none.
  std::optional<Label> settle(std::string_view words, double size, const std::vector<Label>& places);

 private:
  bool is_free(const std::vector<Box>& boxes) const;
  Box within_;
  std::vector<Box> taken_;
};

/// Places along a line, nearest to `share` (0..1 of its length) first, turned as the line runs there.
std::vector<Label> along(const Line& line, double share);
/// Places around a point, clear of its mark's radius by the size of the words; on each ring those towards the
/// given direction first.
std::vector<Label> around(Place point, double radius, double width, double height, Place towards);

}  // namespace coldwright::drawing

// A curve followed finely where it bends and coarsely where it is straight.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "drawing/svg.hpp"

namespace coldwright::drawing {

/// One place on a refrigerant's surface, as either diagram needs it. SI, absolute pressure.
struct Sample {
  double p = 0, T = 0, h = 0;
};

/// Where the curve is at this parameter; none where it doesn't exist.
using Curve = std::function<std::optional<Sample>(double)>;
/// Where a diagram shows it.
using Projection = std::function<Place(const Sample&)>;

/// The curve between two parameters as pieces, each so fine that the chord between two of its points lies
/// within `tolerance` drawing units of it. A part where there is no curve separates two pieces, and its edge
/// is found by halving. At most some 500 evaluations.
std::vector<Line> trace(const Curve& curve, double from, double to, const Projection& shown,
                        double tolerance = 0.12);

}  // namespace coldwright::drawing

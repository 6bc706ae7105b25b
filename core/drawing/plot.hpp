// What both diagrams share: the frame with its axes, the range of pressure, the cycle and the marks on top.
// Kept to drawing/.
#pragma once

#include <string>

#include "drawing/axis.hpp"
#include "drawing/chart.hpp"
#include "drawing/labels.hpp"
#include "drawing/theme.hpp"

namespace coldwright::drawing {

/// How the pressure axis runs: from well below the low side to above the critical point.
struct PressureRange {
  double low = 0, high = 0;
};
PressureRange pressure_range(const Chart& chart);

class Plot {
 public:
  /// `name` is "enthalpy" or "temperature"; x is that, y the pressure. `top` is the frame's upper edge.
  Plot(Svg& svg, const Chart& chart, std::string_view name, Axis x, Axis y);

  Projection projection() const;
  Place place(const Sample& sample) const { return projection()(sample); }
  LabelRoom& room() { return room_; }
  const Axis& x() const { return x_; }
  const Axis& y() const { return y_; }

  /// Frame, grid and ticks; everything after it is clipped to the frame until finish().
  void begin(base::Dimension x_dimension, std::string_view x_title);
  void lines(const std::vector<Line>& pieces, std::string_view css);
  /// Keeps words off these lines.
  void keep_clear(const std::vector<Line>& pieces, double half_width = 2);
  /// Words on a line, where there is room; remembered and written above all lines by finish().
  void word_on(const Line& line, double share, std::string_view words, std::string_view css);
  void word_at(const std::vector<Label>& places, std::string_view words, std::string_view css, double size);
  /// The shapes of cycles and marks, into a text of its own: they stand above all lines, while what stands
  /// near them has to know of them before.
  void machine_shapes(Svg& svg);
  /// Their numbers and letters.
  void machine_words();
  void finish();

 private:
  struct Words {
    Label label;
    std::string text, css;
    double size;
  };
  bool shows(const Mark& mark) const;
  Svg& svg_;
  const Chart& chart_;
  std::string name_;
  Axis x_, y_;
  LabelRoom room_;
  std::vector<Words> words_;
};

/// The two diagrams, drawn with their upper edge at `top`; each gives its lower edge.
double pressure_enthalpy(Svg& svg, const Chart& chart, double top);
double pressure_temperature(Svg& svg, const Chart& chart, double top);

}  // namespace coldwright::drawing

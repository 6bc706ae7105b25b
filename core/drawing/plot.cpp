#include "drawing/plot.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace coldwright::drawing {
namespace {

/// "low high start end", the axis as a reader of the file needs it.
std::string axis_text(const Axis& axis) {
  return fmt::format("{:.8g} {:.8g} {:.8g} {:.8g}", axis.low, axis.high, axis.start, axis.end);
}

}  // namespace

PressureRange pressure_range(const Chart& chart) {
  const fluids::Limits& limits = chart.fluid->limits();
  // From what a freezer evaporates at, but no more of the axis than one can read a gauge's value from.
  const double T_usual = std::max(std::min(0.66 * limits.T_crit, 253.15), limits.T_min * 1.001);
  const auto usual = chart.fluid->dew_pressure(T_usual);
  PressureRange range{std::max(usual ? *usual : 0, limits.p_crit / 400), 1.35 * limits.p_crit};
  const auto hold = [&](double p) {
    range.low = std::min(range.low, 0.55 * p);
    range.high = std::max(range.high, 1.2 * p);
  };
  for (const DrawnCycle& drawn : chart.cycles) {
    hold(drawn.cycle.compressor_in.p);
    hold(drawn.cycle.liquid.p);
  }
  for (const Mark& mark : chart.marks) hold(mark.at.p);
  // The lines themselves begin somewhere.
  if (const auto lowest = chart.fluid->bubble_pressure(limits.T_min * 1.0001))
    range.low = std::max(range.low, *lowest);
  return range;
}

Plot::Plot(Svg& svg, const Chart& chart, std::string_view name, Axis x, Axis y)
    : svg_(svg),
      chart_(chart),
      name_(name),
      x_(x),
      y_(y),
      room_({x.start + 2, y.end + 2, x.end - 2, y.start - 2}) {}

Projection Plot::projection() const {
  const bool enthalpy = name_ == "enthalpy";
  return [x = x_, y = y_, enthalpy](const Sample& s) {
    return Place{x.place(enthalpy ? s.h : s.T), y.place(s.p)};
  };
}

void Plot::begin(base::Dimension x_dimension, std::string_view x_title) {
  const std::string left = number(x_.start), top = number(y_.end), width = number(x_.end - x_.start),
                    height = number(y_.start - y_.end);
  svg_.open(
      "g",
      {{"class", "diagram"}, {"data-diagram", name_}, {"data-x", axis_text(x_)}, {"data-y", axis_text(y_)}});
  svg_.open("clipPath", {{"id", "in-" + name_}});
  svg_.leaf("rect", {{"x", left}, {"y", top}, {"width", width}, {"height", height}});
  svg_.close();
  svg_.leaf("rect", {{"class", "plot"}, {"x", left}, {"y", top}, {"width", width}, {"height", height}});
  for (const Tick& tick : pressure_ticks(y_, chart_.display, 15)) {
    const double at = y_.place(tick.value);
    svg_.path({{x_.start, at}, {x_.end, at}}, "grid");
    svg_.text({x_.start - 4, at + 3.3}, tick.text, "tick", Anchor::end);
  }
  for (const Tick& tick : even_ticks(x_, x_dimension, chart_.display, 44)) {
    const double at = x_.place(tick.value);
    svg_.path({{at, y_.end}, {at, y_.start}}, "grid");
    if (at > x_.start + 6 && at + text_width(tick.text, small_size) / 2 < x_.end + 8)
      svg_.text({at, y_.start + 12}, tick.text, "tick", Anchor::middle);
  }
  svg_.text({12, y_.end - 6},
            chart_.word("pressure") + ", " + unit_of(base::Dimension::pressure, chart_.display), "unit");
  svg_.text({x_.end, y_.start + 25}, std::string(x_title) + ", " + unit_of(x_dimension, chart_.display),
            "unit", Anchor::end);
  svg_.open("g", {{"clip-path", "url(#in-" + name_ + ")"}});
}

void Plot::lines(const std::vector<Line>& pieces, std::string_view css) {
  for (const Line& piece : pieces) svg_.path(piece, css);
}

void Plot::keep_clear(const std::vector<Line>& pieces, double half_width) {
  for (const Line& piece : pieces) room_.take(piece, half_width);
}

void Plot::word_on(const Line& line, double share, std::string_view words, std::string_view css) {
  word_at(along(line, share), words, css, 9);
}

void Plot::word_at(const std::vector<Label>& places, std::string_view words, std::string_view css,
                   double size) {
  const double bold = css == "over" ? 1.1 : 1;  // what bold letters are wider
  if (const auto label = room_.settle(words, size * bold, places))
    words_.push_back({*label, std::string(words), std::string(css), size});
}

bool Plot::shows(const Mark& mark) const { return mark.single || name_ == "temperature"; }

void Plot::machine_shapes(Svg& svg) {
  for (const DrawnCycle& drawn : chart_.cycles) {
    Line line;
    for (const Sample& sample : drawn.cycle.way) line.push_back(place(sample));
    svg.path(line, "way-" + std::string(css_of(drawn.role)), false);
    room_.take(line, 2);
    for (const auto& [name, state] : corners(drawn.cycle)) {
      const Place at = place({state->p, state->T, state->h});
      corner_shape(svg, at, drawn.role);
      room_.take(Box{at.x - 4, at.y - 4, at.x + 4, at.y + 4});
    }
  }
  for (const Mark& mark : chart_.marks) {
    if (!shows(mark)) continue;
    const Place at = place(mark.at);
    room_.take(Box{at.x - 5.5, at.y - 5.5, at.x + 5.5, at.y + 5.5});
    mark_shape(svg, at, mark.against);
  }
}

void Plot::machine_words() {
  const auto beside = [&](Place at, double radius, const std::string& name, Place towards) {
    word_at(around(at, radius, text_width(name, text_size), text_size, towards), name, "over", text_size);
  };
  // Outwards: the cycle turns right at the compressor, left at the condenser's end.
  constexpr Place outwards[] = {{1, 0.4}, {1, -0.8}, {-1, -0.8}, {-1, 0.6}};
  std::size_t i = 0;
  if (!chart_.cycles.empty())
    for (const auto& [key, state] : corners(chart_.cycles.back().cycle)) {
      beside(place({state->p, state->T, state->h}), 5, std::to_string(i + 1), outwards[i]);
      ++i;
    }
  char letter = 'a';
  for (const Mark& mark : chart_.marks) {
    const std::string name(1, letter++);
    if (shows(mark)) beside(place(mark.at), 6.5, name, {0, -1});
  }
}

void Plot::finish() {
  svg_.close();
  for (const Words& w : words_) {
    // Lowered by a third of the size, across the direction of the words, so that they sit on their centre.
    const double angle = w.label.degrees * 3.14159265358979 / 180, down = 0.35 * w.size;
    svg_.text({w.label.centre.x - down * std::sin(angle), w.label.centre.y + down * std::cos(angle)}, w.text,
              w.css, Anchor::middle, w.label.degrees);
  }
  svg_.close();
}

}  // namespace coldwright::drawing

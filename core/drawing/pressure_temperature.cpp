// Pressure (logarithmic) against temperature: the line a gauge and a thermometer are compared on. Superheat
// and subcooling are how far a state stands beside it.
#include <algorithm>
#include <cmath>

#include "drawing/plot.hpp"

namespace coldwright::drawing {
namespace {

using base::Dimension;
using fluids::Fluid;

constexpr double kTemperatureHeight = 250;

double T_top(const Fluid& fluid) {
  return fluid.is_blend() ? fluid.T_two_phase_max() : fluid.limits().T_crit;
}

std::vector<Line> saturation(const Fluid& fluid, double T_low, bool bubble, const Projection& shown) {
  const Curve curve = [&](double T) -> std::optional<Sample> {
    const auto p = bubble ? fluid.bubble_pressure(T) : fluid.dew_pressure(T);
    return p ? std::optional(Sample{*p, T, 0}) : std::nullopt;
  };
  return trace(curve, T_low, T_top(fluid), shown, 0.06);
}

Axis temperature_axis(const Chart& chart, double T_low) {
  double low = T_low, high = chart.fluid->limits().T_crit;
  const auto hold = [&](double T) {
    low = std::min(low, T);
    high = std::max(high, T);
  };
  for (const DrawnCycle& drawn : chart.cycles)
    for (const Sample& sample : drawn.cycle.way) hold(sample.T);
  for (const Mark& mark : chart.marks) hold(mark.at.T);
  const double margin = 0.05 * (high - low);
  return {low - margin, high + margin, 50, width_of(chart) - 12, false};
}

/// A bar between two temperatures at one pressure, with its length in words.
void span(Plot& plot, Svg& svg, double p, double T_from, double T_to, const std::string& words,
          double below) {
  const double y = plot.y().place(p) + below, x0 = plot.x().place(T_from), x1 = plot.x().place(T_to);
  const double middle = (x0 + x1) / 2, half = text_width(words, 1.1 * text_size) / 2;
  for (const double x : {x0, x1}) svg.path({{x, y - 3}, {x, y + 3}}, "brace");
  svg.path({{x0, y}, {x1, y}}, "brace");
  plot.keep_clear({{{x0, y}, {x1, y}}});
  const double side = below > 0 ? 9 : -9;
  const double right = std::max(x0, x1) + half + 8, left = std::min(x0, x1) - half - 6;
  plot.word_at({{{middle, y + side}},
                {{right, y}},
                {{left, y}},
                {{right, y + side}},
                {{left, y + side}},
                {{middle, y + 2 * side}},
                {{right, y + 2 * side}},
                {{left, y + 2 * side}}},
               words, "over", text_size);
}

void superheat_and_subcooling(Plot& plot, Svg& svg, const Chart& chart) {
  if (chart.cycles.empty()) return;
  const Cycle& c = chart.cycles.back().cycle;
  const auto text = [&](double kelvin) {
    return base::show(Dimension::temperature_difference, kelvin, chart.display).text();
  };
  const auto dew = chart.fluid->dew_temperature(c.compressor_in.p);
  const auto bubble = chart.fluid->bubble_temperature(c.liquid.p);
  if (dew && c.compressor_in.T - *dew > 0.05)
    span(plot, svg, c.compressor_in.p, *dew, c.compressor_in.T,
         chart.word("superheat") + " " + text(c.compressor_in.T - *dew), 14);
  if (bubble && *bubble - c.liquid.T > 0.05)
    span(plot, svg, c.liquid.p, c.liquid.T, *bubble,
         chart.word("subcooling") + " " + text(*bubble - c.liquid.T), -14);
}

void glide(Plot& plot, Svg& svg, const Chart& chart) {
  if (!chart.fluid->is_blend()) return;
  const double p = std::sqrt(plot.y().low * plot.y().high);
  const auto bubble = chart.fluid->bubble_temperature(p), dew = chart.fluid->dew_temperature(p);
  if (!bubble || !dew) return;
  span(plot, svg, p, *bubble, *dew,
       chart.word("glide") + " " +
           base::show(Dimension::temperature_difference, *dew - *bubble, chart.display).text(),
       0);
}

}  // namespace

double pressure_temperature(Svg& svg, const Chart& chart, double top) {
  const Fluid& fluid = *chart.fluid;
  const PressureRange p = pressure_range(chart);
  const double T_low = fluid.bubble_temperature(p.low * (1 + 1e-9)).has_value()
                           ? fluid.bubble_temperature(p.low * (1 + 1e-9)).value()
                           : fluid.limits().T_min;
  Plot plot(svg, chart, "temperature", temperature_axis(chart, T_low),
            {p.low, p.high, top + kTemperatureHeight, top, true});
  plot.begin(Dimension::temperature, chart.word("temperature"));
  const bool blend = fluid.is_blend();
  const auto bubble = saturation(fluid, T_low, true, plot.projection());
  const auto dew = saturation(fluid, T_low, false, plot.projection());
  plot.keep_clear(bubble);
  plot.keep_clear(dew);
  plot.lines(bubble, "bubble");
  if (blend) plot.lines(dew, "dew blend");
  Svg above;
  plot.machine_shapes(above);
  superheat_and_subcooling(plot, above, chart);
  plot.machine_words();
  glide(plot, above, chart);
  svg.raw(above.str());
  const double left = plot.x().start, right = plot.x().end, width = right - left;
  plot.word_at({{{left + 0.13 * width, top + 0.12 * kTemperatureHeight}},
                {{left + 0.2 * width, top + 0.3 * kTemperatureHeight}}},
               chart.word("liquid"), "sub fine", 11);
  plot.word_at({{{left + 0.87 * width, top + 0.9 * kTemperatureHeight}},
                {{left + 0.8 * width, top + 0.8 * kTemperatureHeight}}},
               chart.word("vapour"), "sub fine", 11);
  plot.finish();
  return top + kTemperatureHeight + 30;
}

}  // namespace coldwright::drawing

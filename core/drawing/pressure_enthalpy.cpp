// Pressure (logarithmic) against enthalpy: the dome of saturation, lines of constant temperature, entropy and
// vapour share, and what the machine does.
#include <algorithm>
#include <cmath>

#include "drawing/plot.hpp"

namespace coldwright::drawing {
namespace {

using base::Dimension;
using fluids::Fluid;

constexpr double kEnthalpyHeight = 300;
constexpr double kBeside = 1e-7;  // relative: clear of saturation, where (T, p) names no single state

std::optional<Sample> taken(const Result<fluids::State>& state) {
  return state ? std::optional(sample(*state)) : std::nullopt;
}

/// Of a blend the top of the two-phase region isn't followed to its very end.
double T_dome(const Fluid& fluid) {
  return fluid.is_blend() ? fluid.T_two_phase_max() : fluid.limits().T_crit * (1 - 1e-6);
}

struct Scene {
  const Chart& chart;
  const Fluid& fluid;
  PressureRange p;
  double T_bubble, T_dew;  // at the lowest pressure shown
  double h_low, h_high;    // shown
  double h_top = 0;        // of the top of the dome
  double s_low = 0, s_high = 0;
};

Scene scene_of(const Chart& chart) {
  const Fluid& fluid = *chart.fluid;
  Scene scene{chart, fluid, pressure_range(chart), 0, 0, 0, 0};
  const auto bottom = fluid.saturation_at_p(scene.p.low * (1 + 1e-9));
  const auto top = fluid.saturation_at_T(T_dome(fluid));
  if (!bottom || !top) return scene;
  scene.T_bubble = bottom->liquid.T;
  scene.T_dew = bottom->vapour.T;
  scene.h_top = top->liquid.h;
  double left = bottom->liquid.h, right = bottom->vapour.h;
  for (int i = 1; i <= 40; ++i)
    if (const auto at = fluid.saturation_at_T(scene.T_dew + (T_dome(fluid) - scene.T_dew) * i / 40))
      right = std::max(right, at->vapour.h);
  right += 0.22 * (right - left);
  for (const DrawnCycle& drawn : chart.cycles)
    for (const Sample& s : drawn.cycle.way) {
      right = std::max(right, s.h + 0.08 * (right - left));
      left = std::min(left, s.h);
    }
  for (const Mark& mark : chart.marks)
    if (mark.single) {
      right = std::max(right, mark.at.h + 0.06 * (right - left));
      left = std::min(left, mark.at.h);
    }
  scene.h_low = left - 0.07 * (right - left);
  scene.h_high = right;
  scene.s_low = bottom->vapour.s;
  const auto corner = fluid.at_ph(scene.p.low, scene.h_high);
  scene.s_high = corner ? corner->s : bottom->vapour.s;
  return scene;
}

/// One isotherm: the vapour's part, the two-phase part and the liquid's part, as far as they exist here.
struct Isotherm {
  std::vector<Line> vapour, wet, liquid;
};

Isotherm isotherm(const Scene& scene, double T, const Projection& shown) {
  const Fluid& fluid = scene.fluid;
  const auto pressures = [&](double from, double to) {
    if (!(from < to)) return std::vector<Line>{};
    return trace([&](double u) { return taken(fluid.at_Tp(T, std::exp(u))); }, std::log(from), std::log(to),
                 shown);
  };
  Isotherm out;
  if (T > T_dome(fluid)) {
    out.vapour = pressures(scene.p.low, scene.p.high);
    return out;
  }
  const auto bubble = fluid.bubble_pressure(T), dew = fluid.dew_pressure(T);
  if (!bubble || !dew) return out;
  out.vapour = pressures(scene.p.low, *dew * (1 - kBeside));
  out.liquid = pressures(std::max(scene.p.low, *bubble * (1 + kBeside)), scene.p.high);
  if (*bubble > scene.p.low)
    out.wet = trace([&](double x) { return taken(fluid.at_Tx(T, x)); }, 1, 0, shown, 0.3);
  return out;
}

void isotherms(Plot& plot, const Scene& scene) {
  const base::Display& display = scene.chart.display;
  const auto corner = scene.fluid.at_ph(scene.p.low, scene.h_high);
  const double hottest = corner ? corner->T : 1.25 * scene.fluid.limits().T_crit;
  const Axis range{scene.T_bubble, std::min(hottest, scene.fluid.limits().T_max), 0, 7};
  const double T_crit = scene.fluid.limits().T_crit;
  for (const Tick& tick : even_ticks(range, Dimension::temperature, display, 1)) {
    const double T = tick.value;
    // Between the end of a blend's lines and its one-phase region (T, p) may fall into two phases.
    if (T > T_dome(scene.fluid) && T < (scene.fluid.is_blend() ? 1.04 : 1.003) * T_crit) continue;
    const Isotherm drawn = isotherm(scene, T, plot.projection());
    for (const auto* part : {&drawn.vapour, &drawn.wet, &drawn.liquid}) plot.lines(*part, "warm");
    const std::string words = tick.text + unit_of(Dimension::temperature, display);
    if (!drawn.vapour.empty() && drawn.vapour.front().size() > 1)
      plot.word_on(drawn.vapour.front(), T > T_crit ? 0.16 : 0.4, words, "fine t-warm");
  }
}

void entropies(Plot& plot, const Scene& scene) {
  const Axis range{scene.s_low, scene.s_high, 0, 7};
  const double h_least = std::max(scene.h_top, scene.h_low);
  for (const Tick& tick : even_ticks(range, Dimension::specific_entropy, scene.chart.display, 1)) {
    const Curve curve = [&](double u) -> std::optional<Sample> {
      const auto state = scene.fluid.at_ps(std::exp(u), tick.value);
      if (!state || state->phase == fluids::Phase::two_phase || state->h < h_least ||
          state->h > scene.h_high * 1.02)
        return std::nullopt;
      return sample(*state);
    };
    const auto pieces = trace(curve, std::log(scene.p.low), std::log(scene.p.high), plot.projection());
    plot.lines(pieces, "order");
    for (const Line& piece : pieces)
      if (piece.size() > 1) {
        plot.word_on(piece, 0.75, tick.text, "fine t-order");
        break;
      }
  }
}

void shares(Plot& plot, const Scene& scene) {
  const double T_high = T_dome(scene.fluid);
  const double T_low = std::max(scene.T_bubble, scene.fluid.limits().T_min);
  for (const int percent : {20, 40, 60, 80}) {
    const Curve curve = [&](double u) {
      return taken(scene.fluid.at_Tx(T_high - (T_high - T_low) * u * u, percent / 100.0));
    };
    const auto pieces = trace(curve, 1, 0.01, plot.projection(), 0.2);
    plot.lines(pieces, "share");
    if (!pieces.empty()) plot.word_on(pieces.front(), 0.12, std::to_string(percent) + "%", "fine t-share");
  }
}

struct Dome {
  std::vector<Line> bubble, dew;  // upwards
};

Dome dome(const Scene& scene, const Projection& shown) {
  const double high = T_dome(scene.fluid);
  const auto side = [&](double low, bool liquid) {
    const Curve curve = [&, low, liquid](double u) -> std::optional<Sample> {
      const auto line = scene.fluid.saturation_at_T(high - (high - low) * u * u);
      if (!line) return std::nullopt;
      return sample(liquid ? line->liquid : line->vapour);
    };
    return trace(curve, 1, 0, shown, 0.06);
  };
  return {side(scene.T_bubble, true), side(scene.T_dew, false)};
}

/// Of a pure refrigerant both end a hair below the critical point, where they meet.
void close(Dome& lines) {
  if (lines.bubble.empty() || lines.dew.empty()) return;
  const Place a = lines.bubble.front().back(), b = lines.dew.front().back();
  for (auto* side : {&lines.bubble, &lines.dew}) side->front().push_back({(a.x + b.x) / 2, (a.y + b.y) / 2});
}

/// From the end of one line to the end of the other, leaving each as it ran.
Line cap(const Line& bubble, const Line& dew) {
  const auto beyond = [](const Line& line, double far) {
    const Place a = line[line.size() - 2], b = line.back();
    const double length = std::max(std::hypot(b.x - a.x, b.y - a.y), 1e-9);
    return Place{b.x + far * (b.x - a.x) / length, b.y + far * (b.y - a.y) / length};
  };
  const Place a = bubble.back(), d = dew.back();
  const double reach = 0.3 * std::hypot(d.x - a.x, d.y - a.y);
  const Place b = beyond(bubble, reach), c = beyond(dew, reach);
  Line out;
  for (int i = 0; i <= 24; ++i) {
    const double t = i / 24.0, r = 1 - t;
    const double w[] = {r * r * r, 3 * r * r * t, 3 * r * t * t, t * t * t};
    out.push_back({w[0] * a.x + w[1] * b.x + w[2] * c.x + w[3] * d.x,
                   w[0] * a.y + w[1] * b.y + w[2] * c.y + w[3] * d.y});
  }
  return out;
}

}  // namespace

double pressure_enthalpy(Svg& svg, const Chart& chart, double top) {
  const Scene scene = scene_of(chart);
  Plot plot(svg, chart, "enthalpy", {scene.h_low, scene.h_high, 50, width_of(chart) - 12, false},
            {scene.p.low, scene.p.high, top + kEnthalpyHeight, top, true});
  plot.begin(Dimension::specific_energy, chart.word("enthalpy"));
  Dome lines = dome(scene, plot.projection());
  const bool blend = chart.fluid->is_blend();
  if (!blend) close(lines);
  if (!lines.bubble.empty() && !lines.dew.empty()) {
    const Line &bubble = lines.bubble.front(), &dew = lines.dew.front();
    const Line top_line = blend ? cap(bubble, dew) : Line{};
    Line area = bubble;
    area.insert(area.end(), top_line.begin(), top_line.end());
    area.insert(area.end(), dew.rbegin(), dew.rend());
    svg.path(area, "wet", true);
    svg.path(top_line, "cap");
  }
  plot.keep_clear(lines.bubble);
  plot.keep_clear(lines.dew);
  Svg above;  // the machine stands on top of every fine line, but its words choose their place first
  plot.machine_shapes(above);
  plot.machine_words();
  shares(plot, scene);
  isotherms(plot, scene);
  entropies(plot, scene);
  plot.lines(lines.bubble, "bubble");
  plot.lines(lines.dew, blend ? "dew blend" : "dew");
  svg.raw(above.str());
  plot.finish();
  return top + kEnthalpyHeight + 30;
}

}  // namespace coldwright::drawing

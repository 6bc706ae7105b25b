#include "drawing/trace_strip.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/axis.hpp"
#include "drawing/svg.hpp"

namespace coldwright::drawing {
namespace {

constexpr double kStripRow = 14, kStripRight = 14, kStripTop = 22, kStripText = 10;

}  // namespace

std::string draw(const TraceStrip& s) {
  if (s.points.empty()) return "";
  double low = s.points.front().least, high = s.points.front().most;
  for (const auto& p : s.points) {
    low = std::min(low, p.least);
    high = std::max(high, p.most);
  }
  if (high <= low) high = low + 1;
  std::vector<bool> used(s.states.size(), false);
  for (const auto& band : s.bands) used[static_cast<std::size_t>(band.state)] = true;
  std::vector<double> row_of(s.states.size(), 0);
  double left = 44, rows = 0;
  for (std::size_t k = 0; k < s.states.size(); ++k)
    if (used[k]) {
      row_of[k] = rows++;
      left = std::max(left, text_width(s.states[k], kStripText) + 10);
    }
  const double bottom = s.height - 20 - kStripRow * rows;
  const double first = s.points.front().at, span = std::max(s.points.back().at - first, 1e-9);
  const auto x = [&](double at) {
    return left + (s.width - kStripRight - left) * std::clamp((at - first) / span, 0.0, 1.0);
  };
  const auto y = [&](double v) { return bottom + (kStripTop - bottom) * (v - low) / (high - low); };
  Svg svg;
  svg.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                   {"viewBox", "0 0 " + number(s.width) + " " + number(s.height)},
                   {"font-family", "sans-serif"},
                   {"font-size", number(kStripText)}});
  svg.leaf("rect", {{"width", number(s.width)}, {"height", number(s.height)}, {"fill", "#ffffff"}});
  const auto words = [&](double wx, double wy, const std::string& text, const char* anchor) {
    svg.words("text", {{"x", number(wx)}, {"y", number(wy)}, {"text-anchor", anchor}, {"fill", "#333333"}},
              text);
  };
  words(left, 13, s.label, "start");
  const double step = round_step((high - low) / 4);
  for (double v = std::ceil(low / step) * step; v <= high; v += step) {
    svg.leaf("line", {{"x1", number(left)},
                      {"x2", number(s.width - kStripRight)},
                      {"y1", number(y(v))},
                      {"y2", number(y(v))},
                      {"stroke", "#dddddd"},
                      {"stroke-width", "0.6"}});
    words(left - 5, y(v) + 3, base::number_text(v, step < 1 ? 1 : 0, s.numerals), "end");
  }
  // Least and most as one outline, there and back.
  std::string path = "M";
  for (const auto& p : s.points) path += number(x(p.at)) + " " + number(y(p.most)) + " L";
  for (auto p = s.points.rbegin(); p != s.points.rend(); ++p)
    path += number(x(p->at)) + " " + number(y(p->least)) + (p + 1 == s.points.rend() ? " Z" : " L");
  svg.leaf("path", {{"d", path}, {"fill", "#30506e"}, {"stroke", "#30506e"}, {"stroke-width", "0.8"}});
  for (std::size_t k = 0; k < s.states.size(); ++k)
    if (used[k]) words(left - 5, bottom + 6 + kStripRow * row_of[k] + 9, s.states[k], "end");
  for (const auto& band : s.bands)
    svg.leaf("rect", {{"x", number(x(band.from))},
                      {"y", number(bottom + 6 + kStripRow * row_of[static_cast<std::size_t>(band.state)])},
                      {"width", number(std::max(0.4, x(band.to) - x(band.from)))},
                      {"height", number(kStripRow - 3)},
                      {"fill", band.state == 0 ? "#b9c3cc" : "#30506e"}});
  words(left, s.height - 5, s.from, "start");
  words(s.width - kStripRight, s.height - 5, s.to, "end");
  svg.close();
  return svg.str();
}

}  // namespace coldwright::drawing

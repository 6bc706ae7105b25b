#include "drawing/line_plot.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/axis.hpp"

namespace coldwright::drawing {
namespace {

constexpr const char* kFace = "Noto Sans, DejaVu Sans, sans-serif";
constexpr const char *kInk = "#1a2629", *kSoft = "#5c666d", *kGrid = "#dfe3e4", *kTeal = "#0b6a6f",
                     *kBand = "#dcebea", *kLimit = "#a3521a";
constexpr double kText = 8.5, kLeftRim = 46, kRightRim = 10, kBottom = 30, kRow = 12;

/// Several lines of one kind differ by dash before they do by colour.
struct Look {
  const char *colour, *dash;
};
constexpr Look kPredicted[] = {{kTeal, ""}, {"#6a4fb3", "6 3"}, {"#22303a", "2 2.5"}, {"#8a5348", "9 3 2 3"}};

struct Span {
  double low = 0, high = 1;
  bool any = false;
  void take(double v) {
    if (!std::isfinite(v)) return;
    low = any ? std::min(low, v) : v;
    high = any ? std::max(high, v) : v;
    any = true;
  }
};

/// Round numbers along an axis with the decimals that they need.
std::vector<Tick> ticks_of(const Axis& axis, const base::Numerals& numerals, double gap) {
  std::vector<Tick> out;
  if (axis.logarithmic) {
    for (double power = std::pow(10, std::floor(std::log10(axis.low))); power <= axis.high; power *= 10)
      for (const double m : {1.0, 2.0, 5.0}) {
        const double v = m * power;
        if (v < axis.low * 0.999 || v > axis.high * 1.001) continue;
        const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(v) - 1e-9)));
        if (out.empty() || std::abs(axis.place(v) - axis.place(out.back().value)) >= gap)
          out.push_back({v, base::number_text(v, decimals, numerals)});
      }
    return out;
  }
  const double step = round_step((axis.high - axis.low) * gap / std::abs(axis.end - axis.start));
  const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
  for (double k = std::ceil(axis.low / step - 1e-9); k * step <= axis.high + 1e-9 * step; ++k)
    out.push_back({k * step, base::number_text(k * step, decimals, numerals)});
  return out;
}

class Painter {
 public:
  explicit Painter(const LinePlot& plot) : plot_(plot) {
    Span x, y;
    for (const PlotLine& line : plot.lines)
      for (const Place& at : line.points) {
        x.take(at.x);
        y.take(at.y);
      }
    any_ = x.any && y.any;
    const bool logarithmic = y.low > 0 && y.high > 50 * y.low;
    const double room = logarithmic ? 0 : std::max(0.06 * (y.high - y.low), 1e-6 * std::abs(y.high) + 1e-9);
    if (x.high <= x.low) x.high = x.low + 1;
    x_ = {x.low, x.high, kLeftRim, plot.width - kRightRim, false};
    top_ = 8 + kRow * legend(false);
    y_ = {logarithmic ? y.low / 1.15 : y.low - room, logarithmic ? y.high * 1.15 : y.high + room,
          plot.height - kBottom, top_, logarithmic};
  }

  std::string draw() {
    if (!any_) return "";
    svg_.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                      {"viewBox", "0 0 " + number(plot_.width) + " " + number(plot_.height)},
                      {"width", number(plot_.width)},
                      {"height", number(plot_.height)},
                      {"role", "img"}});
    band();
    axes();
    std::size_t shown = 0, read = 0;
    for (const PlotLine& line : plot_.lines)
      if (line.kind == PlotLine::Kind::predicted && !line.points.empty()) {
        const Look& look = look_of(shown++);
        path(line.points, look.colour, 1.4, look.dash);
      }
    for (const PlotLine& line : plot_.lines)
      if (line.kind == PlotLine::Kind::limit) path(line.points, kLimit, 1.1, "5 3");
    for (const PlotLine& line : plot_.lines)
      if (line.kind == PlotLine::Kind::measured && !line.points.empty()) {
        for (const Place& p : line.points) dot(at(p), read);
        ++read;
      }
    legend(true);
    svg_.close();
    return svg_.str();
  }

 private:
  Place at(const Place& p) const { return {x_.place(p.x), y_.place(p.y)}; }

  void words(Place place, std::string_view text, const char* colour, const char* anchor, double turned = 0) {
    Attributes attributes = {{"x", number(place.x)}, {"y", number(place.y)},       {"fill", colour},
                             {"font-family", kFace}, {"font-size", number(kText)}, {"text-anchor", anchor}};
    if (turned != 0)
      attributes.emplace_back(
          "transform", "rotate(" + number(turned) + " " + number(place.x) + " " + number(place.y) + ")");
    svg_.words("text", attributes, text);
  }

  std::string path_data(const Line& points) const {
    std::string d;
    for (const Place& p : points) {
      const Place to = at(p);
      d += (d.empty() ? "M" : " L") + number(to.x) + " " + number(to.y);
    }
    return d;
  }

  void path(const Line& points, const char* colour, double width, const char* dash) {
    if (points.size() < 2) return;
    Attributes attributes = {{"d", path_data(points)},
                             {"fill", "none"},
                             {"stroke", colour},
                             {"stroke-width", number(width)},
                             {"stroke-linejoin", "round"}};
    if (*dash != 0) attributes.emplace_back("stroke-dasharray", dash);
    svg_.leaf("path", attributes);
  }

  static const Look& look_of(std::size_t n) { return kPredicted[n % std::size(kPredicted)]; }

  /// The first series is filled, a second one hollow.
  void dot(Place to, std::size_t series) {
    Attributes attributes = {{"cx", number(to.x)}, {"cy", number(to.y)}, {"r", "2.3"}};
    attributes.emplace_back("fill", series == 0 ? kInk : "#ffffff");
    attributes.emplace_back("stroke", kInk);
    attributes.emplace_back("stroke-width", "0.8");
    svg_.leaf("circle", attributes);
  }

  const PlotLine* of(PlotLine::Kind kind) const {
    const auto found = std::find_if(plot_.lines.begin(), plot_.lines.end(),
                                    [&](const PlotLine& line) { return line.kind == kind; });
    return found == plot_.lines.end() ? nullptr : &*found;
  }

  void band() {
    const PlotLine *low = of(PlotLine::Kind::low), *high = of(PlotLine::Kind::high);
    if (low == nullptr || high == nullptr || low->points.empty() || high->points.empty()) return;
    Line round = low->points;
    round.insert(round.end(), high->points.rbegin(), high->points.rend());
    svg_.leaf("path", {{"d", path_data(round) + " Z"}, {"fill", kBand}, {"stroke", "none"}});
  }

  void axes() {
    const auto line = [&](Place a, Place b, const char* colour, double width) {
      svg_.leaf("line", {{"x1", number(a.x)},
                         {"y1", number(a.y)},
                         {"x2", number(b.x)},
                         {"y2", number(b.y)},
                         {"stroke", colour},
                         {"stroke-width", number(width)}});
    };
    for (const Tick& tick : ticks_of(y_, plot_.numerals, 26)) {
      const double y = y_.place(tick.value);
      line({kLeftRim, y}, {plot_.width - kRightRim, y}, kGrid, 0.6);
      words({kLeftRim - 5, y + 3}, tick.text, kSoft, "end");
    }
    for (const Tick& tick : ticks_of(x_, plot_.numerals, 46)) {
      const double x = x_.place(tick.value);
      line({x, y_.start}, {x, y_.start + 3}, kSoft, 0.6);
      words({x, y_.start + 12}, tick.text, kSoft, "middle");
    }
    line({kLeftRim, y_.start}, {plot_.width - kRightRim, y_.start}, kSoft, 0.8);
    line({kLeftRim, top_}, {kLeftRim, y_.start}, kSoft, 0.8);
    words({(kLeftRim + plot_.width - kRightRim) / 2, plot_.height - 5}, plot_.x_label, kSoft, "middle");
    words({10, (top_ + y_.start) / 2}, plot_.y_label, kSoft, "middle", -90);
  }

  void stroke(double x, double y, const Look& look) {
    Attributes attributes = {{"x1", number(x)}, {"y1", number(y)},       {"x2", number(x + 18)},
                             {"y2", number(y)}, {"stroke", look.colour}, {"stroke-width", "1.4"}};
    if (*look.dash != 0) attributes.emplace_back("stroke-dasharray", look.dash);
    svg_.leaf("line", attributes);
  }

  /// What each dot and line is, in as many rows as it takes; gives their number.
  int legend(bool drawn) {
    double x = kLeftRim, y = 9;
    int rows = 1;
    const auto entry = [&](const std::string& label, const auto& mark) {
      if (label.empty()) return;
      const double width = 22 + text_width(label, kText) + 14;
      if (x > kLeftRim && x + width > plot_.width - kRightRim + 14) {
        x = kLeftRim;
        y += kRow;
        ++rows;
      }
      if (drawn) {
        mark(x, y);
        words({x + 22, y + 3}, label, kInk, "start");
      }
      x += width;
    };
    std::size_t shown = 0, read = 0;
    for (const PlotLine& line : plot_.lines) {
      if (line.points.empty()) continue;
      if (line.kind == PlotLine::Kind::measured)
        entry(line.label, [&](double mx, double my) { dot({mx + 9, my}, read); });
      if (line.kind == PlotLine::Kind::predicted)
        entry(line.label, [&](double mx, double my) { stroke(mx, my, look_of(shown)); });
      read += line.kind == PlotLine::Kind::measured ? 1 : 0;
      shown += line.kind == PlotLine::Kind::predicted ? 1 : 0;
    }
    if (of(PlotLine::Kind::low) != nullptr && of(PlotLine::Kind::high) != nullptr)
      entry(plot_.band_label, [&](double mx, double my) {
        svg_.leaf(
            "rect",
            {{"x", number(mx)}, {"y", number(my - 4)}, {"width", "18"}, {"height", "8"}, {"fill", kBand}});
      });
    if (const PlotLine* line = of(PlotLine::Kind::limit))
      entry(line->label, [&](double mx, double my) { stroke(mx, my, {kLimit, "5 3"}); });
    return rows;
  }

  const LinePlot& plot_;
  Axis x_, y_;
  double top_ = 20;
  bool any_ = false;
  Svg svg_;
};

}  // namespace

std::string draw(const LinePlot& plot) { return Painter(plot).draw(); }

}  // namespace coldwright::drawing

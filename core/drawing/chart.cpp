#include "drawing/chart.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/plot.hpp"

namespace coldwright::drawing {
namespace {

using base::Dimension;

constexpr double kLeft = 12, kRight = page_width - 12;

/// What each line and shape means, in as many rows as it takes.
class Key {
 public:
  Key(Svg& svg, double y) : svg_(svg), y_(y) {}

  void line(std::string_view css, std::string_view words) {
    const Place at = next(28, words);
    svg_.path({{at.x, at.y - 3.5}, {at.x + 22, at.y - 3.5}}, css);
    svg_.text({at.x + 28, at.y}, words, "sub");
  }
  void mark(Against against, std::string_view words) {
    const Place at = next(16, words);
    mark_shape(svg_, {at.x + 6, at.y - 3.5}, against);
    svg_.text({at.x + 16, at.y}, words, "sub");
  }
  double end() const { return x_ > kLeft ? y_ + 8 : y_ - 10; }

 private:
  Place next(double before, std::string_view words) {
    const double width = before + text_width(words, text_size) + 12;
    if (x_ > kLeft && x_ + width - 12 > kRight) {
      x_ = kLeft;
      y_ += 17;
    }
    const Place at{x_, y_};
    x_ += width;
    return at;
  }
  Svg& svg_;
  double x_ = kLeft, y_;
};

double key(Svg& svg, const Chart& chart, double y) {
  Key key(svg, y);
  if (chart.fluid->is_blend()) {
    key.line("bubble", chart.word("bubble_line"));
    key.line("dew blend", chart.word("dew_line"));
  } else {
    key.line("bubble", chart.word("saturation"));
  }
  if (chart.diagrams != Diagrams::temperature) {
    key.line("warm", chart.word("constant_temperature"));
    key.line("order",
             chart.word("constant_entropy") + ", " + unit_of(Dimension::specific_entropy, chart.display));
    key.line("share", chart.word("share_of_vapour"));
    if (chart.fluid->is_blend()) key.line("cap", chart.word("not_computed"));
  }
  for (const DrawnCycle& drawn : chart.cycles) key.line("way-" + std::string(css_of(drawn.role)), drawn.name);
  const auto has = [&](Against against) {
    return std::any_of(chart.marks.begin(), chart.marks.end(),
                       [&](const Mark& mark) { return mark.against == against; });
  };
  if (has(Against::within)) key.mark(Against::within, chart.word("within_sound"));
  if (has(Against::above)) key.mark(Against::above, chart.word("above_sound"));
  if (has(Against::below)) key.mark(Against::below, chart.word("below_sound"));
  if (has(Against::unknown)) key.mark(Against::unknown, chart.word("point_given"));
  return key.end();
}

/// A table of states: what, pressure, temperature, enthalpy, the last three right-aligned.
class Table {
 public:
  Table(Svg& svg, const base::Display& display, double y) : svg_(svg), display_(display), y_(y) {}

  void heading(std::string_view words) {
    y_ += 20;
    svg_.text({kLeft, y_}, words, "head");
    const auto unit = [&](double x, Dimension dimension) {
      svg_.text({x, y_}, unit_of(dimension, display_), "tick num");
    };
    unit(kPressure, Dimension::pressure);
    unit(kTemperature, Dimension::temperature);
    unit(kEnthalpy, Dimension::specific_energy);
    y_ += 5;
    svg_.path({{kLeft, y_}, {kRight, y_}}, "rule");
  }
  /// Where the row's shape stands.
  Place row(std::string_view name, std::string_view words, const Sample& at, bool with_enthalpy) {
    y_ += 15;
    svg_.text({kLeft + 16, y_}, name, "head");
    svg_.text({kLeft + 29, y_}, words, "row");
    const base::Shown p = base::show(Dimension::pressure, at.p, display_);
    svg_.text({kPressure, y_}, p.unit == "inHg" ? p.text() : p.number(), "num");
    value(kTemperature, base::show(Dimension::temperature, at.T, display_));
    if (with_enthalpy) value(kEnthalpy, base::show(Dimension::specific_energy, at.h, display_));
    return {kLeft + 6, y_ - 3.6};
  }
  double y() const { return y_; }

 private:
  static constexpr double kPressure = 262, kTemperature = 316, kEnthalpy = kRight;
  void value(double x, const base::Shown& shown) { svg_.text({x, y_}, shown.number(), "num"); }
  Svg& svg_;
  const base::Display& display_;
  double y_;
};

double tables(Svg& svg, const Chart& chart, double y) {
  Table table(svg, chart.display, y);
  for (auto drawn = chart.cycles.rbegin(); drawn != chart.cycles.rend(); ++drawn) {
    table.heading(drawn->name);
    const Cycle& c = drawn->cycle;
    const bool numbered = drawn == chart.cycles.rbegin();
    int i = 0;
    for (const auto& [place, state] : corners(c)) {
      ++i;
      const Place at = table.row(numbered ? std::to_string(i) : "", chart.word(place), sample(*state), true);
      corner_shape(svg, at, drawn->role);
    }
  }
  if (!chart.marks.empty()) table.heading(chart.word("points"));
  char letter = 'a';
  for (const Mark& mark : chart.marks)
    mark_shape(svg, table.row(std::string(1, letter++), mark.name, mark.at, mark.single), mark.against);
  return table.y();
}

double notes(Svg& svg, const Chart& chart, double y) {
  for (const std::string& note : chart.notes) {
    y += 5;
    for (const std::string& line : wrapped(note, text_size, kRight - kLeft)) {
      y += 14;
      svg.text({kLeft, y}, line, "row");
    }
  }
  return y;
}

/// The whole in words, for those who hear it.
std::string described(const Chart& chart) {
  std::string out = chart.subtitle;
  const auto state = [&](const std::string& what, const fluids::State& s) {
    out += ", " + what + " " + base::show(Dimension::pressure, s.p, chart.display).text() + " " +
           chart.word("and") + " " + base::show(Dimension::temperature, s.T, chart.display).text();
  };
  for (const DrawnCycle& drawn : chart.cycles) {
    out += ". " + drawn.name;
    for (const auto& [place, at] : corners(drawn.cycle)) state(chart.word(place), *at);
  }
  for (const Mark& mark : chart.marks)
    out += ". " + mark.name + ", " + base::show(Dimension::pressure, mark.at.p, chart.display).text() + " " +
           chart.word("and") + " " + base::show(Dimension::temperature, mark.at.T, chart.display).text() +
           (mark.against == Against::above   ? ", " + chart.word("above_sound")
            : mark.against == Against::below ? ", " + chart.word("below_sound")
                                             : "");
  return out + ".";
}

/// Gives where the next thing beneath may begin.
double diagrams(Svg& body, const Chart& chart, double y) {
  if (chart.diagrams != Diagrams::temperature) y = pressure_enthalpy(body, chart, y) + 22;
  if (chart.diagrams != Diagrams::enthalpy) y = pressure_temperature(body, chart, y) + 22;
  return y;
}

/// Title, diagrams, key, states and notes, one under the other.
double whole_page(Svg& body, const Chart& chart) {
  double y = 28;
  const auto title = wrapped(chart.title, title_size * 1.08, kRight - kLeft);  // bold is wider
  for (std::size_t i = 0; i < title.size(); ++i) body.text({kLeft, y += i == 0 ? 0 : 20}, title[i], "title");
  for (const std::string& line : wrapped(chart.subtitle, text_size, kRight - kLeft)) {
    y += 15;
    body.text({kLeft, y}, line, "sub");
  }
  y = diagrams(body, chart, y + 24);
  y = key(body, chart, y - 4);
  y = tables(body, chart, y);
  return notes(body, chart, y + 4) + 14;
}

}  // namespace

std::string draw(const Chart& chart) {
  const bool page = !chart.picture_width;
  Svg body;
  const std::string height =
                        number(std::ceil(page ? whole_page(body, chart) : diagrams(body, chart, 20) - 12)),
                    width = number(width_of(chart));
  Svg out;
  out.raw("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
  out.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                   {"viewBox", "0 0 " + width + " " + height},
                   {"class", "chart"},
                   {"role", "img"},
                   {"aria-labelledby", "chart-title chart-desc"}});
  out.words("title", {{"id", "chart-title"}}, chart.title);
  out.words("desc", {{"id", "chart-desc"}}, described(chart));
  if (page) {
    out.raw("<style>" + style_sheet() + "</style>\n");
    out.leaf("rect", {{"class", "page"}, {"x", "0"}, {"y", "0"}, {"width", width}, {"height", height}});
  }
  out.raw(body.str());
  out.close();
  return out.str();
}

std::string for_paper(const std::string& picture) {
  const std::size_t root = picture.find("<svg");
  const std::size_t end = root == std::string::npos ? root : picture.find('>', root);
  if (end == std::string::npos) return picture;
  return picture.substr(root, end + 1 - root) + "<style>" + paper_style_sheet() + "</style>" +
         picture.substr(end + 1);
}

}  // namespace coldwright::drawing

#include "judge/picture.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "drawing/line_plot.hpp"

namespace coldwright::judge {
namespace {

using drawing::number;
using drawing::PlotLine;

constexpr long kFew = 8;
constexpr double kLongest = 320;  // min shown of the costs

// A page of its own colour, so that it can be read on a dark one.
std::string on_paper(const std::string& svg) {
  const auto end = svg.find('>');
  if (end == std::string::npos) return svg;
  return svg.substr(0, end + 1) + "<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>" +
         svg.substr(end + 1) + "\n";
}

std::string plainly(std::string name) {
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

std::string column_of(const std::string& causes) {
  return causes.find('+') == std::string::npos ? causes : "two causes";
}

// White to teal, printed dark words on the light half and light ones on the dark.
std::string shade(double share) {
  const auto mix = [&](double from, double to) {
    return static_cast<int>(std::lround(from + (to - from) * share));
  };
  return fmt::format("#{:02x}{:02x}{:02x}", mix(255, 11), mix(255, 106), mix(255, 111));
}

void say(drawing::Svg& svg, double x, double y, const std::string& words, const char* anchor,
         const char* colour, double turned = 0) {
  drawing::Attributes attributes = {
      {"x", number(x)},     {"y", number(y)},
      {"fill", colour},     {"font-family", "Noto Sans, DejaVu Sans, sans-serif"},
      {"font-size", "8.5"}, {"text-anchor", anchor}};
  if (turned != 0)
    attributes.emplace_back("transform",
                            "rotate(" + number(turned) + " " + number(x) + " " + number(y) + ")");
  svg.words("text", attributes, words);
}

}  // namespace

std::string calibration_picture(const Score& s) {
  PlotLine achieved{PlotLine::Kind::measured, "achieved", {}}, low{PlotLine::Kind::low, "", {}},
      high{PlotLine::Kind::high, "", {}};
  const PlotLine exact{PlotLine::Kind::limit, "exactly as stated", {{0, 0}, {1, 1}}};
  for (std::size_t i = 0; i < 10; ++i) {
    if (s.count[i] < kFew) continue;
    const double n = static_cast<double>(s.count[i]), stated = s.stated[i] / n;
    const double chance = std::sqrt(s.doubt[i]) / n;
    achieved.points.push_back({stated, s.right[i] / n});
    low.points.push_back({stated, std::max(stated - chance, 0.0)});
    high.points.push_back({stated, std::min(stated + chance, 1.0)});
  }
  drawing::LinePlot plot;
  plot.width = plot.height = 320;
  plot.x_label = "probability stated for the leading answer";
  plot.y_label = "share in which it was right";
  plot.band_label = "left to chance";
  plot.lines = {low, high, exact, achieved};
  return on_paper(drawing::draw(plot));
}

std::string confusion_picture(const Score& s) {
  std::map<std::string, std::map<std::string, double>> counts;
  std::vector<std::string> names;
  for (const auto& [truth, answers] : s.confusion)
    for (const auto& [answer, n] : answers) {
      counts[column_of(truth)][column_of(answer)] += static_cast<double>(n);
      names.push_back(column_of(truth));
      names.push_back(column_of(answer));
    }
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  const double cell = 24, left = 130, top = 120, width = left + cell * static_cast<double>(names.size()) + 50,
               height = top + cell * static_cast<double>(names.size()) + 12;
  drawing::Svg svg;
  svg.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                   {"viewBox", "0 0 " + number(width) + " " + number(height)},
                   {"width", number(width)},
                   {"height", number(height)},
                   {"role", "img"}});
  say(svg, 8, 16, "down: what it was; across: what it was taken for, percent", "start", "#5c666d");
  for (std::size_t j = 0; j < names.size(); ++j)
    say(svg, left + cell * (static_cast<double>(j) + 0.6), top - 6, plainly(names[j]), "start", "#1a2629",
        -60);
  for (std::size_t i = 0; i < names.size(); ++i) {
    const double y = top + cell * static_cast<double>(i);
    double all = 0;
    for (const auto& [answer, n] : counts[names[i]]) all += n;
    say(svg, left - 6, y + cell * 0.62, plainly(names[i]), "end", "#1a2629");
    for (std::size_t j = 0; j < names.size(); ++j) {
      const double share = all > 0 ? counts[names[i]][names[j]] / all : 0;
      const double x = left + cell * static_cast<double>(j);
      svg.leaf("rect", {{"x", number(x)},
                        {"y", number(y)},
                        {"width", number(cell)},
                        {"height", number(cell)},
                        {"fill", shade(share)},
                        {"stroke", "#dfe3e4"},
                        {"stroke-width", "0.6"}});
      if (share > 0.1)
        say(svg, x + cell / 2, y + cell * 0.62, fmt::format("{:.0f}", 100 * share), "middle",
            share > 0.5 ? "#ffffff" : "#1a2629");
    }
  }
  svg.close();
  return on_paper(svg.str());
}

std::string cost_picture(const std::vector<Path>& paths) {
  drawing::LinePlot plot;
  plot.width = 480;
  plot.height = 260;
  plot.x_label = "minutes to a right verdict";
  plot.y_label = "share of visits";
  for (Policy policy : kPolicies) {
    std::vector<double> minutes;
    for (const Path& p : paths)
      if (p.policy == policy) minutes.push_back(p.to_right);
    if (minutes.empty()) continue;
    std::sort(minutes.begin(), minutes.end());
    PlotLine line{PlotLine::Kind::predicted, to_word(policy), {{0, 0}}};
    for (std::size_t i = 0; i < minutes.size(); ++i) {
      const double share = static_cast<double>(i + 1) / static_cast<double>(minutes.size());
      if (minutes[i] > kLongest) break;
      if (share - line.points.back().y > 0.005 || i + 1 == minutes.size())
        line.points.push_back({minutes[i], share});
    }
    plot.lines.push_back(std::move(line));
  }
  return on_paper(drawing::draw(plot));
}

}  // namespace coldwright::judge

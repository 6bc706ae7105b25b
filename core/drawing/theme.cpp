#include "drawing/theme.hpp"

#include <array>

namespace coldwright::drawing {
namespace {

// Plain classes with plain colours: viewers that know no media query or variable show the light page.
constexpr std::string_view kShapes = R"(
text{font-family:system-ui,"DejaVu Sans",sans-serif;font-size:10.5px;fill:#22303a}
.title{font-size:16px;font-weight:700}.sub{fill:#55646d}.head{font-weight:700}
.tick{font-size:9.5px;fill:#55646d}.unit{font-size:9.5px;font-weight:700;fill:#55646d}
.fine{font-size:9px;paint-order:stroke;stroke:#fffefb;stroke-width:2.5px;stroke-linejoin:round}
.over{font-size:10.5px;paint-order:stroke;stroke:#fffefb;stroke-width:3px;stroke-linejoin:round;font-weight:700}
.num{text-anchor:end;font-variant-numeric:tabular-nums}
.page{fill:#f5f1e8}.plot{fill:#fffefb;stroke:#c9c2b2;stroke-width:1}
.wet{fill:#e4efec}.grid{stroke:#e9e4d8;stroke-width:1;fill:none}.rule{stroke:#d8d1c1;stroke-width:1}
path,polyline{fill:none;stroke-linejoin:round;stroke-linecap:round}
.wet{stroke:none}
.bubble{stroke:#0b6a6f;stroke-width:2}.dew{stroke:#0b6a6f;stroke-width:2}.dew.blend{stroke:#a3521a;stroke-dasharray:9 3}
.cap{stroke:#7d8a8c;stroke-width:1.2;stroke-dasharray:.5 3.5}
.warm{stroke:#b08d86;stroke-width:.9}.order{stroke:#7f93ad;stroke-width:.9;stroke-dasharray:1 3}
.share{stroke:#7fa8a2;stroke-width:.9;stroke-dasharray:5 3}
.t-warm{fill:#8a5348}.t-order{fill:#4c648a}.t-share{fill:#3f7069}
.way-given,.way-inferred{stroke:#22303a;stroke-width:2.4}.way-sound{stroke:#6a4fb3;stroke-width:1.9;stroke-dasharray:6 4}
.dot-given,.dot-inferred{fill:#22303a;stroke:#fffefb;stroke-width:1.2}.dot-sound{fill:#fffefb;stroke:#6a4fb3;stroke-width:1.5}
.mark{fill:#fffefb;stroke:#22303a;stroke-width:1.6}.mark.off{fill:#b3174f;stroke:#fffefb;stroke-width:1}
.brace{stroke:#22303a;stroke-width:1}
)";

constexpr std::string_view kDark = R"(
@media (prefers-color-scheme:dark){
text{fill:#e6e9e4}.sub,.tick,.unit{fill:#a9b4b4}
.fine,.over{stroke:#172024}
.page{fill:#0f1518}.plot{fill:#172024;stroke:#3d4a4f}.wet{fill:#1d2e30}.grid{stroke:#263236}.rule{stroke:#334045}
.bubble,.dew{stroke:#57c6c0}.dew.blend{stroke:#f0a062}.cap{stroke:#87989a}
.warm{stroke:#8f6f69}.order{stroke:#5f7593}.share{stroke:#4f7f79}
.t-warm{fill:#dba79b}.t-order{fill:#a3bbe0}.t-share{fill:#8cc7be}
.way-given,.way-inferred{stroke:#f4f3ec}.way-sound{stroke:#b9a5f5}
.dot-given,.dot-inferred{fill:#f4f3ec;stroke:#172024}.dot-sound{fill:#172024;stroke:#b9a5f5}
.mark{fill:#172024;stroke:#f4f3ec}.mark.off{fill:#ff7fa8;stroke:#172024}.brace{stroke:#f4f3ec}
}
)";

/// Every selector held to our own drawing, since a page may carry it among others.
std::string held(std::string_view sheet) {
  std::string out;
  for (std::size_t at = 0; at < sheet.size();) {
    const std::size_t brace = sheet.find_first_of("{}", at);
    if (brace == std::string_view::npos) return out += sheet.substr(at);
    std::string_view selectors = sheet.substr(at, brace - at);
    while (selectors.starts_with('\n')) selectors.remove_prefix(1), out += '\n';
    at = brace + 1;
    if (sheet[brace] == '}' || selectors.starts_with('@')) {
      out.append(selectors) += sheet[brace];
      continue;
    }
    std::string list(selectors);
    for (std::size_t comma = list.find(','); comma != std::string::npos; comma = list.find(',', comma + 9))
      list.insert(comma + 1, ".chart ");
    const std::size_t close = sheet.find('}', at);
    out.append(".chart ").append(list).append("{").append(sheet.substr(at, close - at + 1));
    at = close + 1;
  }
  return out;
}

}  // namespace

std::string style_sheet() { return held(kShapes) + held(kDark); }

std::string paper_style_sheet() {
  std::string sheet = held(kShapes);
  const std::string_view screen = "system-ui,",
                         paper = "\"Noto Sans\",";  // the face of what stands around it
  if (const std::size_t at = sheet.find(screen); at != std::string::npos)
    sheet.replace(at, screen.size(), paper);
  return sheet;
}

std::string_view css_of(Role role) {
  switch (role) {
    case Role::given:
      return "given";
    case Role::sound:
      return "sound";
    case Role::inferred:
      return "inferred";
  }
  return "";
}

void mark_shape(Svg& svg, Place at, Against against) {
  const auto shape = [&](std::initializer_list<Place> corners, const char* css) {
    Line line;
    for (const Place& c : corners) line.push_back({at.x + c.x, at.y + c.y});
    svg.path(line, css, true);
  };
  switch (against) {
    case Against::within:
      svg.leaf("circle", {{"class", "mark"}, {"cx", number(at.x)}, {"cy", number(at.y)}, {"r", "4.2"}});
      return;
    case Against::above:
      return shape({{0, -6.2}, {5.6, 4}, {-5.6, 4}}, "mark off");
    case Against::below:
      return shape({{0, 6.2}, {5.6, -4}, {-5.6, -4}}, "mark off");
    case Against::unknown:
      return shape({{0, -5.4}, {5.4, 0}, {0, 5.4}, {-5.4, 0}}, "mark");
  }
}

void corner_shape(Svg& svg, Place at, Role role) {
  svg.leaf("circle", {{"class", "dot-" + std::string(css_of(role))},
                      {"cx", number(at.x)},
                      {"cy", number(at.y)},
                      {"r", role == Role::sound ? "3" : "3.8"}});
}

}  // namespace coldwright::drawing

#include "drawing/svg.hpp"

#include <cmath>

#include <fmt/format.h>

namespace coldwright::drawing {
namespace {

/// Widths in ems of a wide sans-serif face, by groups of letters alike.
double letter_width(unsigned char c) {
  const std::string_view narrow = "ijlI.,:;|!'()[]/ ", wide = "mwMW@%";
  if (narrow.find(static_cast<char>(c)) != std::string_view::npos) return 0.36;
  if (wide.find(static_cast<char>(c)) != std::string_view::npos) return 0.96;
  if (c >= 'A' && c <= 'Z') return 0.71;
  return 0.625;
}

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

}  // namespace

std::string number(double value) {
  if (!std::isfinite(value)) return "0";
  std::string text = fmt::format("{:.2f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
    }
  return out;
}

double text_width(std::string_view words, double size) {
  double ems = 0;
  for (const char c : words)
    if (!continues(c)) ems += letter_width(static_cast<unsigned char>(c));
  return ems * size;
}

std::vector<std::string> wrapped(std::string_view words, double size, double width) {
  std::vector<std::string> lines;
  std::string line;
  while (!words.empty()) {
    const std::size_t gap = words.find(' ');
    const std::string word(words.substr(0, gap));
    words.remove_prefix(gap == std::string_view::npos ? words.size() : gap + 1);
    if (!line.empty() && text_width(line + " " + word, size) > width) {
      lines.push_back(line);
      line.clear();
    }
    line += (line.empty() ? "" : " ") + word;
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

void Svg::begin(std::string_view tag, const Attributes& attributes) {
  text_.append("<").append(tag);
  for (const auto& [name, value] : attributes)
    text_.append(" ").append(name).append("=\"").append(escaped(value)).append("\"");
}

void Svg::open(std::string_view tag, const Attributes& attributes) {
  begin(tag, attributes);
  text_ += ">\n";
  open_.emplace_back(tag);
}

void Svg::close() {
  if (open_.empty()) return;
  text_.append("</").append(open_.back()).append(">\n");
  open_.pop_back();
}

void Svg::leaf(std::string_view tag, const Attributes& attributes) {
  begin(tag, attributes);
  text_ += "/>\n";
}

void Svg::words(std::string_view tag, const Attributes& attributes, std::string_view text) {
  begin(tag, attributes);
  text_.append(">").append(escaped(text)).append("</").append(tag).append(">\n");
}

void Svg::text(Place at, std::string_view words_shown, std::string_view css, Anchor anchor, double degrees) {
  Attributes attributes = {{"class", std::string(css)}, {"x", number(at.x)}, {"y", number(at.y)}};
  if (anchor != Anchor::start)
    attributes.emplace_back("text-anchor", anchor == Anchor::middle ? "middle" : "end");
  if (degrees != 0)
    attributes.emplace_back("transform",
                            "rotate(" + number(degrees) + " " + number(at.x) + " " + number(at.y) + ")");
  words("text", attributes, words_shown);
}

void Svg::path(const Line& line, std::string_view css, bool closed) {
  if (line.size() < 2) return;
  std::string d;
  for (std::size_t i = 0; i < line.size(); ++i)
    d += (i == 0 ? "M" : " ") + number(line[i].x) + "," + number(line[i].y);
  leaf("path", {{"class", std::string(css)}, {"d", d + (closed ? "Z" : "")}});
}

}  // namespace coldwright::drawing

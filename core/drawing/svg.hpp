// An SVG text built up element by element: escaping, short numbers, how wide words come out. Knows nothing
// of refrigeration.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace coldwright::drawing {

/// In the drawing's own units, y down.
struct Place {
  double x = 0, y = 0;
};
using Line = std::vector<Place>;
using Attributes = std::vector<std::pair<std::string_view, std::string>>;

enum class Anchor { start, middle, end };

/// Two decimals at most, without idle zeros: "12.5". What isn't finite becomes "0", and never gets here.
std::string number(double value);

/// Fit to stand in an element or an attribute of XML.
std::string escaped(std::string_view text);

/// Width of words at this font size by the letter widths of a wide sans-serif face: what a reader's own face
/// needs is hardly more.
double text_width(std::string_view words, double size);

/// Words broken into lines no wider than `width`.
std::vector<std::string> wrapped(std::string_view words, double size, double width);

class Svg {
 public:
  void open(std::string_view tag, const Attributes& attributes);
  void close();
  void leaf(std::string_view tag, const Attributes& attributes);
  /// An element that holds words alone.
  void words(std::string_view tag, const Attributes& attributes, std::string_view text);
  void text(Place at, std::string_view words, std::string_view css, Anchor anchor = Anchor::start,
            double degrees = 0);
  void path(const Line& line, std::string_view css, bool closed = false);
  void raw(std::string_view text) { text_ += text; }
  const std::string& str() const { return text_; }

 private:
  void begin(std::string_view tag, const Attributes& attributes);
  std::string text_;
  std::vector<std::string> open_;
};

}  // namespace coldwright::drawing

// Text and rectangles on the pages of a PDF, through Cairo and Pango: sizes and places in points, y down.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

namespace coldwright::print {

struct Colour {
  double red = 0, green = 0, blue = 0;
};

enum class Align { left, centre, right };

/// The face of a page: the card's, narrow in its numbers, or the record's, quieter in running text.
enum class Face { dejavu, noto };

struct Style {
  double size = 9;
  bool bold = false, slanted = false;
  Colour colour{};
  double lead = 1;  // height of lines against the face's own
};

class Pen {
 public:
  /// Writes to memory; `created` is in seconds since 1970 and goes into the document.
  Pen(double width, double height, const std::string& title, std::int64_t created, Face face = Face::dejavu);
  ~Pen();
  Pen(const Pen&) = delete;
  Pen& operator=(const Pen&) = delete;

  /// Words on one line, their baseline at y; x is the edge or the middle that `align` names.
  void text(double x, double y, const std::string& words, const Style& style, Align align = Align::left);
  double width(const std::string& words, const Style& style);
  /// Words broken into lines of this width from the upper edge y; gives the height they take. Only measured
  /// without `draw`.
  double block(double x, double y, double width, const std::string& words, const Style& style,
               bool draw = true, Align align = Align::left);
  /// The same words as pieces no higher than `height`, each of whole lines: where each piece ends, in bytes.
  /// No piece is a single line of a longer text.
  std::size_t fitting(double width, const std::string& words, const Style& style, double height);
  void fill(double x, double y, double width, double height, Colour colour);
  void rule(double x0, double y0, double x1, double y1, double thickness, Colour colour);
  /// A triangle with a point up, such as stands beside a caution.
  void triangle(double x, double y, double size, Colour colour);
  void frame(double x, double y, double width, double height, double thickness, Colour colour);
  /// An SVG document, scaled to this width and height; false when it can't be read.
  bool svg(double x, double y, double width, double height, const std::string& document);
  /// What stands in the document's information besides its title.
  void about(const std::string& subject, const std::string& author);
  /// Everything drawn from here on comes out this much larger; lengths given are then so much shorter on
  /// paper.
  void scale(double factor);
  void end_page();
  /// The whole document; nothing may be drawn after it. Empty when Cairo could not write it.
  std::string finish();

 private:
  struct Inner;
  std::unique_ptr<Inner> inner_;
};

}  // namespace coldwright::print

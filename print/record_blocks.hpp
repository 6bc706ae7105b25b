// How each block of a record is laid onto pages. Kept to print/.
#pragma once

#include "print/pen.hpp"
#include "print/record.hpp"

namespace coldwright::print {

/// Where the next thing goes. With `draw` off everything is laid out and nothing written: that counts the
/// pages for the foot.
class Flow {
 public:
  Flow(Pen& pen, const Record& record, double width, double height, bool draw, int pages);

  void lay();
  int pages() const { return page_; }
  /// How much of the last page is taken, 0..1.
  double filled() const { return (y_ - top_) / (bottom_ - top_); }

 private:
  // A block that can't be parted asks first for the room that it needs.
  void need(double height);
  void gap(double height);
  double room() const { return bottom_ - y_; }
  void next_page();
  void foot();
  double text(double x, double width, const std::string& words, const Style& style,
              Align align = Align::left);
  /// A text that may run over to the next page.
  void running(double x, double width, const std::string& words, const Style& style);
  double height_of(double width, const std::string& words, const Style& style);

  void put(const Letterhead& block);
  void put(const Heading& block);
  void put(const Paragraph& block);
  void put(const Pairs& block);
  void put(const Items& block);
  void put(const Grid& block);
  void put(const Bars& block);
  void put(const Figure& block);
  void put(const Signatures& block);

  /// What a block takes at least on the page where it begins.
  double first_height(const Block& block);
  std::vector<double> widths_of(const Grid& grid);
  double row_height(const Grid& grid, const std::vector<double>& widths, const std::vector<std::string>& row,
                    const Style& style);
  void grid_row(const Grid& grid, const std::vector<double>& widths, const std::vector<std::string>& row,
                const Style& style);
  void grid_head(const Grid& grid, const std::vector<double>& widths);
  double pair_height(const Pairs& block, const Pairs::Pair& pair, double label, double value);
  void facts(const Pairs& block);
  double table_width(const Grid& grid) const;
  double begun_height(const Grid& grid);

  Pen& pen_;
  const Record& record_;
  double width_, height_, left_, right_, top_, bottom_, y_;
  bool draw_;
  int page_ = 1, pages_;
};

}  // namespace coldwright::print

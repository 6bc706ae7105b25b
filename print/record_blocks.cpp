#include "print/record_blocks.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace coldwright::print {
namespace {

constexpr Colour kInk{0.10, 0.15, 0.16}, kSoft{0.36, 0.40, 0.43}, kTeal{0.043, 0.416, 0.435},
    kPale{0.56, 0.71, 0.70}, kTrough{0.925, 0.937, 0.941}, kRule{0.545, 0.585, 0.60},
    kHair{0.84, 0.86, 0.865}, kAlarm{0.64, 0.32, 0.10};
constexpr double kMargin = 48, kTop = 44, kFoot = 58;  // points
constexpr double kLead = 1.0;

constexpr Style kBody{9.3, false, false, kInk, kLead}, kBold{9.3, true, false, kInk, kLead},
    kLabel{9.3, false, false, kSoft, kLead}, kCell{8.3, false, false, kInk, kLead},
    kCellBold{8.3, true, false, kInk, kLead}, kHeadCell{8.0, true, false, kSoft, kLead},
    kCaption{8.3, false, false, kSoft, kLead}, kSmall{6.8, false, false, kSoft, kLead};
constexpr double kCellGap = 10, kRowPad = 2.2;

Style heading_style(int level) {
  return level == 1   ? Style{18, true, false, kInk, 1}
         : level == 2 ? Style{11.5, true, false, kInk, 1}
                      : kBold;
}

std::string with_number(std::string words, const char* name, int value) {
  const std::string token = name;
  if (const std::size_t at = words.rfind(token); at != std::string::npos)
    words.replace(at, token.size(), std::to_string(value));
  return words;
}

/// A short text for an SVG attribute.
std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.4g", value);
  return text;
}

}  // namespace

Flow::Flow(Pen& pen, const Record& record, double width, double height, bool draw, int pages)
    : pen_(pen),
      record_(record),
      width_(width - 2 * kMargin),
      height_(height),
      left_(kMargin),
      right_(width - kMargin),
      top_(kTop),
      bottom_(height - kFoot),
      y_(kTop),
      draw_(draw),
      pages_(pages) {}

void Flow::lay() {
  for (std::size_t i = 0; i < record_.blocks.size(); ++i) {
    // A heading goes with the beginning of what it heads, also through a second heading.
    if (std::holds_alternative<Heading>(record_.blocks[i])) {
      double together = 0;
      for (std::size_t k = i; k < record_.blocks.size(); ++k) {
        together += first_height(record_.blocks[k]);
        if (!std::holds_alternative<Heading>(record_.blocks[k])) break;
      }
      need(together);
    }
    std::visit([this](const auto& block) { put(block); }, record_.blocks[i]);
  }
  foot();
  if (draw_) pen_.end_page();
}

void Flow::need(double height) {
  if (height > room() && y_ > top_) next_page();
}

void Flow::gap(double height) {
  if (y_ > top_) y_ = std::min(y_ + height, bottom_);
}

void Flow::next_page() {
  foot();
  if (draw_) pen_.end_page();
  ++page_;
  y_ = top_;
}

void Flow::foot() {
  if (!draw_) return;
  const std::string words = with_number(with_number(record_.foot, "{pages}", pages_), "{page}", page_);
  pen_.rule(left_, height_ - 42, right_, height_ - 42, 0.5, kHair);
  pen_.block(left_, height_ - 38, width_, words, kSmall, true, Align::right);
}

double Flow::height_of(double width, const std::string& words, const Style& style) {
  return words.empty() ? 0 : pen_.block(0, 0, width, words, style, false);
}

double Flow::text(double x, double width, const std::string& words, const Style& style, Align align) {
  return words.empty() ? 0 : pen_.block(x, y_, width, words, style, draw_, align);
}

void Flow::running(double x, double width, const std::string& words, const Style& style) {
  std::string rest = words;
  while (!rest.empty()) {
    std::size_t end = pen_.fitting(width, rest, style, room());
    if (end == 0 && y_ <= top_) end = rest.size();  // higher than a page of its own: never for texts of ours
    if (end == 0) {
      next_page();
      continue;
    }
    y_ += text(x, width, rest.substr(0, end), style);
    rest.erase(0, end);
    if (!rest.empty()) next_page();
  }
}

double Flow::first_height(const Block& block) {
  struct Measure {
    Flow& f;
    double operator()(const Letterhead&) const { return 60; }
    double operator()(const Heading& b) const {
      return (b.level == 2 ? 22 : 8) + f.height_of(f.width_, b.text, heading_style(b.level));
    }
    double operator()(const Paragraph& b) const {
      return std::min(f.height_of(f.width_, b.text, b.small ? kSmall : kBody), 27.0);
    }
    double operator()(const Pairs&) const { return 30; }
    double operator()(const Items& b) const {
      if (b.cautions) {
        double height = 16;
        for (const std::string& item : b.items) height += f.height_of(f.width_ - 34, item, kBody) + 3;
        return height;
      }
      return b.items.empty() ? 0 : std::min(f.height_of(f.width_ - 12, b.items.front(), kBody), 27.0);
    }
    double operator()(const Grid& b) const { return f.begun_height(b); }
    double operator()(const Bars& b) const { return 20 + 14.0 * static_cast<double>(b.bars.size()); }
    double operator()(const Figure& b) const {
      return b.height * std::min(1.0, f.width_ / std::max(b.width, 1.0)) + 20;
    }
    double operator()(const Signatures&) const { return 74; }
  };
  return std::visit(Measure{*this}, block);
}

void Flow::put(const Letterhead& block) {
  y_ += text(left_, width_, block.name, {12.5, true, false, kTeal, 1});
  for (const std::string& line : block.lines) y_ += text(left_, width_, line, kCaption);
  y_ += 5;
  if (draw_) pen_.rule(left_, y_, right_, y_, 0.8, kTeal);
  y_ += 9;
}

void Flow::put(const Heading& block) {
  if (block.level == 2) {
    gap(10);
    if (draw_) pen_.rule(left_, y_ + 1, right_, y_ + 1, 0.8, kTeal);
    y_ += 5;
  } else {
    gap(block.level == 1 ? 0 : 5);
  }
  y_ += text(left_, width_, block.text, heading_style(block.level)) + (block.level == 3 ? 1 : 3);
}

void Flow::put(const Paragraph& block) {
  gap(block.small ? 6 : 2);
  running(left_, width_, block.text, block.small ? kSmall : kBody);
  y_ += 2;
}

double Flow::pair_height(const Pairs& block, const Pairs::Pair& pair, double label, double value) {
  double height = height_of(value, pair.value, block.verdicts ? kBody : kBold);
  for (const std::string& line : pair.lines) height += height_of(value, line, kCaption) + 1;
  return std::max(height, height_of(label, pair.label, block.verdicts ? kBold : kLabel));
}

/// Short facts stand in two columns, filled downwards; a long one has the page's width, beneath them.
void Flow::facts(const Pairs& block) {
  const double column = (width_ - 24) / 2;
  double label = 0;
  for (const auto& pair : block.pairs) label = std::max(label, pen_.width(pair.label, kLabel));
  label = std::min(label, 0.45 * column);
  std::vector<const Pairs::Pair*> few, wide;
  for (const auto& pair : block.pairs)
    (height_of(column - label - 12, pair.value, kBold) > 30 ? wide : few).push_back(&pair);
  const std::size_t half = (few.size() + 1) / 2;
  const double value = column - label - 12, from = y_;
  double low = from;
  for (std::size_t i = 0; i < few.size(); ++i) {
    if (i == 0 || i == half) y_ = from;
    const double x = left_ + (i < half ? 0 : column + 24);
    text(x, label, few[i]->label, kLabel);
    text(x + label + 12, value, few[i]->value, kBold);
    y_ += pair_height(block, *few[i], label, value) + 1;
    low = std::max(low, y_);
  }
  y_ = low;
  for (const auto* pair : wide) {
    const double height = pair_height(block, *pair, label, width_ - label - 12);
    need(height);
    text(left_, label, pair->label, kLabel);
    text(left_ + label + 12, width_ - label - 12, pair->value, kBold);
    y_ += height + 1;
  }
}

void Flow::put(const Pairs& block) {
  gap(2);
  if (!block.verdicts) return facts(block);
  double label = 60;
  for (const auto& pair : block.pairs)
    label = std::max(label, pen_.width(pair.label, block.verdicts ? kBold : kLabel));
  label = std::min(label, 0.34 * width_);
  const double value = width_ - label - 14;
  for (const auto& pair : block.pairs) {
    const double height = pair_height(block, pair, label, value);
    const bool long_one = height > 120;
    need(long_one ? 40 : height);
    text(left_, label, pair.label, block.verdicts ? kBold : kLabel);
    const double begin = y_;
    if (long_one) {
      running(left_ + label + 14, value, pair.value, block.verdicts ? kBody : kBold);
      for (const std::string& line : pair.lines) running(left_ + label + 14, value, line, kCaption);
    } else {
      y_ += text(left_ + label + 14, value, pair.value, block.verdicts ? kBody : kBold);
      for (const std::string& line : pair.lines) y_ += 1 + text(left_ + label + 14, value, line, kCaption);
      y_ = std::max(y_, begin + height);
    }
    y_ += block.verdicts ? 3.5 : 1;
  }
}

void Flow::put(const Items& block) {
  if (block.cautions) {
    need(first_height(block));
    gap(2);
    const double from = y_;
    y_ += 7;
    for (const std::string& item : block.items) {
      if (draw_) pen_.triangle(left_ + 9, y_ + 2, 9.5, kAlarm);
      y_ += text(left_ + 25, width_ - 34, item, kBody) + 3;
    }
    y_ += 4;
    if (draw_) pen_.frame(left_ + 0.5, from, width_ - 1, y_ - from, 1, kAlarm);
    return;
  }
  gap(1);
  for (const std::string& item : block.items) {
    need(std::min(height_of(width_ - 12, item, kBody), 26.0));
    text(left_, 10, "\u2022", kBody);
    running(left_ + 12, width_ - 12, item, kBody);
    y_ += 1.5;
  }
}

double Flow::table_width(const Grid& grid) const { return grid.narrow ? 0.62 * width_ : width_; }

/// Shares of the width, widened where a head's longest word would not fit.
std::vector<double> Flow::widths_of(const Grid& grid) {
  double shares = 0;
  for (const auto& column : grid.columns) shares += column.share;
  const double room = table_width(grid) - kCellGap * static_cast<double>(grid.columns.size() - 1);
  std::vector<double> widths, least;
  for (std::size_t c = 0; c < grid.columns.size(); ++c) {
    widths.push_back(room * grid.columns[c].share / shares);
    double need = pen_.width(grid.columns[c].label, kHeadCell);
    // Numbers with their units are not to be broken.
    if (grid.columns[c].right)
      for (const auto& row : grid.rows)
        if (c < row.size()) need = std::max(need, pen_.width(row[c], kCellBold));
    least.push_back(std::min(need + 0.5, 0.3 * room));
  }
  double missing = 0, spare = 0;
  for (std::size_t c = 0; c < widths.size(); ++c) {
    missing += std::max(0.0, least[c] - widths[c]);
    spare += std::max(0.0, widths[c] - least[c]);
  }
  const double taken = spare > 0 ? std::min(1.0, missing / spare) : 0;
  for (std::size_t c = 0; c < widths.size(); ++c)
    widths[c] = widths[c] < least[c] ? least[c] : widths[c] - taken * (widths[c] - least[c]);
  return widths;
}

double Flow::row_height(const Grid& grid, const std::vector<double>& widths,
                        const std::vector<std::string>& row, const Style& style) {
  double height = height_of(100, "0", style);
  for (std::size_t c = 0; c < row.size() && c < grid.columns.size(); ++c)
    height = std::max(height, height_of(widths[c], row[c], style));
  return height + 2 * kRowPad;
}

void Flow::grid_row(const Grid& grid, const std::vector<double>& widths, const std::vector<std::string>& row,
                    const Style& style) {
  const double height = row_height(grid, widths, row, style), from = y_;
  y_ += kRowPad;
  double x = left_;
  for (std::size_t c = 0; c < row.size() && c < grid.columns.size(); ++c) {
    text(x, widths[c], row[c], style, grid.columns[c].right ? Align::right : Align::left);
    x += widths[c] + kCellGap;
  }
  y_ = from + height;
}

void Flow::grid_head(const Grid& grid, const std::vector<double>& widths) {
  std::vector<std::string> heads;
  for (const auto& column : grid.columns) heads.push_back(column.label);
  grid_row(grid, widths, heads, kHeadCell);
  if (draw_) pen_.rule(left_, y_, left_ + table_width(grid), y_, 0.8, kRule);
}

/// What a table needs where it begins: a small one stays whole, a large one begins with three rows.
double Flow::begun_height(const Grid& grid) {
  if (grid.columns.empty()) return 0;
  const std::vector<double> widths = widths_of(grid);
  double whole = (grid.caption.empty() ? 0 : 14) + 23, begun = whole;
  for (std::size_t r = 0; r < grid.rows.size() && whole < 0.4 * height_; ++r) {
    whole += row_height(grid, widths, grid.rows[r], kCellBold);
    if (r < 3) begun = whole;
  }
  return whole < 0.33 * height_ ? whole : begun;
}

void Flow::put(const Grid& block) {
  if (block.columns.empty() || block.rows.empty()) return;
  const std::vector<double> widths = widths_of(block);
  gap(5);
  const double right = left_ + table_width(block);
  need(begun_height(block));
  if (!block.caption.empty()) y_ += text(left_, width_, block.caption, kBold) + 1;
  grid_head(block, widths);
  for (std::size_t r = 0; r < block.rows.size(); ++r) {
    const bool sum = r + block.sums >= block.rows.size();
    const Style& style = sum ? kCellBold : kCell;
    double height = row_height(block, widths, block.rows[r], style);
    // Sums stay with each other and with the last row above them.
    if (block.sums > 0 && r + block.sums + 1 == block.rows.size())
      for (std::size_t k = r + 1; k < block.rows.size(); ++k)
        height += row_height(block, widths, block.rows[k], kCellBold);
    if (height > room() && y_ > top_ + 40) {
      next_page();
      grid_head(block, widths);
    }
    if (draw_ && sum && r + block.sums == block.rows.size()) pen_.rule(left_, y_, right, y_, 0.8, kRule);
    grid_row(block, widths, block.rows[r], style);
    const bool hair = !sum && r + block.sums + 1 != block.rows.size();
    if (draw_ && (hair || (block.sums == 0 && r + 1 == block.rows.size())))
      pen_.rule(left_, y_, right, y_, 0.4, kHair);
  }
  y_ += 4;
}

void Flow::put(const Bars& block) {
  need(first_height(block));
  gap(4);
  y_ += text(left_, width_, block.caption, kCaption) + 3;
  double label = 0, number = 0, words = 0;
  for (const auto& bar : block.bars) {
    label = std::max(label, pen_.width(bar.label, kBody));
    number = std::max(number, pen_.width(bar.text, kBold));
    words = std::max(words, pen_.width(bar.words, kLabel));
  }
  label = std::min(label + 1, 0.36 * width_);
  const double trough = std::max(80.0, width_ - label - number - words - 30);
  for (const auto& bar : block.bars) {
    const double height = std::max(12.0, height_of(label, bar.label, kBody));
    need(height);
    text(left_, label, bar.label, kBody);
    const double x = left_ + label + 10;
    if (draw_) {
      pen_.fill(x, y_ + 3, trough, 7, kTrough);
      pen_.fill(x, y_ + 3, std::max(0.6, trough * std::clamp(bar.share, 0.0, 1.0)), 7,
                bar.found ? kTeal : kPale);
    }
    text(x + trough + 8, number, bar.text, kBold, Align::right);
    text(x + trough + 8 + number + 10, words + 4, bar.words, kLabel);
    y_ += height + 2;
  }
  y_ += 2;
}

void Flow::put(const Figure& block) {
  if (block.width <= 0 || block.height <= 0) return;
  const double scale = std::min(1.0, width_ / block.width);
  const double height = block.height * scale;
  need(height + 18);
  gap(5);
  if (draw_) pen_.svg(left_, y_, block.width * scale, height, block.svg);
  y_ += height + 1;
  y_ += text(left_, width_, block.caption, kCaption) + 3;
}

void Flow::put(const Signatures& block) {
  const double each = (width_ - 30) / 2;
  for (std::size_t i = 0; i < block.signatures.size(); i += 2) {
    need(72);
    const double from = y_;
    for (std::size_t k = i; k < std::min(i + 2, block.signatures.size()); ++k) {
      const auto& one = block.signatures[k];
      const double x = left_ + static_cast<double>(k - i) * (each + 30);
      if (draw_ && !one.path.empty() && one.width > 0 && one.height > 0) {
        const double scale = std::min({(each - 10) / one.width, 40 / one.height});
        const std::string drawn = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " +
                                  number(one.width) + " " + number(one.height) + "\"><path d=\"" + one.path +
                                  "\" fill=\"none\" stroke=\"#1a2629\" stroke-width=\"" +
                                  number(0.9 / scale) +
                                  "\" stroke-linecap=\"round\" stroke-linejoin=\"round\"/></svg>";
        pen_.svg(x, from + 44 - one.height * scale, one.width * scale, one.height * scale, drawn);
      }
      if (draw_) pen_.rule(x, from + 46, x + each, from + 46, 0.7, kInk);
      y_ = from + 49;
      text(x, each, one.label + ": " + one.name + (one.at.empty() ? "" : ", " + one.at), kCaption);
    }
    double under = 0;
    for (std::size_t k = i; k < std::min(i + 2, block.signatures.size()); ++k) {
      const auto& one = block.signatures[k];
      under = std::max(
          under,
          height_of(each, one.label + ": " + one.name + (one.at.empty() ? "" : ", " + one.at), kCaption));
    }
    y_ = from + 49 + under + 4;
  }
}

}  // namespace coldwright::print

#include "print/card.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "print/pen.hpp"

namespace coldwright::print {
namespace {

constexpr Colour kInk{0.10, 0.13, 0.15}, kSoft{0.36, 0.40, 0.43}, kWhite{1, 1, 1}, kBand{0.13, 0.22, 0.25},
    kZebra{0.945, 0.94, 0.92}, kTint{0.80, 0.87, 0.89}, kRule{0.62, 0.65, 0.66}, kAlarm{0.66, 0.10, 0.12};
constexpr double kMargin = 32, kBetween = 14;  // points

/// Widths at scale 1.
constexpr double kTemperature = 31, kWide = 40, kPart = 36, kGlide = 27;
constexpr double kRowHeight = 11.4, kFont = 8.2, kHead = 30;
constexpr double kSmallest = 0.93;  // 7.6 points: as small as still reads in a plant room (our-estimate)

double width_of(const Column& column) {
  double width = 0;
  if (column.parts.size() == 1) return kWide;
  for (std::size_t i = 0; i < column.parts.size(); ++i) width += i < 2 ? kPart : kGlide;
  return width;
}

double part_width(const Column& column, std::size_t part) {
  return column.parts.size() == 1 ? kWide : part < 2 ? kPart : kGlide;
}

/// Columns that stand on one page.
struct Group {
  std::size_t first = 0, count = 0;
  double width = 0;  // with the temperature, at scale 1
};

std::vector<Group> groups_of(const Card& card, double room) {
  std::vector<Group> groups;
  for (std::size_t i = 0; i < card.columns.size(); ++i) {
    const double width = width_of(card.columns[i]);
    if (groups.empty() || groups.back().width + width > room) groups.push_back({i, 0, kTemperature});
    groups.back().width += width;
    ++groups.back().count;
  }
  return groups;
}

/// How one group's rows fall onto pages: blocks side by side, rows in each.
struct Fall {
  double scale = 1;    // of letters and rows
  double stretch = 1;  // of columns beyond that, where the page is wider
  double lead = 1;     // of rows beyond that, where it is longer
  std::size_t blocks = 1, rows = 1, pages = 1;
};

Fall fall_at(double scale, const Group& group, std::size_t rows, double width, double height) {
  Fall fall{scale, 1, 1, 1, 1, 1};
  const auto high =
      static_cast<std::size_t>(std::max(1.0, std::floor((height - kHead * scale) / (kRowHeight * scale))));
  const auto wide = static_cast<std::size_t>(
      std::max(1.0, std::floor((width + kBetween) / (group.width * scale + kBetween))));
  fall.blocks = std::min(wide, (rows + 9) / 10);  // no block of a handful of rows
  fall.pages = (rows + fall.blocks * high - 1) / (fall.blocks * high);
  const std::size_t a_page = (rows + fall.pages - 1) / fall.pages;
  fall.rows = std::min(high, (a_page + fall.blocks - 1) / fall.blocks);
  fall.blocks = std::min(fall.blocks, (a_page + fall.rows - 1) / fall.rows);
  const auto blocks = static_cast<double>(fall.blocks);
  fall.stretch = std::clamp((width - (blocks - 1) * kBetween) / (blocks * group.width * scale), 1.0, 1.3);
  fall.lead =
      std::clamp((height - kHead * scale) / (static_cast<double>(fall.rows) * kRowHeight * scale), 1.0, 1.5);
  return fall;
}

/// As large as it goes without another page.
Fall fall_of(const Group& group, std::size_t rows, double width, double height) {
  const Fall least = fall_at(kSmallest, group, rows, width, height);
  for (double scale = 1.5; scale > kSmallest; scale -= 0.01) {
    if (group.width * scale > width) continue;
    const Fall larger = fall_at(scale, group, rows, width, height);
    if (larger.pages <= least.pages && larger.blocks * larger.rows * larger.pages >= rows) return larger;
  }
  return least;
}

class Sheet {
 public:
  Sheet(const Card& card, double width, double height)
      : card_(card), width_(width), height_(height), pen_(width, height, card.title, card.created) {
    top_ = kMargin + header(false);
    foot_with(card.sources);
  }

  /// What stands for the sources at the foot of every page.
  void foot_with(const std::string& sources) {
    sources_ = sources;
    bottom_ = height_ - kMargin - footer(false, "") - 7;
  }
  double sources_height() {
    return pen_.block(0, 0, room_across() - 80, sources_, {6.2, false, false, kSoft}, false);
  }

  double room_across() const { return width_ - 2 * kMargin; }
  double room_down() const { return bottom_ - top_; }

  void page(const Group& group, const Fall& fall, std::size_t first, const std::string& page_words) {
    header(true);
    across_ = fall.scale * fall.stretch;
    row_ = kRowHeight * fall.scale * fall.lead;
    const double block = group.width * across_, more = static_cast<double>(fall.blocks - 1);
    const double spare = std::max(0.0, room_across() - (more + 1) * block - more * kBetween);
    const double gap = more > 0 ? kBetween + std::min(spare / more, 30.0) : 0;
    const double left = kMargin + (room_across() - (more + 1) * block - more * gap) / 2;
    for (std::size_t b = 0; b < fall.blocks; ++b) {
      const std::size_t from = first + b * fall.rows;
      if (from >= card_.rows.size()) break;
      table(group, fall.scale, left + static_cast<double>(b) * (block + gap), from,
            std::min(fall.rows, card_.rows.size() - from));
    }
    footer(true, page_words);
    pen_.end_page();
  }

  void page_of_sources(const std::string& page_words) {
    header(true);
    pen_.block(kMargin, top_ + 4, room_across(), card_.sources, {8.2, false, false, kInk});
    sources_.clear();
    footer(true, page_words);
    pen_.end_page();
  }

  std::string finish() { return pen_.finish(); }

 private:
  double header(bool draw) {
    double y = kMargin;
    if (draw) pen_.text(kMargin, y + 14, card_.title, {16, true, false, kInk});
    y += 24;
    std::string notes;
    for (const std::string& note : card_.notes) notes += (notes.empty() ? "" : " ") + note;
    y += pen_.block(kMargin, y, room_across(), notes, {8, false, false, kSoft}, draw);
    return y + 8 - kMargin;
  }

  /// Measured from below: its height is the same on every page.
  double footer(bool draw, const std::string& page_words) {
    const Style caution{8.2, false, false, kInk}, small{6.2, false, false, kSoft};
    const double across = room_across(), after_sign = 16;
    double height = 10;
    for (const std::string& words : card_.cautions)
      height += pen_.block(0, 0, across - after_sign, words, caution, false) + 3;
    height += pen_.block(0, 0, across - 80, sources_, small, false) + 4;
    if (!draw) return height;
    double y = height_ - kMargin - height;
    pen_.rule(kMargin, y + 5, width_ - kMargin, y + 5, 0.8, kRule);
    y += 9;
    for (const std::string& words : card_.cautions) {
      pen_.triangle(kMargin, y + 0.6, 9.5, kAlarm);
      y += pen_.block(kMargin + after_sign, y, across - after_sign, words, caution) + 3;
    }
    y += 2;
    pen_.block(kMargin, y, across - 80, sources_, small);
    pen_.text(width_ - kMargin, height_ - kMargin, page_words, {8, false, false, kSoft}, Align::right);
    return height;
  }

  void table(const Group& group, double scale, double x, std::size_t from, std::size_t count) {
    head(group, scale, x);
    const double width = group.width * across_;
    double y = top_ + kHead * scale;
    for (std::size_t i = 0; i < count; ++i, y += row_) {
      if (i % 2 == 1) pen_.fill(x, y, width, row_, kZebra);
      line(group, scale, x, y, card_.rows[from + i]);
    }
    rules(group, scale, x, y);
  }

  void head(const Group& group, double scale, double x) {
    const double middle = top_ + 13 * scale, low = top_ + 25 * scale;
    pen_.fill(x, top_, group.width * across_, kHead * scale, kBand);
    const Style bold{9.2 * scale, true, false, kWhite}, plain{7 * scale, false, false, kWhite};
    pen_.text(x + kTemperature * across_ - 7 * scale, low, card_.temperature_unit, bold, Align::right);
    double at = x + kTemperature * across_;
    for (std::size_t i = 0; i < group.count; ++i) {
      const Column& column = card_.columns[group.first + i];
      const double width = width_of(column) * across_;
      Style name = bold;
      const double room = width - 4 * scale;
      if (const double wide = pen_.width(column.refrigerant, name); wide > room) name.size *= room / wide;
      if (column.parts.size() == 1) {
        pen_.text(at + width / 2, middle, column.refrigerant, name, Align::centre);
        pen_.text(at + width / 2, low, column.under, plain, Align::centre);
      } else {
        blend_head(column, scale, at, width, name, plain);
      }
      at += width;
    }
  }

  void blend_head(const Column& column, double scale, double at, double width, const Style& name,
                  const Style& plain) {
    const double middle = top_ + 13 * scale, low = top_ + 25 * scale;
    const double both = pen_.width(column.refrigerant, name) + 5 * scale + pen_.width(column.under, plain);
    const double start = at + std::max(2 * scale, (width - both) / 2);
    pen_.text(start, middle, column.refrigerant, name);
    if (both < width)
      pen_.text(start + pen_.width(column.refrigerant, name) + 5 * scale, middle, column.under, plain);
    for (std::size_t part = 0; part < column.parts.size(); ++part) {
      const double wide = part_width(column, part) * across_;
      pen_.text(at + wide - 9 * scale, low, column.parts[part], plain, Align::right);
      at += wide;
    }
  }

  void line(const Group& group, double scale, double x, double y, const Row& row) {
    const double base = y + row_ / 2 + 0.36 * kFont * scale;
    pen_.text(x + kTemperature * across_ - 7 * scale, base, row.temperature,
              {kFont * scale, true, false, kInk}, Align::right);
    std::size_t cell = 0;
    for (std::size_t i = 0; i < group.first; ++i) cell += card_.columns[i].parts.size();
    double at = x + kTemperature * across_;
    for (std::size_t i = 0; i < group.count; ++i) {
      const Column& column = card_.columns[group.first + i];
      for (std::size_t part = 0; part < column.parts.size(); ++part, ++cell) {
        const double wide = part_width(column, part) * across_;
        if (cell < row.cells.size()) number(scale, at, base, y, wide, row.cells[cell], part == 2);
        at += wide;
      }
    }
  }

  void number(double scale, double at, double base, double y, double wide, const Cell& cell, bool quiet) {
    if (cell.vacuum) pen_.fill(at + 1, y, wide - 2, row_, kTint);
    const Style style{(quiet ? 7.2 : kFont) * scale, false, cell.vacuum, quiet ? kSoft : kInk};
    pen_.text(at + wide - 9 * scale, base, cell.text, style, Align::right);
    if (!cell.mark.empty()) pen_.text(at + wide - 8.4 * scale, base, cell.mark, style);
  }

  void rules(const Group& group, double scale, double x, double bottom) {
    double at = x + kTemperature * across_;
    for (std::size_t i = 0; i < group.count; ++i) {
      pen_.rule(at, top_ + kHead * scale, at, bottom, 0.6, kRule);
      at += width_of(card_.columns[group.first + i]) * across_;
    }
    pen_.rule(x, bottom, at, bottom, 1, kBand);
  }

  const Card& card_;
  std::string sources_;
  double width_, height_, top_ = 0, bottom_ = 0;
  double across_ = 1;  // on this page, what widths of columns are multiplied by
  double row_ = 1;     // and the height of a row
  Pen pen_;
};

std::string filled(std::string words, std::size_t page, std::size_t pages) {
  for (const auto& [name, value] : {std::pair{"{page}", page}, {"{pages}", pages}}) {
    const std::string token = name;
    if (const std::size_t at = words.find(token); at != std::string::npos)
      words.replace(at, token.size(), std::to_string(value));
  }
  return words;
}

struct Turn {
  Group group;
  Fall fall;
  std::size_t first;
};

std::vector<Turn> turns_of(const Card& card, const Sheet& sheet) {
  std::vector<Turn> turns;
  for (const Group& group : groups_of(card, sheet.room_across())) {
    const Fall fall = fall_of(group, card.rows.size(), sheet.room_across(), sheet.room_down());
    for (std::size_t page = 0; page < fall.pages; ++page)
      turns.push_back({group, fall, page * fall.blocks * fall.rows});
  }
  return turns;
}

}  // namespace

Result<std::string> card_pdf(const Card& card, Paper paper) {
  const double width = paper == Paper::a4 ? 595.28 : 612, height = paper == Paper::a4 ? 841.89 : 792;
  Sheet sheet(card, width, height);
  std::vector<Turn> turns = turns_of(card, sheet);
  // Many sources on every page would take the room of rows: they move to a page of their own.
  const bool apart = turns.size() > 1 && sheet.sources_height() > 44;
  if (apart) {
    sheet.foot_with(filled(card.sources_words, 999, 999));
    turns = turns_of(card, sheet);
    sheet.foot_with(filled(card.sources_words, turns.size() + 1, 0));
  }
  const std::size_t pages = turns.size() + (apart ? 1 : 0);
  if (sheet.room_down() < kHead + 10 * kRowHeight)
    return Problem{"card", "more cautions and notes than leave room for rows",
                   "fewer refrigerants on one card", "each page carries them all"};
  for (std::size_t i = 0; i < turns.size(); ++i)
    sheet.page(turns[i].group, turns[i].fall, turns[i].first, filled(card.page_words, i + 1, pages));
  if (apart) sheet.page_of_sources(filled(card.page_words, pages, pages));
  std::string bytes = sheet.finish();
  if (bytes.empty())
    return Problem{"card", "a page that could not be written", "another try", "Cairo gave up"};
  return bytes;
}

}  // namespace coldwright::print

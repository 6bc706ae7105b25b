// A pressure-temperature card as the bytes of a PDF: plain texts in, pages out. As many columns stand side by
// side and as many rows below each other as fit; more go to further pages, each complete in itself.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace coldwright::print {

enum class Paper { a4, letter };

struct Cell {
  std::string text;     // "41.2", "–"
  bool vacuum = false;  // slanted, on a tint
  std::string mark;     // hangs behind the number, out of its column: "″"
};

struct Column {
  std::string refrigerant;         // "R448A"
  std::string under;               // "A1"
  std::vector<std::string> parts;  // names of its cells; one empty name when there is only one
};

struct Row {
  std::string temperature;
  std::vector<Cell> cells;  // of all columns' parts, in order
};

struct Card {
  std::string title;
  std::string temperature_unit;       // "°F"
  std::vector<std::string> notes;     // beneath the title
  std::vector<std::string> cautions;  // at the foot, each with a sign
  std::string sources;                // at the foot, small
  std::string sources_words;          // "Sources: page {page}", where they stand on a page of their own
  std::string page_words;             // "page {page} of {pages}"
  std::vector<Column> columns;
  std::vector<Row> rows;
  std::int64_t created = 0;  // seconds since 1970
};

/// A Problem when a column alone is wider than the page, or when the notes leave no room for rows.
Result<std::string> card_pdf(const Card& card, Paper paper);

}  // namespace coldwright::print

// A record as the bytes of a PDF: plain blocks in, pages out. The blocks are those of the core's model;
// nothing is worded here. Text flows over as many pages as it takes: no heading stands alone at a page's
// foot, no line of a paragraph alone at either end, a table's head comes again on each page, what belongs
// together stays so.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "base/result.hpp"
#include "print/card.hpp"

namespace coldwright::print {

struct Letterhead {
  std::string name;
  std::vector<std::string> lines;
};
struct Heading {
  int level = 2;
  std::string text;
};
struct Paragraph {
  std::string text;
  bool small = false;
};
struct Pairs {
  struct Pair {
    std::string label, value;
    std::vector<std::string> lines;  // beneath the value
  };
  std::vector<Pair> pairs;
  bool verdicts = false;  // the label weighs, the value runs on
};
struct Items {
  std::vector<std::string> items;
  bool cautions = false;  // in a frame, each with a sign
};
struct Grid {
  struct Head {
    std::string label;
    bool right = false;
    double share = 1;  // of the width, beside the others
  };
  std::string caption;
  std::vector<Head> columns;
  std::vector<std::vector<std::string>> rows;
  std::size_t sums = 0;  // the last rows sum those above
  bool narrow = false;   // few and short columns: not over the page's whole width
};
struct Bars {
  struct Bar {
    std::string label, text, words;
    double share = 0;
    bool found = false;
  };
  std::string caption;
  std::vector<Bar> bars;
};
struct Figure {
  std::string svg, caption;
  double width = 0, height = 0;
};
struct Signatures {
  struct Signature {
    std::string label, name, at, path;
    double width = 0, height = 0;
  };
  std::vector<Signature> signatures;
};

using Block = std::variant<Letterhead, Heading, Paragraph, Pairs, Items, Grid, Bars, Figure, Signatures>;

struct Record {
  std::string title, author;
  std::string foot;  // with {page} and {pages}
  std::vector<Block> blocks;
  std::int64_t created = 0;  // seconds since 1970
};

/// A Problem only when Cairo could not write.
Result<std::string> record_pdf(const Record& record, Paper paper);

}  // namespace coldwright::print

// The diagrams of one refrigerant as one SVG: pressure against enthalpy and pressure against temperature, a
// machine's cycle and readings on them, and the numbers beneath. Drawn for a phone's width, in light and
// dark; nothing is told by colour alone. A pure function of its values.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/field_units.hpp"
#include "drawing/cycle.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::drawing {

enum class Diagrams { both, enthalpy, temperature };

/// Where a cycle comes from; each has a line of its own kind.
enum class Role { given, sound, inferred };
struct DrawnCycle {
  Role role = Role::given;
  std::string name;  // "the cycle as inferred"
  Cycle cycle;
};

/// A reading against what a sound machine would show there; each has a shape of its own.
enum class Against { unknown, within, above, below };
struct Mark {
  std::string name;    // "suction line"
  Sample at;           // its enthalpy counts only with `single`
  bool single = true;  // pressure and temperature fix the state; else it stands in the second diagram only
  Against against = Against::unknown;
};

struct Chart {
  const fluids::Fluid* fluid = nullptr;
  base::Display display;
  std::function<std::string(std::string_view key)>
      word;  // the reader's language: "superheat", "dew_line", ...
  std::string title, subtitle;
  std::vector<DrawnCycle> cycles;  // the last one is the one that is numbered
  std::vector<Mark> marks;         // at most 26
  std::vector<std::string> notes;  // cautions and remarks, printed beneath
  Diagrams diagrams = Diagrams::both;
  /// Set where the diagrams stand in a page that says the rest itself: nothing but them, this many units
  /// wide, without a style sheet. Words keep their size, so a narrow one is read at a phone's width.
  std::optional<double> picture_width;
};

/// The SVG document. Each plot carries its axes as data attributes, so that a reader of the file can turn
/// places back into values. Pure refrigerants about 10 ms, blends up to half a second.
std::string draw(const Chart& chart);

/// A picture drawn with `picture_width` made fit for paper: the style of the light page within it, and no
/// declaration before it, so that it can stand in another document.
std::string for_paper(const std::string& picture);

}  // namespace coldwright::drawing

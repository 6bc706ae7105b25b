// The look: one style sheet for light and dark, and the shapes that stand for what colour says too.
// Kept to drawing/.
#pragma once

#include "drawing/chart.hpp"
#include "drawing/svg.hpp"

namespace coldwright::drawing {

inline constexpr double page_width = 390;
inline constexpr double small_size = 9.5, text_size = 10.5, title_size = 16;

inline double width_of(const Chart& chart) { return chart.picture_width.value_or(page_width); }

std::string style_sheet();
/// The light page's alone, for paper.
std::string paper_style_sheet();

/// The class of a cycle's line.
std::string_view css_of(Role role);

/// The shape of a reading, centred: a ring (within), a triangle up (above) or down (below), a diamond (not
/// compared).
void mark_shape(Svg& svg, Place at, Against against);
/// A corner of a cycle.
void corner_shape(Svg& svg, Place at, Role role);

}  // namespace coldwright::drawing

// How a column's numbers look, and what only all columns together tell.
#include <algorithm>
#include <cmath>

#include "traces/guess_parts.hpp"

namespace coldwright::traces {
namespace {

bool power_in(const ColumnLayout& column) { return column.what == What::power && column.unit != "VA"; }

void make_other(Layout& layout, std::size_t c, const char* why, std::vector<Question>& questions) {
  ColumnLayout& column = layout.columns[c];
  const std::string was(info(column.what).word);
  column.what = What::other;
  column.unit.clear();
  column.confidence = std::min(column.confidence, 0.7);
  column.why = why;
  std::erase_if(questions, [&](const Question& q) { return q.column == static_cast<int>(c); });
  questions.push_back({"what_is_it", static_cast<int>(c), {"other", was}});
}

}  // namespace

Shape shape_of(const std::vector<double>& values) {
  Shape out;
  if (values.empty()) return out;
  std::vector<double> sorted = values;
  std::sort(sorted.begin(), sorted.end());
  const auto at = [&](double q) {
    return sorted[static_cast<std::size_t>(q * static_cast<double>(sorted.size() - 1))];
  };
  out.low = at(0.02);
  out.mid = at(0.5);
  out.high = at(0.98);
  out.constant = values.size() > 20 && sorted.front() == sorted.back();
  const double range = out.high - out.low;
  std::size_t falls = 0, rises = 0, jumps = 0, same_step = 0;
  for (std::size_t i = 1; i < values.size(); ++i) {
    const double step = values[i] - values[i - 1];
    falls += step < 0;
    rises += step > 0;
    jumps += range > 0 && std::abs(step) > 0.4 * range;
    same_step += step != 0 && step == values[1] - values[0] && step == std::floor(step);
  }
  for (const double v : values) out.precise = out.precise || std::abs(v * 10 - std::round(v * 10)) > 1e-6;
  const std::size_t steps = values.size() - 1;
  out.counting = steps >= 20 && same_step * 20 > steps * 19;
  out.rising = steps >= 5 && rises > 3 * falls && falls * 200 <= steps;
  out.switching = out.low >= -0.02 * out.high && at(0.2) < 0.15 * out.high && jumps >= 2;
  return out;
}

void settle_columns(Layout& layout, std::vector<Question>& questions) {
  const auto words = [&](std::size_t c) { return with_blanks(layout.columns[c].header); };
  std::size_t powers = 0, parts = 0, machines = 0;
  for (std::size_t c = 0; c < layout.columns.size(); ++c) {
    if (!power_in(layout.columns[c])) continue;
    ++powers;
    parts += !names_whole(words(c));
    machines += names_machine(words(c));
  }
  for (std::size_t c = 0; c < layout.columns.size() && powers > 0; ++c) {
    const ColumnLayout& column = layout.columns[c];
    const bool apparent = column.what == What::power && column.unit == "VA";
    if (apparent || is_energy(column.what))
      make_other(layout, c, "said_already", questions);
    else if (power_in(column) && names_whole(words(c)) && !names_machine(words(c)) && parts > 0)
      make_other(layout, c, "whole", questions);
    else if (power_in(column) && !names_machine(words(c)) && machines > 0)
      make_other(layout, c, "another", questions);
  }
}

}  // namespace coldwright::traces

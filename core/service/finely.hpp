// Small numbers said with digits that still tell something: flows of a capillary, a vacuum no pump reaches,
// chances near none and all. Kept to service/.
#pragma once

#include <cmath>
#include <string>

#include "base/field_units.hpp"
#include "service/procedure_answer.hpp"

namespace coldwright::service {

/// A quantity with two digits that aren't zero, whatever its size.
inline base::Shown finely(base::Shown shown) {
  const double size = std::abs(shown.value);
  while (size > 0 && size * std::pow(10, shown.decimals) < 10 && shown.decimals < 9) ++shown.decimals;
  return shown;
}
inline std::string fine_text(base::Dimension dimension, double si, const base::Display& display) {
  return finely(base::show(dimension, si, display)).text();
}
inline std::string vacuum_text(double p, const base::Display& display) {
  return finely(base::show_vacuum(base::Pressure{p}, display)).text();
}
/// "3.4 %", "<0.1 %", ">99.9 %": no chance that was reckoned is none or all.
inline std::string chance_text(double p, const base::Display& display) {
  const std::string unit = std::string(display.numerals.gap) + "%";
  if (p < 0.001) return "<" + base::number_text(0.1, 1, display.numerals) + unit;
  if (p > 0.999) return ">" + base::number_text(99.9, 1, display.numerals) + unit;
  if (p > 0.99) return base::number_text(100 * p, 1, display.numerals) + unit;
  return percent_text(p, display);
}

}  // namespace coldwright::service

// Fits the bubble and dew lines of a blend to the converged equilibria of its mixture model.
#pragma once

#include "base/result.hpp"
#include "fluids/blend_model.hpp"

namespace coldwright::fluids {

/// From 190 K (a colder place for blends of cryogenic components) to 0.99 of the critical temperature, or
/// where an equilibrium stops being found before it. A Problem where the mixture has no critical point of its
/// own or its lines don't reach far. Within `stated_error` of the model at points between those fitted. Cost:
/// 5-30 ms.
Result<BlendCurves> fit_lines(const std::string& designation, const Mixture& mixture,
                              const Amounts& mass_fractions);

}  // namespace coldwright::fluids

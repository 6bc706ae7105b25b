// The judge's numbers as pictures for docs/evidence.md: SVG texts, in words of plain English.
#pragma once

#include <string>
#include <vector>

#include "judge/path.hpp"
#include "judge/score.hpp"

namespace coldwright::judge {

/// Stated against achieved, by tenths of the leading answer's probability; the band is what chance alone
/// leaves of an exact statement (one standard deviation). Tenths with fewer than eight calls are left out.
std::string calibration_picture(const Score& s);

/// True cause down, leading answer across, each row its share; two causes stand together in one row and
/// column. Words for those above .1.
std::string confusion_picture(const Score& s);

/// Share of visits that have come to a right verdict within so many minutes, by the order of reading.
std::string cost_picture(const std::vector<Path>& paths);

}  // namespace coldwright::judge

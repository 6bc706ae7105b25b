// What stands under every answer: which program, which data, and what the models rest on.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace coldwright::service {

/// Of project() in CMakeLists.txt; a test holds the two together.
inline constexpr std::string_view program_version = "0.1.0";

/// A fingerprint of every file of data/ carried inside the program: another data set, another version.
std::string data_version();

/// "Zivi (1964), Estimation of ..., Journal of Heat Transfer" from data/references.bib. A source may carry
/// its place ("zivi1964, Table 2"); the key itself comes back when the file doesn't know it.
std::string citation(std::string_view source);

}  // namespace coldwright::service

// How each figure is reckoned: formula, symbols of its inputs, sources. data/formulas.json, by the figure's
// key.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace coldwright::service {

struct Formula {
  /// "Q = V dp/dt"; empty where it needs words, which stand in the wording section "formulas".
  std::string text;                            // "Q = V dp/dt"
  std::map<std::string, std::string> symbols;  // key of an input -> its symbol
  std::vector<std::string> cited;              // keys of references.bib
  std::string basis;                           // one of bases()
};

/// What a figure may rest on: "published", "common_practice", "from_memory", "our_estimate", "computed".
const std::vector<std::string>& bases();

/// Problem when there is none of this key or the data is damaged.
Result<Formula> formula_of(std::string_view key);

/// Every key there is.
std::vector<std::string> formula_keys();

}  // namespace coldwright::service

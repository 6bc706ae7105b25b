// Numbers from rows: how often right, and whether probabilities mean what they say. All under one merge of
// names (row.hpp).
#pragma once

#include <array>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "judge/row.hpp"

namespace coldwright::judge {

struct Score {
  long calls = 0;
  // sums of the calls' weights
  double n = 0, top1 = 0, top2 = 0;
  double named = 0;                 // the leading answer has at least one of the true causes in it
  double sure = 0, sure_right = 0;  // leading answer above .9
  double squares = 0;               // of the weights
  double log_loss = 0;              // sum of -ln of the truth's probability, floored at 1e-6
  double entropy = 0;               // sum, bits
  double solves = 0, minutes = 0;
  // by tenths of the leading answer's probability: sums
  std::array<double, 10> count{};
  std::array<double, 10> stated{}, right{}, doubt{};
  std::map<std::string, std::pair<double, double>> by_class;  // truth: right, all
  std::map<std::string, std::map<std::string, double>>
      confusion;  // truth: leading answer, right ones included
};

Score score(const std::vector<Row>& rows, Merge merge, const std::function<bool(const Row&)>& wanted);

/// Mean gap over tenths of stated probability between what was stated and how often it was right. `by_chance`
/// is what so few calls would show even if every stated probability were exact; `over` stated less achieved.
struct Calibration {
  double error = 0, by_chance = 0, over = 0;
};
Calibration calibration(const Score& s);

/// The tables of docs/evidence.md as text: each set, then each kind of call for the set `detail`.
std::string tally(const std::vector<Row>& rows, char detail);

}  // namespace coldwright::judge

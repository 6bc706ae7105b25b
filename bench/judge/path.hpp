// What it costs to come to a right verdict, by the order in which things are read: the tool's own advice, a
// fixed checklist, a random order. The same visit, technician and instruments for all; the tool weighs what
// was read in each, so that only the order differs.
//
// A visit starts with plate, ambient, box and the complaint. After each thing read or looked at the tool is
// asked; when its leading cause (sound and high load as one) is above .9, or nothing is left to read, that is
// the verdict. A right one costs the minutes until then. After a wrong one the repair fails and everything is
// gone through: it costs the minutes until then and those of a whole round of the checklist (our estimate of
// a call-back, travel and parts left out).
#pragma once

#include <string>
#include <vector>

#include "judge/opinion.hpp"
#include "judge/site.hpp"

namespace coldwright::judge {

enum class Policy { advice, checklist, random };
inline constexpr Policy kPolicies[] = {Policy::advice, Policy::checklist, Policy::random};
const char* to_word(Policy policy);

struct Path {
  long visit = 0;
  Policy policy = Policy::advice;
  std::string truth, verdict;  // sound and high load as one
  bool sure = false;           // the verdict was above .9
  int steps = 0;
  Cost cost;            // until the verdict
  double to_right = 0;  // minutes, a wrong verdict's extra round included
};

/// The order of a careful technician: see the source for its reason.
const std::vector<std::string>& checklist();
/// Minutes of everything on it.
double whole_round(const diagnosis::Knowledge& knowledge);

Result<Path> follow(Policy policy, const lab::Visit& visit, const diagnosis::Knowledge& knowledge,
                    Opinion& opinion, RandomStream technician, RandomStream order);

/// VISIT POLICY TRUTH VERDICT SURE STEPS MINUTES OPENINGS GRAMS TO_RIGHT
std::string to_line(const Path& path);
Result<std::vector<Path>> read_paths(const std::vector<std::string>& files);

/// Per policy: how often right, how often sure, minutes, openings, grams, and ratios to the checklist's.
std::string tally(const std::vector<Path>& paths);

}  // namespace coldwright::judge

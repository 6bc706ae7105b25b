// The tool, asked about one visit several times with more or other evidence: the product's own way
// (diagnosis/investigation.hpp), with the machines drawn once for the visit, since plate, surroundings and
// complaint stay.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "diagnosis/findings.hpp"
#include "diagnosis/investigation.hpp"

namespace coldwright::judge {

/// How the tool is asked. `pairs`: whether it may name two causes at once.
struct Asking {
  int draws = 60;
  bool pairs = true;
  std::uint64_t seed = 1;
};

struct Said {
  std::vector<std::pair<std::string, double>> causes;  // every hypothesis, likeliest first
  std::vector<diagnosis::NextStep> next;               // when asked for
  double effective = 0;                                // smallest effective size among causes above 2 %
  int solves = 0;
};

class Opinion {
 public:
  /// Keeps a reference to `knowledge`.
  Opinion(const diagnosis::Knowledge& knowledge, Asking asking) : knowledge_(knowledge), asking_(asking) {}

  /// The next questions are about this visit; `salt` keeps the draws of visits apart.
  void begin(std::uint64_t salt);
  Result<Said> ask(const diagnosis::Case& the_case, bool with_advice);
  /// What is expected of each reading of the case under one cause, given all the others; empty where no
  /// machine with this cause comes near.
  Result<std::vector<diagnosis::Predictive>> expected_under(const diagnosis::Case& the_case,
                                                            const std::string& cause);

  Result<std::shared_ptr<const circuit::WorkingFluid>> fluid(const std::string& refrigerant);

 private:
  const diagnosis::Knowledge& knowledge_;
  Asking asking_;
  std::uint64_t salt_ = 0;
  std::unique_ptr<diagnosis::Machines> machines_;
  std::map<std::string, std::shared_ptr<const circuit::WorkingFluid>> fluids_;
};

/// data/causes.json as it stands, or with every cause of the same weight, so that a rare one counts as much
/// in the tally as a common one and the diagnosis knows that it does. Which one visits are drawn by, the
/// diagnosis has to be told. `pair_share`: of all calls, those with two causes; below zero: as it stands.
enum class Weights { catalogue, equal };
Result<diagnosis::Knowledge> knowledge_for(Weights weights, double pair_share);

/// The learned correction that stands in a file: the product's own where `file` is empty, nothing for "none".
Result<std::optional<diagnosis::Correction>> correction_in(const std::string& file,
                                                           const diagnosis::Knowledge& knowledge);

}  // namespace coldwright::judge

// The steps of a repair in the order they are worked in, from what is wrong and what the unit holds. Which
// cause needs which step, and in what order, is common practice of the trade [common-practice]; how sure the
// cause is comes from the diagnosis. A person may put them in another order, pass one over, go on days later:
// that is kept by entries of the call, not here.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "diagnosis/answer.hpp"

namespace coldwright::procedures {

/// From this probability a cause is acted on; below it the plan begins with what would settle it.
inline constexpr double kDecided = 0.6;

struct PlanBasis {
  std::string cause;       // id, a pair as "a+b"; empty when there is no diagnosis
  double probability = 0;  // 1 when a technician found it
  bool found = false;      // a technician's own finding
  bool flammable = true;
  bool charge_known = true;  // from the plate
};

struct PlanStep {
  std::string key;                    // "tightness"
  std::string procedure;              // the use case that computes it; empty for plain work
  diagnosis::Statement why;           // names the cause; whoever words it adds "probability"
  std::vector<std::string> cautions;  // keys, where the hand is about to act
};

/// Whether what is wrong lies inside the sealed circuit.
bool opens_circuit(std::string_view cause);

std::vector<PlanStep> plan(const PlanBasis& basis);

}  // namespace coldwright::procedures

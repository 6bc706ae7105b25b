// The two questions of a service call: what should this machine be reading, and what is wrong with it?
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "circuit/nameplate.hpp"
#include "diagnosis/answer.hpp"
#include "diagnosis/case.hpp"
#include "diagnosis/correction.hpp"
#include "fluids/fluid.hpp"

namespace coldwright::diagnosis {

/// The likelihood of saying `value` about `subject` given a cause, as loaded from data/observations.json.
struct ObservationModel {
  struct Given {
    std::string cause;              // cause id, or "*" for every other cause
    std::vector<double> at_mild;    // probability of each value, severity at its mild end
    std::vector<double> at_severe;  // and at its severe end
  };
  std::string subject;
  std::vector<std::string> values;
  double minutes;      // to go and look or ask
  std::string hazard;  // wording key or empty
  std::vector<Given> given;
};

struct CauseInfo {
  std::string id;                      // must be one of known_causes()
  double weight;                       // prior weight
  double severity_low, severity_high;  // in the cause's own measure
  std::string measure;                 // what the severity measures (wording key)
};

/// Everything the diagnosis knows before the call. Plain values; loaders live in service/.
struct Knowledge {
  std::vector<circuit::Archetype> archetypes;
  std::vector<CauseInfo> causes;
  std::vector<ObservationModel> observations;
  std::vector<std::string>
      no_flame;  // refrigerants known not to burn; every other is treated as one that does
  std::optional<Correction> correction;  // none: physics alone
  double pair_weight = 0.02;  // prior weight of a pair relative to the product of its single causes
};

/// Ids of the causes this version can compute; data/causes.json must name exactly these.
const std::vector<std::string>& known_causes();

struct UnitPrior;  // unit_prior.hpp

struct Options {
  std::uint64_t seed = 1;
  int population = 160;  // machines per cause in the first round
  /// Called now and then with 0..1; return false to cancel (the answer is then a Problem).
  std::function<bool(double)> progress;
  /// What earlier calls tell of this machine; without it, it is any of its kind.
  std::shared_ptr<const UnitPrior> prior = nullptr;
};

Result<Answer> diagnose(const Case& the_case, const fluids::Fluid& fluid, const Knowledge& knowledge,
                        const Options& options);

Result<Expectation> expect(const Case& the_case, const fluids::Fluid& fluid, const Knowledge& knowledge,
                           const Options& options);

}  // namespace coldwright::diagnosis

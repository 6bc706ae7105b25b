// What a memory tells of one unit: the next call's prior, and the failures of its model. Kept to service/.
#pragma once

#include <memory>

#include "diagnosis/failure_rate.hpp"
#include "diagnosis/own_quantity.hpp"
#include "fluids/fluid.hpp"
#include "service/memory_store.hpp"

namespace coldwright::service {

struct Recalled {
  std::shared_ptr<const diagnosis::UnitPrior> prior;  // none when nothing is known
  int calls = 0;                                      // of this unit that taught
  int units = 0;                                      // of its model that taught; 0 when no model is believed
  int corrections = 0;
  int earlier_machine = 0;  // calls set aside because a main part was replaced since
  int another_plate = 0;    // calls set aside because the plate was read otherwise
  double model_spread = 0;  // between its units, share of the population's
};

/// What to say of it beside an answer that used it: keys memory_unit, memory_model, ...
std::vector<diagnosis::Statement> recalled_remarks(const Recalled& recalled);

/// `leave_out`: id of the call that asks, which is no witness of itself. Problem when a correction can't be
/// met.
Result<Recalled> recall(const Memory& memory, const std::string& unit, const std::string& model,
                        const circuit::Nameplate& plate, const std::string& leave_out,
                        const fluids::Fluid& fluid, const diagnosis::Knowledge& knowledge);

/// A cause or a part that failed oftener than usual in a model.
struct ModelFailure {
  std::string model;
  std::string what;  // cause id, or part
  bool is_part;
  int units;
  diagnosis::FailureRate rate;
};
/// Of every model, or of one; only what is worth saying.
std::vector<ModelFailure> repeated_failures(const Memory& memory, const diagnosis::Knowledge& knowledge,
                                            const std::string& only_model = {});

}  // namespace coldwright::service

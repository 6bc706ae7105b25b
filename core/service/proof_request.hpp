// From a request, with a call or plain keys, to the question of the proof: the machine as it was left, the
// box's course, and what a memory tells of the unit. Shared by the use cases "proof" and "memory". Kept to
// service/.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "calls/repair.hpp"
#include "procedures/proof.hpp"
#include "service/call_case.hpp"
#include "service/call_identity.hpp"
#include "service/recall.hpp"
#include "service/test_readings.hpp"

namespace coldwright::service {

struct ProofRequest {
  CallCase call;          // folded as it stands; `options.prior` from the memory
  CallIdentity identity;  // of the call; empty without one
  calls::Repair repair;
  std::shared_ptr<const circuit::WorkingFluid> fluid;
  procedures::ProofQuestion question;
  std::vector<TestReading> readings;
  int before_repair = 0;  // readings of the call that the repair came after, left out
  int too_old = 0;  // kinds of the proof's own readings whose last stands long before the last of the box
  std::optional<Recalled> recalled;
};

/// Keys of the use case "proof". A Problem when there is no box temperature to start from.
Result<ProofRequest> read_proof_request(std::string_view request_json, const Context& context);

/// The highest run of the proof in a call, 1 when there is none.
int last_proof_run(const calls::Repair& repair);

}  // namespace coldwright::service

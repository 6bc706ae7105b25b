// What a request does to a memory beside its calls: corrections, forgetting, asking back. Kept to service/.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "diagnosis/diagnose.hpp"
#include "service/memory_store.hpp"
#include "service/request.hpp"

namespace coldwright::service {

/// Each says in `said` what it did (wording section "memory"). A Problem names what can't be done and changes
/// nothing that counts: the request is refused as a whole.
std::optional<Problem> ask_back(const Request& request, Memory& memory,
                                std::vector<diagnosis::Statement>& said);
std::optional<Problem> forget(const Request& request, Memory& memory,
                              std::vector<diagnosis::Statement>& said);
/// A Problem when no call of this unit is remembered.
std::optional<Problem> check_unit(const Memory& memory, const std::string& unit);
/// `touched`: keys of the units that the answer tells of; corrected ones are added.
std::optional<Problem> correct(const Request& request, Memory& memory, const diagnosis::Knowledge& knowledge,
                               std::set<std::string>& touched, std::vector<diagnosis::Statement>& said);

}  // namespace coldwright::service

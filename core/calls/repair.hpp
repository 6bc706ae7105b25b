// What a call says of the repair itself: steps taken and passed over, settings and readings of tests, parts,
// work, refrigerant moved, signatures. Kinds of entries beside those that the diagnosis works on.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "calls/call.hpp"

namespace coldwright::calls {

/// One entry's word, with where it came from.
template <class Body>
struct Standing {
  Body body;
  std::string id, by;
  std::optional<Instant> at;
};

struct Repair {
  std::vector<Standing<StepEntry>> steps;  // the latest of each step
  std::vector<std::string> order;          // by hand; empty when nobody put the steps in order
  std::vector<Standing<ProcedureEntry>> procedures;
  std::vector<Standing<TestReadingEntry>> test_readings;
  std::vector<Standing<RefrigerantMovedEntry>> moved;
  std::vector<Standing<PartEntry>> parts;
  std::vector<Standing<WorkEntry>> work;
  std::vector<Standing<CauseFoundEntry>> causes_found;
  std::vector<Standing<ProductTemperatureEntry>> product_temperatures;
  std::vector<Standing<SignatureEntry>> signatures;
  std::vector<Standing<WatchEntry>> watch;
};

/// Entries that another one replaces are left out. In order of time; what has none comes first, in the order
/// of the file. A ring of corrections is what fold() refuses: here all of its members are replaced.
Repair repair_of(const Call& call);

/// The settings of one procedure's run, the later over the earlier, key by key.
std::vector<std::pair<std::string, std::string>> settings_of(const Repair& repair, std::string_view procedure,
                                                             int run);

}  // namespace coldwright::calls

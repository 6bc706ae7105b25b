#include "procedures/repair_needs.hpp"

#include <algorithm>

namespace coldwright::procedures {
namespace {

struct Row {
  std::string_view cause;
  std::vector<std::string> parts;
  bool opens;
  double hours;  // without what opening takes
};

constexpr double kOpening = 2;  // h: recover, braze shut, test, evacuate, charge, prove; our estimate

const std::vector<Row>& rows() {
  static const std::vector<Row> table{
      {"low_charge", {}, true, 1},
      {"overcharge", {}, true, 0},
      {"restriction", {"part_capillary"}, true, 1.5},
      {"moisture_freeze", {}, true, 1.5},
      {"noncondensable", {}, true, 0.5},
      {"worn_valves", {"part_compressor", "part_start"}, true, 2},
      {"not_pumping", {"part_compressor", "part_start"}, true, 2},
      {"pumping_lost_at_times", {"part_compressor", "part_start"}, true, 2},
      {"start_or_winding", {"part_start"}, false, 0.75},
      {"condenser_fan", {"part_condenser_fan"}, false, 1},
      {"evaporator_fan", {"part_evaporator_fan"}, false, 1},
      {"iced_evaporator", {"part_defrost"}, false, 1.5},
      {"dirty_condenser", {"part_cleaning"}, false, 0.75},
      {"control", {"part_control"}, false, 0.75},
      {"low_voltage", {}, false, 0.5},
      {"high_load", {}, false, 0.25},
      {"sound", {}, false, 0},
  };
  return table;
}

}  // namespace

std::vector<std::string> causes_in(std::string_view id) {
  const std::size_t plus = id.find('+');
  if (plus == std::string_view::npos) return {std::string(id)};
  return {std::string(id.substr(0, plus)), std::string(id.substr(plus + 1))};
}

RepairNeeds repair_needs(std::string_view causes) {
  RepairNeeds needs;
  for (const std::string& cause : causes_in(causes)) {
    const auto row =
        std::find_if(rows().begin(), rows().end(), [&](const Row& r) { return r.cause == cause; });
    if (row == rows().end()) continue;
    needs.parts.insert(row->parts.begin(), row->parts.end());
    needs.opens |= row->opens;
    needs.hours += row->hours;
  }
  if (needs.opens) {
    needs.hours += kOpening;
    for (const char* part : {"part_drier", "part_access", "part_nitrogen", "part_refrigerant"})
      needs.parts.insert(part);
  }
  return needs;
}

}  // namespace coldwright::procedures

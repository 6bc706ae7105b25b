#include "procedures/plan.hpp"

#include <algorithm>
#include <array>

namespace coldwright::procedures {
namespace {

using Keys = std::vector<std::string>;

constexpr std::array<std::string_view, 8> kInside = {
    "worn_valves", "not_pumping", "pumping_lost_at_times", "low_charge",
    "overcharge",  "restriction", "moisture_freeze",       "noncondensable"};
constexpr std::array<std::string_view, 3> kCompressor = {"worn_valves", "not_pumping",
                                                         "pumping_lost_at_times"};
constexpr std::array<std::string_view, 2> kTube = {"restriction", "moisture_freeze"};
constexpr std::array<std::string_view, 2> kLeak = {"low_charge", "noncondensable"};

/// Any of the causes in "a+b" is one of these.
template <std::size_t N>
bool has(std::string_view cause, const std::array<std::string_view, N>& list) {
  while (!cause.empty()) {
    const std::size_t end = std::min(cause.find('+'), cause.size());
    if (std::find(list.begin(), list.end(), cause.substr(0, end)) != list.end()) return true;
    cause.remove_prefix(std::min(end + 1, cause.size()));
  }
  return false;
}

/// The steps' cautions: they stand before the procedure itself has anything to answer from. The gas's own
/// come before all of them and are not repeated.
Keys cautions_of(std::string_view key, bool flammable) {
  struct Row {
    std::string_view step;
    Keys always, if_it_burns;
  };
  static const std::vector<Row> rows = {
      {"settle", {"caution_electrical"}, {}},
      {"opening", {"caution_stay_closed", "caution_pressure", "caution_cold_liquid"}, {"caution_opening"}},
      {"recover",
       {"caution_pressure", "caution_cold_liquid", "caution_release_outdoors", "caution_no_torch"},
       {"caution_opening", "caution_low_places"}},
      {"repair", {"caution_electrical", "caution_capacitor", "caution_no_torch", "caution_defer"}, {}},
      {"capillary",
       {"caution_empty_first", "caution_nitrogen_regulator", "caution_not_oxygen", "caution_stand_aside"},
       {}},
      {"tube", {"caution_deburr", "caution_no_torch"}, {}},
      {"tightness",
       {"caution_empty_first", "caution_nitrogen_regulator", "caution_not_oxygen", "caution_relief",
        "caution_stand_aside", "caution_in_stages", "caution_no_work_pressed"},
       {}},
      {"tracer", {"caution_no_air_or_oxygen", "caution_pressure"}, {"caution_trace_burns"}},
      {"evacuation",
       {"caution_vacuum_outlet", "caution_vacuum_compressor"},
       {"caution_vacuum_pump_flammable"}},
      {"rise", {"caution_vacuum_compressor"}, {}},
      {"charging",
       {"caution_charge_liquid_skin", "caution_charge_liquid_suction", "caution_pressure"},
       {"caution_charge_flammable"}},
      {"proof", {"caution_running_test"}, {}},
  };
  for (const Row& row : rows) {
    if (row.step != key) continue;
    Keys keys = flammable ? row.if_it_burns : Keys{};
    keys.insert(keys.end(), row.always.begin(), row.always.end());
    return keys;
  }
  return {};
}

}  // namespace

bool opens_circuit(std::string_view cause) { return has(cause, kInside); }

std::vector<PlanStep> plan(const PlanBasis& basis) {
  const bool inside = opens_circuit(basis.cause), compressor = has(basis.cause, kCompressor),
             tube = has(basis.cause, kTube), leak = has(basis.cause, kLeak);
  std::vector<PlanStep> steps;
  const auto add = [&](const char* key, bool computed, std::string variant = {}) {
    const std::string why = "why_" + std::string(key) + (variant.empty() ? "" : "_" + variant);
    steps.push_back(
        {key, computed ? key : "", {why, {}, {{"cause", basis.cause}}}, cautions_of(key, basis.flammable)});
  };
  if (!basis.found && basis.probability < kDecided)
    add("settle", false, basis.cause.empty() ? "nothing" : "");
  if (basis.cause.empty()) {
    add("record", false);
    return steps;
  }
  if (basis.cause == "sound") {
    add("proof", true, "sound");
    add("record", false);
    return steps;
  }
  if (!inside) {
    add("repair", false, "outside");
    add("proof", true);
    add("record", false);
    return steps;
  }
  add("bring", true);
  add("worth", true);
  if (basis.flammable) add("flammable", true);
  add("opening", true);
  if (leak) add("tracer", true, "before");
  add("recover", false);
  if (tube || compressor) add("capillary", true, tube ? "tube" : "compressor");
  add("repair", false, compressor ? "compressor" : tube ? "tube" : leak ? "leak" : "charge");
  if (tube) add("tube", true);
  add("tightness", true);
  if (!leak) add("tracer", true, "if_it_falls");
  add("evacuation", true, tube ? "wet" : "");
  add("rise", true);
  add("charging", true, basis.charge_known ? "" : "unknown");
  add("proof", true);
  add("record", false);
  return steps;
}

}  // namespace coldwright::procedures

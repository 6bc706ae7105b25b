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

/// The steps' cautions; the gas's own come before all of them and are not repeated.
Keys cautions_of(std::string_view key, bool flammable) {
  const auto if_it_burns = [&](Keys keys) {
    if (!flammable) std::erase(keys, "caution_opening");
    return keys;
  };
  if (key == "settle" || key == "proof") return {"caution_electrical"};
  if (key == "opening") return if_it_burns({"caution_pressure", "caution_opening", "caution_stay_closed"});
  if (key == "recover") return if_it_burns({"caution_pressure", "caution_opening", "caution_no_torch"});
  if (key == "repair")
    return {"caution_electrical", "caution_capacitor", "caution_no_torch", "caution_defer"};
  if (key == "capillary" || key == "tightness" || key == "tracer")
    return {"caution_pressure", "caution_no_torch"};
  if (key == "charging") return if_it_burns({"caution_pressure", "caution_opening"});
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

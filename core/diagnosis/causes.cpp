#include "diagnosis/causes.hpp"

#include <algorithm>
#include <cmath>

namespace coldwright::diagnosis {

const std::vector<std::string>& known_causes() {
  static const std::vector<std::string> ids{
      "sound",          "high_load",       "control",       "start_or_winding",
      "low_voltage",    "worn_valves",     "not_pumping",   "pumping_lost_at_times",
      "low_charge",     "overcharge",      "restriction",   "moisture_freeze",
      "noncondensable", "dirty_condenser", "condenser_fan", "evaporator_fan",
      "iced_evaporator"};
  return ids;
}

namespace {

// Share of the rated voltage at which half of the motors fail to start often enough for a complaint, and the
// spread among them (our estimate; plates allow ten percent). A motor that starts cools nearly as well as
// ever, so that a box which doesn't hold is then a matter of degree. No step: a search for the most probable
// machine would jump over one and not come back.
constexpr double kStartsAtTimes = 0.815, kStartSpread = 0.015;

constexpr double kFoundFrozen = 0.85, kStillFreezing = 0.4;

}  // namespace

std::string_view to_word(Mode mode) {
  switch (mode) {
    case Mode::running:
      return "running";
    case Mode::tripped:
      return "tripped";
    case Mode::off:
      return "off";
    case Mode::locked:
      return "locked";
  }
  return "";
}

bool contains(const Hypothesis& h, int cause) {
  return std::find(h.causes.begin(), h.causes.end(), cause) != h.causes.end();
}

double severity_of(const CauseInfo& cause, double z) {
  return cause.severity_low + (cause.severity_high - cause.severity_low) * normal_cdf(z);
}

void apply_cause(const std::string& id, double s, double variant, Effects& e) {
  circuit::Departure& d = e.departure;
  if (id == "sound" || id == "high_load") {
    if (id == "high_load") e.load_factor *= s;
    e.cools_as_sound = true;
  } else if (id == "control") {
    e.mode = Mode::off;
    e.control_open = e.always_a_complaint = true;
  } else if (id == "start_or_winding") {
    e.mode = variant < 0.5 ? Mode::locked : Mode::off;
    e.winding_open = variant >= 0.5;
    e.always_a_complaint = true;
  } else if (id == "low_voltage") {
    e.voltage_factor = s;
    const double often = normal_cdf((kStartsAtTimes - s) / kStartSpread);
    e.called_for = std::max(e.called_for, often);
    if (variant < 0.5 * often) {  // half of them stand at this moment, our estimate
      e.mode = Mode::locked;
      e.always_a_complaint = true;
    }
  } else if (id == "worn_valves") {
    d.compressor.suction_leak = 0.9 * s * variant;
    d.compressor.discharge_leak = s * (1 - variant);
  } else if (id == "not_pumping") {
    d.pumps = false;
    e.always_a_complaint = true;
  } else if (id == "pumping_lost_at_times") {
    d.pumps = variant >= 0.5;
    e.always_a_complaint = true;
  } else if (id == "low_charge") {
    d.charge *= 1 - s;
  } else if (id == "overcharge") {
    d.charge *= 1 + s;
  } else if (id == "restriction") {
    d.capillary_open *= 1 - s;
  } else if (id == "moisture_freeze") {
    // Water freezes in the quarter of an hour after a start and lets go at rest: most are found frozen, or
    // freezing, and then read as a restriction does. Both shares are our estimate.
    if (variant < kFoundFrozen)
      d.capillary_open *= 1 - s * std::min(1.0, variant / kStillFreezing);
    else
      e.always_a_complaint = true;
  } else if (id == "noncondensable") {
    d.noncondensable += s;
  } else if (id == "dirty_condenser") {
    d.condenser_air.flow *= 1 - s;
    d.condenser_air.surface *= 1 - 0.3 * s;
  } else if (id == "condenser_fan") {
    d.condenser_air.flow *= 1 - s;
  } else if (id == "evaporator_fan") {
    d.evaporator_air.flow *= 1 - s;
  } else if (id == "iced_evaporator") {
    d.evaporator_air.flow *= 1 - s;
    d.evaporator_air.surface *= 1 - 0.5 * s;
  }
}

bool is_there(std::string_view part, circuit::CondenserKind condenser) {
  return part != "condenser_fan" || condenser != circuit::CondenserKind::wire_tube_natural;
}

bool is_circuit_cause(const std::string& id) {
  static const std::vector<std::string> outside{"sound", "control", "start_or_winding", "not_pumping",
                                                "pumping_lost_at_times"};
  return std::find(outside.begin(), outside.end(), id) == outside.end();
}

std::vector<Hypothesis> hypotheses(const Knowledge& k, circuit::CondenserKind condenser) {
  std::vector<Hypothesis> all;
  double total = 0;
  const int n = static_cast<int>(k.causes.size());
  const auto weight = [&](int i) {
    const CauseInfo& c = k.causes[static_cast<std::size_t>(i)];
    return is_there(c.id, condenser) ? c.weight : 0.0;
  };
  for (int i = 0; i < n; ++i) total += weight(i);
  double mass = 0;
  const auto add = [&](std::vector<int> causes, std::string id, double w) {
    if (w <= 0) return;
    mass += w;
    all.push_back({std::move(causes), std::move(id), w});
  };
  for (int i = 0; i < n; ++i) add({i}, k.causes[static_cast<std::size_t>(i)].id, weight(i) / total);
  for (int i = 0; i < n; ++i) {
    for (int j = i + 1; j < n; ++j) {
      const std::string &a = k.causes[static_cast<std::size_t>(i)].id,
                        &b = k.causes[static_cast<std::size_t>(j)].id;
      if (!is_circuit_cause(a) || !is_circuit_cause(b)) continue;
      const bool exclude =
          (a == "low_charge" && b == "overcharge") || (a == "restriction" && b == "moisture_freeze");
      if (!exclude) add({i, j}, a + "+" + b, k.pair_weight * weight(i) * weight(j) / (total * total));
    }
  }
  for (Hypothesis& h : all) h.log_prior = std::log(h.log_prior / mass);
  return all;
}

}  // namespace coldwright::diagnosis

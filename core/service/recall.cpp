#include "service/recall.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "base/text.hpp"

namespace coldwright::service {
namespace {

using diagnosis::Lesson;

// How well a correction by hand is known: a thermometer on either side of a coil, a clamp meter (our
// estimate).
double told_within(diagnosis::Unit unit, double value) {
  return unit == diagnosis::Unit::temperature_difference ? 0.7 : 0.05 * value;
}

bool same_plate(const circuit::Nameplate& a, const circuit::Nameplate& b) {
  return a.archetype == b.archetype && a.charge == b.charge && a.rated_current == b.rated_current &&
         a.rated_voltage == b.rated_voltage && a.frequency == b.frequency &&
         a.displacement == b.displacement && a.set_point == b.set_point && a.condenser == b.condenser;
}

bool taught(const RememberedCall& c) { return !c.lesson.value.empty(); }

// The lessons of one unit that still hold.
std::vector<Lesson> lessons_of(const Memory& memory, const std::string& unit, const circuit::Nameplate& plate,
                               const std::string& leave_out, Recalled& out) {
  std::optional<std::int64_t> renewed;  // the last time that it became another machine
  for (const RememberedCall& c : memory.calls)
    if (key_of(c.unit) == unit && c.renewed && c.at) renewed = std::max(renewed.value_or(*c.at), *c.at);
  std::vector<Lesson> lessons;
  for (const RememberedCall& c : memory.calls) {
    if (key_of(c.unit) != unit || c.id == leave_out || !taught(c)) continue;
    if (renewed && (!c.at || *c.at < *renewed)) {
      ++out.earlier_machine;
    } else if (!same_plate(c.plate, plate)) {
      ++out.another_plate;
    } else {
      lessons.push_back(c.lesson);
    }
  }
  return lessons;
}

bool model_forgotten(const Memory& memory, const std::string& model) {
  return std::any_of(memory.forgotten.begin(), memory.forgotten.end(),
                     [&](const Forgotten& f) { return !f.model.empty() && key_of(f.model) == model; });
}

// Lessons of the other units of a model.
std::vector<std::vector<Lesson>> units_of_model(const Memory& memory, const std::string& model,
                                                const std::string& but, const circuit::Nameplate& plate) {
  std::set<std::string> units;
  for (const RememberedCall& c : memory.calls)
    if (!c.model.empty() && key_of(c.model) == model && key_of(c.unit) != but) units.insert(key_of(c.unit));
  std::vector<std::vector<Lesson>> all;
  Recalled unused;
  for (const std::string& unit : units) {
    auto lessons = lessons_of(memory, unit, plate, {}, unused);
    if (!lessons.empty()) all.push_back(std::move(lessons));
  }
  return all;
}

// Parts and the causes that they are replaced for: the usual share of a part is that of its causes. Our
// estimate.
struct PartOf {
  const char* part;
  std::vector<const char*> causes;
};
const std::vector<PartOf>& parts_and_causes() {
  static const std::vector<PartOf> rows{
      {"compressor", {"worn_valves", "not_pumping", "pumping_lost_at_times", "start_or_winding"}},
      {"capillary", {"restriction", "moisture_freeze"}},
      {"drier", {"restriction", "moisture_freeze", "low_charge"}},
      {"condenser_fan", {"condenser_fan"}},
      {"evaporator_fan", {"evaporator_fan"}},
      {"start_device", {"start_or_winding"}},
      {"thermostat", {"control"}},
      {"control", {"control"}}};
  return rows;
}

double weight_of(const diagnosis::Knowledge& k, std::string_view cause) {
  double total = 0, own = 0;
  for (const auto& c : k.causes) {
    if (c.id == "sound") continue;
    total += c.weight;
    if (c.id == cause) own = c.weight;
  }
  return total > 0 ? own / total : 0;
}

double usual_of_part(const diagnosis::Knowledge& k, const std::string& part) {
  double sum = 0;
  std::string key = key_of(part);
  std::replace(key.begin(), key.end(), ' ', '_');
  for (const PartOf& row : parts_and_causes())
    if (key == row.part)
      for (const char* cause : row.causes) sum += weight_of(k, cause);
  return sum;
}

// Whether a call ended with something that had failed.
bool failed(const RememberedCall& c) { return !c.cause.empty() && c.cause != "sound"; }

}  // namespace

Result<Recalled> recall(const Memory& memory, const std::string& unit_name, const std::string& model_name,
                        const circuit::Nameplate& plate, const std::string& leave_out,
                        const fluids::Fluid& fluid, const diagnosis::Knowledge& knowledge) {
  const std::string unit = key_of(unit_name), model = key_of(model_name);
  Recalled out;
  const auto lessons = lessons_of(memory, unit, plate, leave_out, out);
  out.calls = static_cast<int>(lessons.size());
  diagnosis::Belief belief = diagnosis::population();
  if (!model.empty() && !model_forgotten(memory, model))
    if (const auto learned = diagnosis::believe_of_model(units_of_model(memory, model, unit, plate))) {
      belief = learned->belief;
      out.units = learned->units;
      out.model_spread = learned->spread;
    }
  const diagnosis::Belief before = belief;
  belief = diagnosis::after(belief, lessons);

  std::unique_ptr<diagnosis::AtSetPoint> machine;
  const auto tell = [&](const std::string& quantity, std::optional<double> value) -> std::optional<Problem> {
    if (!machine) {
      auto working = circuit::WorkingFluid::make(fluid);
      if (!working) return working.problem();
      auto made = diagnosis::AtSetPoint::open(
          plate, std::make_shared<const circuit::WorkingFluid>(std::move(*working)), knowledge);
      if (!made) return made.problem();
      machine = std::move(*made);
    }
    const auto usual = machine->value(quantity, before.mean);
    const auto usual_gradient = machine->gradient(quantity, before.mean);
    if (!usual || !usual_gradient) return std::nullopt;
    double sigma = diagnosis::spread_of(before, *usual_gradient);
    for (const auto& q : diagnosis::own_quantities())
      if (value && q.name == quantity) sigma = told_within(q.unit, *value);
    // The quantity isn't quite linear in the latents: its slope is taken anew where the last round led.
    const diagnosis::Belief from = belief;
    for (int round = 0; round < 3; ++round) {
      const auto gradient = machine->gradient(quantity, belief.mean);
      const auto now = machine->value(quantity, belief.mean);
      if (!gradient || !now) break;
      double at_mean = *now;
      for (std::size_t i = 0; i < diagnosis::kLatents; ++i)
        at_mean += (*gradient)[i] * (from.mean[i] - belief.mean[i]);
      belief = diagnosis::told(from, *gradient, at_mean, value.value_or(*usual), sigma);
    }
    return std::nullopt;
  };
  for (const Forgotten& f : memory.forgotten)
    if (!f.quantity.empty() && key_of(f.unit) == unit && out.calls > 0)
      if (auto problem = tell(f.quantity, std::nullopt)) return *problem;
  for (const Correction& c : memory.corrections)
    if (key_of(c.unit) == unit) {
      if (auto problem = tell(c.quantity, c.value)) return *problem;
      ++out.corrections;
    }
  if (out.calls + out.units + out.corrections > 0)
    out.prior = std::make_shared<const diagnosis::UnitPrior>(diagnosis::prior_of(belief));
  return out;
}

std::vector<diagnosis::Statement> recalled_remarks(const Recalled& r) {
  std::vector<diagnosis::Statement> said;
  const auto say = [&](const char* key, int n) {
    if (n > 0) said.push_back({key, {{"count", diagnosis::Unit::count, static_cast<double>(n)}}, {}});
  };
  say("memory_unit", r.calls);
  say("memory_corrected", r.corrections);
  say("memory_model", r.units);
  say("memory_earlier_machine", r.earlier_machine);
  say("memory_another_plate", r.another_plate);
  if (!r.prior) said.push_back({"memory_silent", {}, {}});
  return said;
}

std::vector<ModelFailure> repeated_failures(const Memory& memory, const diagnosis::Knowledge& knowledge,
                                            const std::string& only_model) {
  struct Count {
    std::string model;
    int failures = 0;
    std::map<std::string, std::pair<int, std::set<std::string>>> causes, parts;  // how often, in which units
  };
  std::map<std::string, Count> models;
  for (const RememberedCall& c : memory.calls) {
    if (c.model.empty() || !failed(c) || model_forgotten(memory, key_of(c.model))) continue;
    if (!only_model.empty() && key_of(only_model) != key_of(c.model)) continue;
    Count& m = models[key_of(c.model)];
    if (m.model.empty() || c.model < m.model) m.model = c.model;
    ++m.failures;
    auto& [times, units] = m.causes[c.cause];
    ++times;
    units.insert(key_of(c.unit));
    const std::set<std::string> once(c.parts.begin(), c.parts.end());
    for (const std::string& part : once) {
      auto& [part_times, part_units] = m.parts[part];
      ++part_times;
      part_units.insert(key_of(c.unit));
    }
  }
  std::vector<ModelFailure> said;
  for (const auto& [key, m] : models) {
    const auto judge = [&, &model = m](const auto& counts, bool is_part) {
      for (const auto& [what, count] : counts) {
        const double usual = is_part ? usual_of_part(knowledge, what) : weight_of(knowledge, what);
        if (!(usual > 0) || usual >= 1) continue;  // how often it usually fails isn't known: nothing is said
        const int units = static_cast<int>(count.second.size());
        const auto rate = diagnosis::failure_rate(count.first, model.failures, units, usual);
        if (rate.worth_saying) said.push_back({model.model, what, is_part, units, rate});
      }
    };
    judge(m.causes, false);
    judge(m.parts, true);
  }
  return said;
}

}  // namespace coldwright::service

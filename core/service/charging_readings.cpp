// The half of "charging" that goes by the machine's readings.
#include <cmath>

#include "circuit/working_fluid.hpp"
#include "diagnosis/charge_level.hpp"
#include "service/charging_parts.hpp"
#include "service/finely.hpp"

namespace coldwright::service {
namespace {

using base::Dimension;
using diagnosis::Interval;

class ByReadings : public ChargingWords {
 public:
  ByReadings(const ChargingQuestion& q, const circuit::WorkingFluid& fluid, ProcedureAnswer& answer)
      : ChargingWords(answer), q_(q), fluid_(fluid) {}

  std::optional<Problem> with_plate(const std::optional<Interval>& by_scale) {
    if (const auto problem = levels()) {
      if (problem->given == "cancelled") return problem;
      answer_.say({"no_machines", {}, {}});
      return std::nullopt;
    }
    if (q_.the_case->readings.empty()) {
      answer_.say({"readings_wanted", {}, {}});
      return std::nullopt;
    }
    const auto e = diagnosis::estimate_charge(*q_.the_case, fluid_, q_.knowledge, q_.options);
    if (!e) return e.problem();
    const std::vector<FigureInput> inputs{{"readings_taken", std::to_string(q_.the_case->readings.size())},
                                          given("plate_charge", *q_.plate)};
    answer_.figure("charge_by_readings", Dimension::mass, e->charge, inputs, 1);
    answer_.figure("charge_missing", Dimension::mass, e->missing, inputs, 1);
    answer_.figure_text("charge_below_chance", e->below, chance_text(e->below, answer_.display()), inputs);
    answer_.figure_text("charge_above_chance", e->above, chance_text(e->above, answer_.display()), inputs);
    const std::vector<std::pair<std::string, std::string>> words{
        {"charge", range(Dimension::mass, e->charge, 1)},
        {"plate", mass(*q_.plate)},
        {"below", chance_text(e->below, answer_.display())},
        {"above", chance_text(e->above, answer_.display())}};
    answer_.say({e->below > 0.8 ? "reads_low" : e->above > 0.8 ? "reads_high" : "reads_open", {}, words});
    if (by_scale) {
      const bool apart = by_scale->high < e->charge.low || by_scale->low > e->charge.high;
      const std::vector<std::pair<std::string, std::string>> both{
          {"scale", range(Dimension::mass, *by_scale, 1)},
          {"readings", range(Dimension::mass, e->charge, 1)}};
      if (apart)
        answer_.ask({"scale_against_readings", {}, both});
      else
        answer_.say({"scale_agrees", {}, both});
    }
    if (q_.call_readings) answer_.say({"call_readings", {}, {}});
    few(e->effective_size);
    answer_.say({"nothing_else_wrong", {}, {}});
    return std::nullopt;
  }

  std::optional<Problem> without_plate() {
    const circuit::Archetype* kind = nullptr;
    for (const auto& row : q_.knowledge.archetypes)
      if (row.id == q_.the_case->nameplate.archetype) kind = &row;
    if (kind == nullptr)
      return Problem{"cabinet", q_.the_case->nameplate.archetype, "a kind of cabinet",
                     "there is no such kind"};
    const Interval usual = diagnosis::usual_charge(*kind);
    const procedures::DosePlan plan = procedures::dose_plan(usual, q_.resolution);
    const std::vector<FigureInput> of_kind{{"cabinet", answer_.wording().word("cabinets", kind->id)},
                                           {"scale_step", mass(q_.resolution)}};
    answer_.figure("charge_usual", Dimension::mass, usual, of_kind, 1);
    answer_.figure("dose_first", Dimension::mass, plan.first, of_kind, 1);
    answer_.figure("dose_step", Dimension::mass, plan.step, of_kind, 1);
    answer_.figure("dose_wait", Dimension::duration, procedures::kWaitSeconds, of_kind);
    if (kind->refrigerant != fluid_.designation())
      answer_.say({"usual_of_another", {}, {{"refrigerant", kind->refrigerant}}});
    answer_.say({"stop_rule", {}, {{"wait", text(Dimension::duration, procedures::kWaitSeconds)}}});
    if (q_.readings.empty()) {
      answer_.verdict(
          {"first_dose", {}, {{"dose", mass(plan.first)}, {"usual", range(Dimension::mass, usual, 1)}}});
      return std::nullopt;
    }
    const double sigma = std::hypot(q_.resolution / std::sqrt(6.0), procedures::kHoseSpread * q_.hose);
    std::vector<std::vector<std::string>> rows;
    Curve curve{"charge_search", "charge_held", "mass", Dimension::mass, Dimension::mass, false, {}};
    Curve::Line low{"search_low", "low", {}}, mid{"search_mid", "predicted", {}},
        high{"search_high", "high", {}};
    std::optional<diagnosis::ChargeSearch> last;
    for (const TestReading& reading : q_.readings) {
      diagnosis::Case c = *q_.the_case;
      c.readings.clear();
      if (reading.pressure)
        c.readings.push_back(as(circuit::ReadingKind::suction_pressure, *reading.pressure));
      if (reading.temperature)
        c.readings.push_back(as(circuit::ReadingKind::evaporator_outlet_temp, *reading.temperature));
      if (reading.current)
        c.readings.push_back(as(circuit::ReadingKind::compressor_current, *reading.current));
      if (reading.box) c.box = *reading.box;
      const auto found = diagnosis::search_charge(c, fluid_, q_.knowledge, *reading.mass, sigma, q_.options);
      if (!found) return found.problem();
      rows.push_back({reading.said, mass(*reading.mass), range(Dimension::mass, found->own, 1),
                      range(Dimension::mass, found->missing, 1),
                      chance_text(found->enough, answer_.display())});
      low.points.emplace_back(*reading.mass, found->own.low);
      mid.points.emplace_back(*reading.mass, found->own.mid);
      high.points.emplace_back(*reading.mass, found->own.high);
      last = *found;
    }
    answer_.table("dose_steps", {"dose_at", "charge_held", "charge_own", "charge_missing", "charge_enough"},
                  std::move(rows));
    curve.lines = {low, mid, high};
    if (q_.readings.size() > 1) answer_.curve(curve);
    next(*last, plan);
    return std::nullopt;
  }

 private:
  static diagnosis::Reading as(circuit::ReadingKind kind, double value) {
    return {kind, value, std::nullopt, std::nullopt, std::string(circuit::info(kind).id)};
  }

  void few(double effective_size) {
    if (effective_size < 12)
      answer_.say({"few_machines",
                   {},
                   {{"count", base::number_text(effective_size, 0, answer_.display().numerals)}}});
  }

  void next(const diagnosis::ChargeSearch& found, const procedures::DosePlan& plan) {
    const TestReading& at = q_.readings.back();
    const std::vector<FigureInput> inputs{given("charge_held", *at.mass), given("scale_step", q_.resolution)};
    answer_.figure("charge_own", Dimension::mass, found.own, inputs, 1);
    answer_.figure("charge_missing_search", Dimension::mass, found.missing, inputs, 1);
    const double dose = procedures::next_dose(found.missing, plan);
    const std::vector<std::pair<std::string, std::string>> words{
        {"dose", mass(dose)},
        {"missing", range(Dimension::mass, found.missing, 1)},
        {"held", mass(*at.mass)},
        {"enough", chance_text(found.enough, answer_.display())}};
    if (dose > 0) answer_.figure("dose_next", Dimension::mass, dose, inputs, 1);
    const bool too_much = found.missing.high < -0.5 * plan.step;
    answer_.verdict({dose > 0 ? "next_dose" : too_much ? "too_much" : "stop_here", {}, words});
    if (!at.pressure && !at.temperature && !at.current) answer_.say({"dose_unread", {}, {}});
    few(found.effective_size);
    answer_.say({"nothing_else_wrong", {}, {}});
  }

  std::optional<Problem> levels() {
    diagnosis::Case c = *q_.the_case;
    c.readings.clear();
    const auto levels =
        diagnosis::charge_levels(c, fluid_, q_.knowledge, {0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1}, q_.options);
    if (!levels) return levels.problem();
    std::vector<std::vector<std::string>> rows;
    Curve pressure{
        "charge_suction", "charge_held", "suction_pressure", Dimension::mass, Dimension::pressure, false, {}};
    Curve superheat{"charge_superheat",
                    "charge_held",
                    "superheat",
                    Dimension::mass,
                    Dimension::temperature_difference,
                    false,
                    {}};
    for (Curve* curve : {&pressure, &superheat})
      curve->lines = {{"level_low", "low", {}}, {"level_mid", "predicted", {}}, {"level_high", "high", {}}};
    for (const diagnosis::ChargeLevel& l : *levels) {
      const double held = l.share * *q_.plate;
      rows.push_back({percent_text(l.share, answer_.display()), mass(held),
                      range(Dimension::pressure, l.suction_pressure),
                      range(Dimension::temperature_difference, l.superheat),
                      range(Dimension::current, l.current), range(Dimension::temperature, l.condenser_outlet),
                      range(Dimension::power, l.capacity)});
      const auto put = [&](Curve& curve, const Interval& x) {
        curve.lines[0].points.emplace_back(held, x.low);
        curve.lines[1].points.emplace_back(held, x.mid);
        curve.lines[2].points.emplace_back(held, x.high);
      };
      put(pressure, l.suction_pressure);
      put(superheat, l.superheat);
    }
    answer_.table("charge_levels",
                  {"level_share", "charge_held", "level_suction", "level_superheat", "level_current",
                   "level_condenser_outlet", "level_capacity"},
                  std::move(rows));
    if (!q_.readings.empty()) dots(pressure);
    answer_.curve(pressure);
    answer_.curve(superheat);
    if (!q_.the_case->box) answer_.say({"box_assumed", {}, {}});
    answer_.say({"levels_settled", {}, {}});
    return std::nullopt;
  }

  void dots(Curve& curve) const {
    Curve::Line line{"level_measured", "measured", {}};
    for (const TestReading& r : q_.readings)
      if (r.mass && r.pressure) line.points.emplace_back(*r.mass, *r.pressure);
    if (!line.points.empty()) curve.lines.push_back(std::move(line));
  }

  const ChargingQuestion& q_;
  const circuit::WorkingFluid& fluid_;
};

}  // namespace

std::optional<Problem> tell_charge_by_readings(const ChargingQuestion& q, const fluids::Fluid& fluid,
                                               const std::optional<Interval>& by_scale,
                                               ProcedureAnswer& answer) {
  if (!circuit::WorkingFluid::suits(fluid)) {
    answer.say({"no_population", {}, {}});
    if (!q.plate) answer.verdict({"plate_or_maker", {}, {}});
    return std::nullopt;
  }
  const auto working = circuit::WorkingFluid::make(fluid);
  if (!working) return working.problem();
  answer.seed(q.options.seed);
  for (const char* key : {"zivi1964", "veach1995", "our-estimate"}) answer.cite(key);
  ByReadings by(q, *working, answer);
  return q.plate ? by.with_plate(by_scale) : by.without_plate();
}

}  // namespace coldwright::service
